"""When the tank is filled: at an hour of switching, with the engine off and cooled."""

from __future__ import annotations

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.home import SLOTS_PER_DAY
from planner.study.portable.machine import Machine
from planner.study.portable.periods import GAP_SLOTS, Periods
from planner.study.portable.playing import TANK_SHARE, Played, Schedule, played
from planner.tolerances import LIMIT


def with_refuelling(machine: Machine, periods: Periods, schedule: Schedule) -> Schedule:
    """Put the refuellings of every day into a schedule, and where a tank ends before them.

    The tank is filled for the night; in the morning and by day as late as it lasts, if it can be
    not while work is under way that an interruption would spoil.
    """
    plain = Schedule(schedule.groups, np.zeros_like(schedule.off))
    found = played(machine, periods, plain)
    burnt = periods.burnt(found.gal, machine.house.spell)
    off = np.zeros_like(schedule.off)
    for day in range(len(off)):
        busy = _busy(machine, periods, found, day)
        for period in refuellings(machine, periods, burnt[day], busy):
            first = periods.begins[period]
            off[day, np.arange(first, first + GAP_SLOTS) % SLOTS_PER_DAY] = True
    found = played(machine, periods, Schedule(schedule.groups, off))
    burnt = periods.burnt(found.gal, machine.house.spell)
    for day in range(len(off)):
        for dry in np.flatnonzero(burnt[day] > TANK_SHARE * machine.portable.tank_gal):
            off[day] |= _dry(machine, periods, found, day, int(dry))
    return Schedule(schedule.groups, off)


def refuellings(
    machine: Machine, periods: Periods, burnt: Floats, busy: Bools
) -> tuple[int, ...]:
    """Periods that begin with a refuelling.

    Parameters
    ----------
    machine, periods
    burnt : ndarray of float, shape (P,)
        What each period burns [gal].
    busy : ndarray of bool, shape (P,)
        Whether work goes on over the beginning of the period.
    """
    usable, days = TANK_SHARE * machine.portable.tank_gal, periods.count - periods.has_night
    if burnt.sum() <= 0.0:
        return ()
    by_night = float(burnt[-1]) if periods.has_night else 0.0
    found = {days if by_night > 0.0 else 0}
    left = max(0.0, usable - by_night)
    at = 0
    while at < days:
        reach = at
        while reach < days and burnt[at:reach + 1].sum() <= left + LIMIT:
            reach += 1
        if reach == days:
            break
        hours = range(at + (at in found), reach + 1)
        calm = [p for p in hours if not busy[p]] or list(hours)
        if calm:
            at = calm[-1]
            found.add(at)
            left = usable
        else:  # a full tank does not last until the next hour of switching
            at, left = at + 1, 0.0
    return tuple(sorted(found))


def _busy(machine: Machine, periods: Periods, found: Played, day: int) -> Bools:
    """Whether a task is under way at the beginning of a period, shape (P,)."""
    house = machine.house
    tasks = np.flatnonzero(np.diff(house.works.task_first) > 0)
    length = house.spell * SLOTS_PER_DAY
    on = found.state.share[tasks, day * length:(day + 1) * length] > 0.0
    on = on.reshape(len(tasks), house.spell, SLOTS_PER_DAY)
    busy = np.zeros(periods.count, dtype=np.bool_)
    for p, first in enumerate(periods.begins):
        around = np.arange(first - 1, first + GAP_SLOTS) % SLOTS_PER_DAY
        busy[p] = bool(on[:, :, around].any())
    return busy


def _dry(machine: Machine, periods: Periods, found: Played, day: int, period: int) -> Bools:
    """Slots of a period after a full tank has run dry, shape (96,)."""
    gal = found.gal.reshape(-1, machine.house.spell, SLOTS_PER_DAY)[day].max(axis=0)
    slots = np.flatnonzero(periods.of_slot == period)
    first = periods.begins[period]
    slots = slots[np.argsort((slots - first) % SLOTS_PER_DAY)]
    empty = np.cumsum(gal[slots]) > TANK_SHARE * machine.portable.tank_gal
    dry = np.zeros(SLOTS_PER_DAY, dtype=np.bool_)
    dry[slots[empty]] = True
    return dry
