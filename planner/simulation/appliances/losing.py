"""Where a loss is written down: in its slot of 15 minutes from the loss of the utility.

Each machine loses in its own measure (`planner.simulation.outcome.losses` says which): a room the
share of the seconds that it is too warm or too cold, a tank kWh, a task itself.
"""

from __future__ import annotations

from typing import Final

from planner.arrays import FloatRows
from planner.compiled import compiled

SLOT_S: Final = 900


@compiled
def slot_of(now: float, slots: int) -> int:
    """Give the slot that a second belongs to, the last one from its beginning on."""
    return min(int(max(0.0, now)) // SLOT_S, slots - 1)


@compiled
def lose(i: int, now: float, amount: float, loss: FloatRows) -> None:
    """Write down what load i has lost in the second before `now`."""
    loss[i, slot_of(now - 1.0, loss.shape[1])] += amount


@compiled
def deepen(i: int, now: float, value: float, depth: FloatRows) -> None:
    """Keep the largest value of a slot for load i."""
    slot = slot_of(now - 1.0, depth.shape[1])
    depth[i, slot] = max(depth[i, slot], value)


@compiled
def average(i: int, now: float, value_s: float, depth: FloatRows) -> None:
    """Add to the mean of a slot: a value times the seconds for which it stood until `now`."""
    slot = slot_of(now - 1.0, depth.shape[1])
    if depth[i, slot] < -1e30:
        depth[i, slot] = 0.0
    depth[i, slot] += value_s / SLOT_S
