"""How far the stores of a comfort can fall behind, and in which slots that matters."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.home import SLOTS_PER_DAY
from planner.model.slots import Slots
from planner.service.house import House
from planner.service.loops.inputs import ADDED, BY_LEVEL, BY_STRETCH, MOST, MOST_MARKED
from planner.service.loops.losing import EMPTY
from planner.service.nature import HUGE


@dataclass(frozen=True)
class Level:
    """The deviation of one comfort over the planned slots, shape (N,) each.

    Attributes
    ----------
    need : ndarray of float
    worst : ndarray of float
        Deviation if its loads never ran: none is ever larger.
    start : ndarray of float, shape (D,)
        Deviation before the first planned slot of each spell: the least that any plan can reach.
    spills : ndarray of bool
        Whether what is missing may pass the end of the store, so that it is lost, not owed.
    weighed : ndarray of bool
        Whether the loss of the slot is asked for, in the coverage or by a promise.
    matters : ndarray of bool
        Whether the deviation of the slot, or a later one, is asked for.
    top : ndarray of float
        Deviation at which all is lost, or the largest that is possible if that is more.
    """

    need: Floats
    worst: Floats
    start: Floats
    spills: Bools
    weighed: Bools
    matters: Bools
    top: Floats


def level_of(house: House, slots: Slots, c: int) -> Level:
    """Work out the reach of a comfort's deviation.

    Parameters
    ----------
    house : House
    slots : Slots
    c : int
        A comfort that keeps a level.
    """
    cares, replayed = house.cares, slots.replayed
    need = np.concatenate([np.tile(row, house.spell)
                           for row in cares.need[c].reshape(-1, SLOTS_PER_DAY)])
    worst = _played(house, c, need, np.zeros_like(need))
    helped = _played(house, c, need, _all_gains(house, c))
    before = np.concatenate([[0.0], worst[:-1]])
    before[::house.spell * SLOTS_PER_DAY] = 0.0
    spills = cares.keep[c] * before + need > cares.full[c]
    first = replayed[::slots.last * SLOTS_PER_DAY]
    start = np.array([helped[slot - 1] if slots.last < house.spell else 0.0 for slot in first])
    step = cares.high[c, slots.of_day] - cares.low[c, slots.of_day] <= EMPTY
    weighed = _weighed(house, slots, c) & np.where(
        step, spills[replayed], worst[replayed] > cares.low[c, slots.of_day])
    asked = weighed | _bounded(house, slots, c)
    matters = np.zeros(slots.count, dtype=np.bool_)
    for day in range(slots.days):
        here = np.flatnonzero(asked[slots.spell_of(day)])
        if here.size:
            matters[slots.spell_of(day).start:][:here[-1] + 1] = True
    most = np.minimum(worst[replayed], _promised(house, slots, c))
    return Level(
        need=need[replayed], worst=worst[replayed], start=start, spills=spills[replayed],
        weighed=weighed, matters=matters & (worst[replayed] > 0.0),
        top=np.maximum(cares.high[c, slots.of_day], most))


def _played(house: House, c: int, need: Floats, given: Floats) -> Floats:
    """Deviation after every slot of the replay if so much is given in each."""
    keep, full = float(house.cares.keep[c]), float(house.cares.full[c])
    level, behind = np.zeros_like(need), 0.0
    for t in range(need.size):
        if t % (house.spell * SLOTS_PER_DAY) == 0:
            behind = 0.0
        behind = min(full, max(0.0, keep * behind + need[t] - given[t]))
        level[t] = behind
    return level


def _all_gains(house: House, c: int) -> Floats:
    loads = house.cares.load[house.cares.load_first[c]:house.cares.load_first[c + 1]]
    total = house.works.gain[loads].sum(axis=0).reshape(-1, SLOTS_PER_DAY)
    return np.concatenate([np.tile(row, house.spell) for row in total])


def _weighed(house: House, slots: Slots, c: int) -> Bools:
    """Slots whose loss counts in the coverage, or in a promise about the sum of the losses."""
    cares = house.cares
    if cares.kind[c] != BY_LEVEL:
        return np.zeros(slots.count, dtype=np.bool_)
    counts = (cares.weight[c, slots.of_day] > 0.0) & slots.judged & bool(cares.share[c] > 0.0)
    summed = (cares.measure[c] == ADDED) & (cares.bound[c, slots.day] < HUGE)
    found: Bools = counts | (summed & (cares.amount[c, slots.of_day] > 0.0)
                             & (cares.weight[c, slots.of_day] > 0.0))
    return found


def _bounded(house: House, slots: Slots, c: int) -> Bools:
    """Slots whose deviation itself is asked for: by a promise, or by a stretch beyond a limit."""
    cares = house.cares
    promised: Bools = cares.bound[c, slots.day] < HUGE
    if cares.kind[c] == BY_STRETCH:
        promised |= bool(cares.share[c] > 0.0)
    elif cares.measure[c] != MOST:
        marked = cares.amount[c, slots.of_day] > 0.0
        promised &= marked & bool(cares.measure[c] == MOST_MARKED)
    return promised


def _promised(house: House, slots: Slots, c: int) -> Floats:
    """Largest deviation that the promise allows in each slot."""
    cares = house.cares
    if cares.measure[c] != MOST:
        return np.full(slots.count, HUGE)
    most: Floats = cares.bound[c, slots.day] + EMPTY
    return most
