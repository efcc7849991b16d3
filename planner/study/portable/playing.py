"""A schedule of groups, played: each load runs when it calls and its breaker is closed."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from planner.arrays import Bools, Floats
from planner.compiled import view
from planner.facts.home import SLOTS_PER_DAY
from planner.service.house import House
from planner.service.loops import rules
from planner.service.loops.going import go
from planner.service.loops.inputs import State
from planner.service.loops.losing import EMPTY
from planner.service.loops.room import put
from planner.service.state import empty_state
from planner.service.unlimited import Lost, losses_of
from planner.study.portable.machine import Machine
from planner.study.portable.periods import Periods, running_gal

TANK_SHARE = 0.9
"""Of a full tank that is counted on (a choice, no source)."""
IMPOSSIBLE = 100.0
"""What a schedule that cannot be carried out loses at least: beyond all promises (a choice)."""
LITTLE_GAL = 1e-7  # for a gallon a day: of two schedules that keep the same, the thriftier


@dataclass(frozen=True)
class Schedule:
    """Which breakers the family closes.

    Attributes
    ----------
    groups : ndarray of bool, shape (D, P, n)
        Loads that are closed in each period of each design day.
    off : ndarray of bool, shape (D, 96)
        Slots in which the engine stands: refuelling, an empty tank.
    """

    groups: Bools
    off: Bools

    def with_groups(self, groups: Bools) -> Schedule:
        """Give the same with other groups."""
        return replace(self, groups=groups)


@dataclass(frozen=True)
class Played:
    """A schedule, played.

    Attributes
    ----------
    score : ndarray of float, shape (D,)
        What is kept of the comforts, less promises that are broken; below `-IMPOSSIBLE` where it
        cannot be carried out.
    gal : ndarray of float, shape (N,)
        Fuel of every slot [gal].
    """

    state: State
    score: Floats
    gal: Floats


def engine_runs(
    house: House, periods: Periods, schedule: Schedule, *, asleep: bool = False
) -> Bools:
    """Slots of the spells in which the engine runs, shape (D, spell, 96).

    With no breaker closed it stands. With `asleep` the utility leaves while nobody is up, so that
    nobody has brought it out before the first hour of the attendance.
    """
    used: Bools = np.asarray(schedule.groups.any(axis=2))
    on = used[:, periods.of_slot] & ~schedule.off
    runs = np.repeat(on[:, None, :], house.spell, axis=1)
    if asleep and periods.has_night:
        runs[:, 0, :periods.begins[0]] = False
    return runs


def state_of(
    machine: Machine, periods: Periods, schedule: Schedule, *, asleep: bool = False
) -> tuple[State, Bools]:
    """Play a schedule; the state, and the slots in which the engine runs, shape (N,)."""
    house = machine.house
    runs = engine_runs(house, periods, schedule, asleep=asleep)
    closed = schedule.groups[:, periods.of_slot].transpose(2, 0, 1)  # (n, D, 96)
    room: Bools = np.logical_and(closed[:, :, None, :], runs[None]).reshape(house.count, -1)
    works = house.works
    state = empty_state(works, len(house.home.comforts), house.wiring.rows, house.spell)
    looked = view(works), view(house.wiring), view(machine.power), view(state)
    ran, spare = np.zeros(room.shape[1]), np.zeros(room.shape[1])
    for i in sorted(range(house.count), key=lambda k: (works.comfort[k], works.rank[k], k)):
        here = np.ascontiguousarray(room[i])
        given = state.given[works.comfort[i]] if works.comfort[i] >= 0 else spare
        go(i, house.spell, here, looked[0], given, state.called[i], ran, state.lost)
        put(i, ran, *looked[1:])
    return state, runs.reshape(-1)


def played(machine: Machine, periods: Periods, schedule: Schedule) -> Played:
    """Play a schedule and say what it is worth, day by day."""
    house, portable = machine.house, machine.portable
    state, runs = state_of(machine, periods, schedule)
    gal = running_gal(state, portable.kw, portable.gal_h, runs)
    lost = losses_of(house.works, house.cares, house.spell, state)
    burnt = periods.burnt(gal, house.spell)
    beyond = np.maximum(0.0, burnt - TANK_SHARE * portable.tank_gal).sum(axis=1)
    beyond += _over_average(machine, state)
    score = _kept(house, lost) - _broken(house, lost) - LITTLE_GAL * burnt.sum(axis=1)
    return Played(state, score - np.where(beyond > 0.0, IMPOSSIBLE + beyond, 0.0), gal)


def shares_of_all(house: House) -> Floats:
    """Part of each comfort in what is kept by hand, by its importance, shape (C,).

    Unlike in the coverage of a plan it counts light and whatever else no automatic plan may lose:
    here it can be lost.
    """
    matters = np.array([float(one.importance) for one in house.home.comforts])
    matters = np.where(house.cares.losable > EMPTY, matters, 0.0)
    total = matters.sum()
    return np.asarray(matters / total if total else matters)


def _kept(house: House, lost: Lost) -> Floats:
    """What each day loses of all comforts, below 0, shape (D,)."""
    cares, share = house.cares, shares_of_all(house)
    more = np.maximum(0.0, lost.loss - cares.unlimited)
    by_day = more.reshape(len(more), -1, SLOTS_PER_DAY).sum(axis=2)
    losable = np.where(cares.losable > 0.0, cares.losable, np.inf)
    return -np.asarray((share / losable) @ by_day) * cares.day_weight


def _broken(house: House, lost: Lost) -> Floats:
    """One for each promise that a day breaks, a little more the further it is, shape (D,)."""
    beyond = lost.measured - house.cares.bound
    one = np.where(beyond > EMPTY, 1.0 + 1e-3 * np.minimum(100.0, beyond), 0.0)
    return np.asarray(one.sum(axis=0))


def _over_average(machine: Machine, state: State) -> Floats:
    """How far the days are above the average that the maker permits, shape (D,) [kW]."""
    house, power = machine.house, machine.power
    length = house.spell * SLOTS_PER_DAY
    return np.array([max(0.0, max(
        rules.day_mean_kw(day * length + k * SLOTS_PER_DAY, power, state)
        for k in range(house.spell)) - power.average_kw) for day in range(len(house.weights))])
