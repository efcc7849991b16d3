"""A load that is always on: lighting and receptacles, a router, medical equipment."""

from __future__ import annotations

from planner.arrays import FloatRows
from planner.compiled import compiled
from planner.simulation.appliances.losing import lose
from planner.simulation.columns import COLUMN, DRAW, KW, LOST, NEXT, RAN, TICK, WANT


@compiled
def step_steady(
    i: int, now: float, hot: FloatRows, state: FloatRows, parameters: FloatRows, minute: FloatRows,
    m: int, loss: FloatRows,
) -> None:
    """Bring load i up to `now`: it always calls, and what it does not get is lost.

    An hour in which it draws little counts little, as in the plan, which calls by its mean draw.
    """
    column = int(parameters[i, COLUMN])
    factor = minute[m, column] if column >= 0 else 1.0
    if hot[WANT, i] > 0.0:
        dark_s = parameters[i, TICK] - hot[RAN, i]
        state[i, LOST] += dark_s
        if dark_s > 0.0:
            lose(i, now, dark_s * factor, loss)
    hot[WANT, i] = 1.0
    hot[DRAW, i] = parameters[i, KW] * factor
    hot[NEXT, i] = now + parameters[i, TICK]
