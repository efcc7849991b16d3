"""What the loads that have no place in the order yet would get if they came next, compiled."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.service._kernel import SLOTS, fits
from planner.study._desk import Desk
from planner.study._facts import Facts
from planner.study._turn import day_served, narrow

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]


@njit(cache=True)
def ask(i: int, day: int, facts: Facts, fit: Bools) -> float:
    """What load i would get on a day if it came next; -1 if it must not be late and is."""
    served = day_served(i, day * SLOTS, facts.must_run[i], facts.calls, facts.wait_slots[i], fit)
    return served * facts.value[i] * facts.day_weight[day] if served >= 0 else -1.0


@njit(cache=True)
def first_asks(members: Ints, facts: Facts, adder: Floats, kva: Floats, desk: Desk) -> float:
    """Mark where each member has room beside the direct loads; what they would get at most.

    -1 if a member that must not be late would be.
    """
    days = facts.day_weight.shape[0]
    most = 0.0
    for i in members:
        for t in range(facts.calls.shape[1]):
            desk.fit[0, i, t] = facts.wanted[i, t] and (desk.on[0, i, t] or fits(
                i, t, facts.draw, facts.caps, adder, kva, facts.short_time_kw,
                facts.startable_kva, facts.needs, facts.foes, desk.sums[0], desk.top[0],
                desk.on[0]))
        for day in range(days):
            got = ask(i, day, facts, desk.fit[0, i])
            if got < 0.0:
                return -1.0
            desk.worth_by_day[0, i, day] = got
            most += got
    return most


@njit(cache=True)
def ask_again(
    i: int, depth: int, count: int, facts: Facts, adder: Floats, kva: Floats, desk: Desk,
    changed: Bools,
) -> float:
    """What load i would get at most after a turn that took `count` slots on top of row `depth`.

    Brings its marks and asks into the next row of the desk; -1 if it must not be late and would
    be. `changed` (D,) is scratch.
    """
    d = depth + 1
    desk.fit[d, i] = desk.fit[depth, i]
    narrow(i, desk.taken, count, facts, desk.fit[d, i], adder, kva, desk.sums[d], desk.top[d],
           desk.on[d], changed)
    most = 0.0
    for day in range(changed.shape[0]):
        got = desk.worth_by_day[depth, i, day]
        if changed[day]:
            got = ask(i, day, facts, desk.fit[d, i])
        if got < 0.0:
            return -1.0
        desk.worth_by_day[d, i, day] = got
        most += got
    return most
