"""One second of all machines; `planner.simulation.machines` is its public face.

A machine looks at itself only when its time has come (`NEXT`): an appliance at the start and the
end of its events, a house or a tank every few seconds. In between it only counts the seconds that
it ran, so that no energy is lost between two looks.
"""

from __future__ import annotations

from math import ceil, inf

from planner.arrays import Bools, Floats, Ints
from planner.compiled import compiled
from planner.simulation.appliances.box import step_box
from planner.simulation.appliances.event import step_event
from planner.simulation.appliances.follow import step_follow
from planner.simulation.appliances.idle import step_idle
from planner.simulation.appliances.pressure import step_pressure
from planner.simulation.appliances.room import step_room
from planner.simulation.appliances.steady import step_steady
from planner.simulation.appliances.store import step_store
from planner.simulation.appliances.tank import step_tank
from planner.simulation.appliances.task import step_task
from planner.simulation.appliances.vehicle import step_vehicle
from planner.simulation.columns import (
    BOX,
    DRAW,
    EVENT,
    FOLLOW,
    NEXT,
    PRESSURE,
    RAN,
    ROOM,
    STEADY,
    STORE,
    TANK,
    TASK,
    VEHICLE,
    WANT,
)
from planner.simulation.loops.state import Fleet


@compiled
def look(i: int, now: float, m: int, fleet: Fleet) -> None:
    """Let machine i look at itself."""
    what = fleet.kind[i]
    last = fleet.event_first[i + 1]
    if what == ROOM:
        step_room(i, now, fleet.event_first[i], last, fleet.shared, fleet.state, fleet.parameters,
                  fleet.minute, m, fleet.size, fleet.loss, fleet.depth)
    elif what == BOX:
        step_box(i, now, last, fleet.shared, fleet.state, fleet.parameters, fleet.start_s,
                 fleet.size, fleet.loss, fleet.depth)
    elif what == STORE:
        step_store(i, now, fleet.shared, fleet.state, fleet.parameters, fleet.minute, m,
                   fleet.loss)
    elif what == PRESSURE:
        step_pressure(i, now, last, fleet.shared, fleet.state, fleet.parameters, fleet.start_s,
                      fleet.length_s, fleet.size, fleet.loss)
    elif what == TANK:
        step_tank(i, now, last, fleet.shared, fleet.state, fleet.parameters, fleet.start_s,
                  fleet.length_s, fleet.size, fleet.loss)
    elif what == VEHICLE:
        step_vehicle(i, now, last, fleet.shared, fleet.state, fleet.parameters, fleet.start_s,
                     fleet.length_s, fleet.size, fleet.loss, fleet.depth)
    elif what == EVENT:
        step_event(i, now, last, fleet.shared, fleet.state, fleet.parameters, fleet.start_s,
                   fleet.length_s, fleet.loss)
    elif what == TASK:
        step_task(i, now, last, fleet.shared, fleet.state, fleet.parameters, fleet.start_s,
                  fleet.length_s, fleet.loss)
    elif what == STEADY:
        step_steady(i, now, fleet.shared, fleet.state, fleet.parameters, fleet.minute, m,
                    fleet.loss)
    else:
        step_idle(i, fleet.shared)
    fleet.shared[RAN, i] = 0.0


@compiled
def advance(second: int, fed: Bools, fleet: Fleet, wants: Bools, draw_kw: Floats) -> None:
    """Play one second.

    `fed` (n,) says which loads had power in this second, ``[second, second + 1)``. The fleet is
    brought up to its end in place; `wants` (n,) is set to who calls for power in the next second,
    `draw_kw` (n,) to what each would draw if it is fed then.
    """
    now = second + 1.0
    looked = False
    for i in range(fed.size):
        if fed[i] and fleet.shared[WANT, i] > 0.0:
            fleet.shared[RAN, i] += 1.0
    for i in range(fed.size):
        if now >= fleet.shared[NEXT, i]:
            look(i, now, min(second // 60, fleet.minute.shape[0] - 1), fleet)
            looked = True
    if looked:
        for i in fleet.followers:  # last, so that the order of the loads does not matter
            follow(i, fleet)
    for i in range(fed.size):
        wants[i] = fleet.shared[WANT, i] > 0.0
        draw_kw[i] = fleet.shared[DRAW, i]


@compiled
def follow(i: int, fleet: Fleet) -> None:
    """Let follower i want what its leaders want."""
    step_follow(i, fleet.event_first[i], fleet.event_first[i + 1], fleet.shared, fleet.parameters,
                fleet.size)


@compiled
def live(
    first: int, last: int, fed: bool, fleet: Fleet, members: Ints, group_first: Ints, kwh: Floats,
    run_s: Floats,
) -> None:
    """Play the seconds from `first` to `last` with unlimited power, or with none at all.

    Adds up energy and run time. It is `advance` with everybody fed, or nobody. Then machines mind
    only those that they follow and those of their room, so each group g of machines,
    ``members[group_first[g]:group_first[g + 1]]``, is played by itself; who minds whom is in one
    group, those that follow behind those that lead.
    """
    for g in range(group_first.size - 1):
        _live_together(first, last, fed, fleet, members, group_first[g],
                       group_first[g + 1], kwh, run_s)


@compiled
def _live_together(
    first: int, last: int, fed: bool, fleet: Fleet, members: Ints, begin: int, end: int,
    kwh: Floats, run_s: Floats,
) -> None:
    """Play a group of machines with unlimited power, or none, from look to look."""
    second = first
    while second < last:
        earliest = inf
        for place in range(begin, end):
            earliest = min(earliest, fleet.shared[NEXT, members[place]])
        passed = last - second
        if earliest < last:
            passed = max(1, ceil(earliest) - second)
        for place in range(begin, end):
            i = members[place]
            if fed and fleet.shared[WANT, i] > 0.0:
                kwh[i] += passed * fleet.shared[DRAW, i] / 3600.0
                run_s[i] += passed
                fleet.shared[RAN, i] += passed
        second += passed
        for place in range(begin, end):
            i = members[place]
            if second >= fleet.shared[NEXT, i]:
                look(i, float(second), min((second - 1) // 60, fleet.minute.shape[0] - 1), fleet)
        for place in range(begin, end):
            if fleet.kind[members[place]] == FOLLOW:
                follow(members[place], fleet)
