"""What the loads that have no place in the order yet would get if they came next, compiled."""

from __future__ import annotations

from numba import njit

from planner.arrays import Bools, Floats, Ints
from planner.search.loops.inputs import Inputs
from planner.search.loops.placing import day_served, narrow
from planner.search.loops.workspace import Workspace
from planner.service.loops import SLOTS, fits


@njit(cache=True)
def ask(i: int, day: int, inputs: Inputs, fit: Bools) -> float:
    """What load i would get on a day if it came next; -1 if it must not be late and is."""
    served = day_served(i, day * SLOTS, inputs.must_run[i], inputs.calls, inputs.wait_slots[i], fit)
    return served * inputs.value[i] * inputs.day_weight[day] if served >= 0 else -1.0


@njit(cache=True)
def first_asks(
    members: Ints, inputs: Inputs, adder: Floats, kva: Floats, space: Workspace
) -> float:
    """Mark where each member has room beside the direct loads; what they would get at most.

    -1 if a member that must not be late would be.
    """
    days = inputs.day_weight.shape[0]
    most = 0.0
    for i in members:
        for t in range(inputs.calls.shape[1]):
            space.fit[0, i, t] = inputs.wanted[i, t] and (space.on[0, i, t] or fits(
                i, t, inputs.draw, inputs.caps, adder, kva, inputs.short_time_kw,
                inputs.startable_kva, inputs.needs, inputs.foes, space.sums[0], space.top[0],
                space.on[0]))
        for day in range(days):
            got = ask(i, day, inputs, space.fit[0, i])
            if got < 0.0:
                return -1.0
            space.worth_by_day[0, i, day] = got
            most += got
    return most


@njit(cache=True)
def ask_again(
    i: int, depth: int, count: int, inputs: Inputs, adder: Floats, kva: Floats, space: Workspace,
    changed: Bools,
) -> float:
    """What load i would get at most after a turn that took `count` slots on top of row `depth`.

    Brings its marks and asks into the next row of the space; -1 if it must not be late and would
    be. `changed` (D,) is scratch.
    """
    d = depth + 1
    for t in range(space.fit.shape[2]):
        space.fit[d, i, t] = space.fit[depth, i, t]
    narrow(i, space.taken, count, inputs, space.fit[d, i], adder, kva, space.sums[d], space.top[d],
           space.on[d], changed)
    most = 0.0
    for day in range(changed.shape[0]):
        got = space.worth_by_day[depth, i, day]
        if changed[day]:
            got = ask(i, day, inputs, space.fit[d, i])
        if got < 0.0:
            return -1.0
        space.worth_by_day[d, i, day] = got
        most += got
    return most
