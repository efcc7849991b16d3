"""When the tank is filled: at an hour of switching, with the engine off and cooled."""

from __future__ import annotations

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.facts.home import SLOTS_PER_DAY
from planner.study.portable.flooding import filling, pits_of
from planner.study.portable.machine import Machine
from planner.study.portable.periods import GAP_SLOTS, Periods, gap
from planner.study.portable.playing import TANK_SHARE, Played, Schedule, played
from planner.tolerances import LIMIT

FLOODED = 2  # harm of an hour, above that of work that is cut


def with_refuelling(machine: Machine, periods: Periods, schedule: Schedule) -> Schedule:
    """Put the refuellings of every day into a schedule, and where a tank ends before them.

    The tank is filled for the night; in the morning and by day as late as it lasts, if it can be
    not while work is under way that an interruption would spoil. Hours in which a pit would
    overflow meanwhile are avoided on days that are better for it.
    """
    plain = _filled(machine, periods, schedule, heeds_pits=False)
    if not pits_of(machine.house):
        return plain
    heeding = _filled(machine, periods, schedule, heeds_pits=True)
    if (heeding.off == plain.off).all():
        return plain
    better = (played(machine, periods, heeding).score
              > played(machine, periods, plain).score + LIMIT)
    return Schedule(schedule.groups, np.where(better[:, None], heeding.off, plain.off))


def _filled(
    machine: Machine, periods: Periods, schedule: Schedule, *, heeds_pits: bool
) -> Schedule:
    """Fill the tank in time, and let the engine stand where a full one does not last."""
    plain = Schedule(schedule.groups, np.zeros_like(schedule.off))
    found = played(machine, periods, plain)
    burnt = periods.burnt(found.gal, machine.house.spell)
    off = np.zeros_like(schedule.off)
    for day in range(len(off)):
        harm = _busy(machine, periods, found, day).astype(np.int64)
        if heeds_pits:
            harm += FLOODED * filling(machine, periods, found.state, day)
        for period in refuellings(machine, periods, burnt[day], harm):
            off[day, gap(periods, period)] = True
    found = played(machine, periods, Schedule(schedule.groups, off))
    burnt = periods.burnt(found.gal, machine.house.spell)
    for day in range(len(off)):
        for dry in np.flatnonzero(burnt[day] > TANK_SHARE * machine.portable.tank_gal):
            off[day] |= _dry(machine, periods, found, day, int(dry))
    return Schedule(schedule.groups, off)


def refuellings(
    machine: Machine, periods: Periods, burnt: Floats, harm: Ints
) -> tuple[int, ...]:
    """Periods that begin with a refuelling.

    Parameters
    ----------
    machine, periods
    burnt : ndarray of float, shape (P,)
        What each period burns [gal].
    harm : ndarray of int, shape (P,)
        1 where work goes on over the beginning of the period, `FLOODED` more where a pit would
        overflow; of the hours within reach the last with the least is taken.
    """
    usable, days = TANK_SHARE * machine.portable.tank_gal, periods.count - periods.has_night
    if burnt.sum() <= 0.0:
        return ()
    by_night = float(burnt[-1]) if periods.has_night else 0.0
    last = _for_the_night(burnt, harm, usable) if by_night > 0.0 else days
    found = {last if by_night > 0.0 else 0}
    left = max(0.0, usable - float(burnt[last:].sum()))
    at = 0
    while at < last:
        reach = at
        while reach < last and burnt[at:reach + 1].sum() <= left + LIMIT:
            reach += 1
        if reach == last:
            break
        hours = np.arange(at + (at in found), reach + 1)
        if hours.size:
            at = int(hours[harm[hours] == harm[hours].min()][-1])
            found.add(at)
            left = usable
        else:  # a full tank does not last until the next hour of switching
            at, left = at + 1, 0.0
    return tuple(sorted(found))


def _for_the_night(burnt: Floats, harm: Ints, usable: float) -> int:
    """Period whose beginning fills the tank for the night: the night itself, or before a flood."""
    night = len(burnt) - 1
    if harm[night] < FLOODED:
        return night
    lasting = (p for p in range(night - 1, 0, -1)
               if burnt[p:].sum() <= usable + LIMIT and harm[p] < FLOODED)
    return next(lasting, night)


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
