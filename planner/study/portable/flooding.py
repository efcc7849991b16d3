"""Whether a pit overflows while the engine stands, when, and why."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.comfort import Comfort
from planner.facts.home import SLOT_H, SLOTS_PER_DAY
from planner.service.house import House
from planner.service.loops.inputs import State
from planner.service.unlimited import levels_of
from planner.study.portable.machine import Machine, needed
from planner.study.portable.periods import GAP_SLOTS, Periods, gap
from planner.study.portable.playing import Schedule
from planner.tolerances import LEVEL

Cause = Literal["refuelling", "empty tank", "breaker off", "too large", "pump"]


@dataclass(frozen=True)
class Overflow:
    """A pit that overflows on a design day, from one cause.

    Attributes
    ----------
    comfort : Comfort
    day : int
        Place of the design day.
    hours : tuple of float
        Quarters of an hour of the day in which it begins to overflow, each once [h].
    cause : str
        The engine stands to be refuelled; its tank is empty; the breaker of the pump is off; the
        machine cannot feed the pump; the pump runs and is too small.
    fills_min : float
        How soon the empty pit is full then with nothing pumped [min].
    always : bool
        Whether it would at any hour of that day at which the engine stood so long.
    """

    comfort: Comfort
    day: int
    hours: tuple[float, ...]
    cause: Cause
    fills_min: float
    always: bool


def pits_of(house: House) -> tuple[int, ...]:
    """Places of the comforts that are pits."""
    return tuple(c for c, one in enumerate(house.home.comforts) if one.kind == "pit")


def filling(machine: Machine, periods: Periods, state: State, day: int) -> Bools:
    """Whether a pit would overflow if the engine stood at the beginning of a period, shape (P,).

    Parameters
    ----------
    machine, periods
    state : State
        A play in which it does not stand then.
    day : int
        Place of the design day.
    """
    house = machine.house
    found = np.zeros(periods.count, dtype=np.bool_)
    for c in pits_of(house):
        levels = _levels(house, state, c)[day].reshape(-1)
        for p in range(periods.count):
            first = np.arange(house.spell) * SLOTS_PER_DAY + periods.begins[p]
            before = np.where(first > 0, levels[first - 1], 0.0)
            need = _need(house, c, day)[gap(periods, p)].sum()
            found[p] |= bool((before + need > house.cares.limit[c] + LEVEL).any())
    return found


def overflows(
    machine: Machine, periods: Periods, schedule: Schedule, state: State, runs: Bools
) -> tuple[Overflow, ...]:
    """List what overflows in a play of a schedule, by pit, day and cause.

    Parameters
    ----------
    machine, periods, schedule
    state : State
    runs : ndarray of bool, shape (N,)
        Slots in which the engine runs, as `state_of` gives them.
    """
    house, found = machine.house, []
    running = runs.reshape(-1, house.spell, SLOTS_PER_DAY)
    for c in pits_of(house):
        over = _levels(house, state, c) > house.cares.limit[c] + LEVEL
        for day in range(len(over)):
            hours: dict[Cause, set[int]] = {}
            spell = over[day].reshape(-1)
            for t in np.flatnonzero(spell & ~np.concatenate([[False], spell[:-1]])):
                k, slot = divmod(int(t), SLOTS_PER_DAY)
                cause = _cause(machine, periods, schedule, c, day, slot,
                               runs=bool(running[day, k, slot]))
                hours.setdefault(cause, set()).add(slot)
            found += [Overflow(
                house.home.comforts[c], day, tuple(slot * SLOT_H for slot in sorted(slots)), cause,
                _fills_min(house, c, day, slots), _always(house, c, day))
                for cause, slots in hours.items()]
    return tuple(found)


def _cause(
    machine: Machine, periods: Periods, schedule: Schedule, c: int, day: int, slot: int, *,
    runs: bool,
) -> Cause:
    house = machine.house
    pumps = [house.index(one) for one in house.home.comforts[c].loads]
    on = needed(house, pumps)
    if not machine.runs[on].all() or not machine.fits(day, on):
        return "too large"
    if schedule.off[day, slot]:
        refuels = any(schedule.off[day, gap(periods, p)].all() and slot in gap(periods, p)
                      for p in range(periods.count))
        return "refuelling" if refuels else "empty tank"
    closed = schedule.groups[day, periods.of_slot[slot]]
    return "pump" if runs and closed[pumps].all() else "breaker off"


def _levels(house: House, state: State, c: int) -> Floats:
    """Minutes of pumping that stand in a pit after every slot, shape (D, spell, 96)."""
    levels = levels_of(house.works, house.cares, house.spell, state)[c]
    return np.asarray(levels.reshape(-1, house.spell, SLOTS_PER_DAY))


def _need(house: House, c: int, day: int) -> Floats:
    return np.asarray(house.cares.need[c, day * SLOTS_PER_DAY:(day + 1) * SLOTS_PER_DAY])


def _fills_min(house: House, c: int, day: int, slots: set[int]) -> float:
    most = max(float(_need(house, c, day)[slot]) for slot in slots)
    return 60.0 * SLOT_H * float(house.cares.full[c]) / most if most > 0.0 else 0.0


def _always(house: House, c: int, day: int) -> bool:
    need = _need(house, c, day)
    standing = sum((np.roll(need, -k) for k in range(GAP_SLOTS)), np.zeros(SLOTS_PER_DAY))
    return bool((standing > house.cares.limit[c] + LEVEL).all())
