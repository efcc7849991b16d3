"""One second of all machines, compiled; `planner.simulate.machines` is its public face.

A machine looks at itself only when its time has come (`NEXT`): an appliance at the start and the
end of its events, a house or a tank every few seconds. In between it only counts the seconds that
it ran, so that no energy is lost between two looks.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from planner.arrays import Bools, Bytes, Floats, Ints
from planner.simulate.appliances.box import step_box
from planner.simulate.appliances.event import step_event
from planner.simulate.appliances.follow import step_follow
from planner.simulate.appliances.idle import step_idle
from planner.simulate.appliances.pressure import step_pressure
from planner.simulate.appliances.steady import step_steady
from planner.simulate.appliances.store import step_store
from planner.simulate.appliances.tank import step_tank
from planner.simulate.appliances.vehicle import step_vehicle
from planner.simulate.appliances.zone import step_zone
from planner.simulate.columns import (
    BOX,
    DRAW,
    EVENT,
    NEXT,
    PRESSURE,
    RAN,
    STEADY,
    STORE,
    TANK,
    VEHICLE,
    WANT,
    ZONE,
)


@njit(cache=True)
def _look(
    i: int, now: float, m: int, kind: Bytes, parameters: Floats, state: Floats, hot: Floats,
    event_first: Ints, start_s: Floats, length_s: Floats, size: Floats, minute: Floats,
) -> None:
    """Let machine i look at itself."""
    what = kind[i]
    last = event_first[i + 1]
    if what == ZONE:
        step_zone(i, now, hot, state, parameters, minute, m)
    elif what == BOX:
        step_box(i, now, last, hot, state, parameters, start_s, size)
    elif what == STORE:
        step_store(i, now, hot, state, parameters, minute, m)
    elif what == PRESSURE:
        step_pressure(i, now, last, hot, state, parameters, start_s, length_s, size)
    elif what == TANK:
        step_tank(i, now, last, hot, state, parameters, start_s, length_s, size)
    elif what == VEHICLE:
        step_vehicle(i, now, last, hot, state, parameters, start_s, length_s, size)
    elif what == EVENT:
        step_event(i, now, last, hot, state, parameters, start_s, length_s)
    elif what == STEADY:
        step_steady(i, now, hot, state, parameters, minute, m)
    else:
        step_idle(i, hot)
    hot[RAN, i] = 0.0


@njit(cache=True)
def advance(
    second: int, fed: Bools, kind: Bytes, parameters: Floats, state: Floats, shared: Floats,
    shared_parameters: Floats, event_first: Ints, event_start_s: Floats, event_length_s: Floats,
    event_size: Floats, minute: Floats, wants: Bools, draw_kw: Floats,
) -> None:
    """Play one second.

    `fed` (n,) says which loads had power in this second, ``[second, second + 1)``. `state` and
    `shared` are brought up to its end in place; `wants` (n,) is set to who calls for power in the
    next second, `draw_kw` (n,) to what each would draw if it is fed then.
    """
    n = kind.shape[0]
    now = second + 1.0
    looked = False
    for i in range(n):
        shared[RAN, i] += 1.0 if fed[i] and shared[WANT, i] > 0.0 else 0.0
    for i in range(n):
        if now >= shared[NEXT, i]:
            m = min(second // 60, minute.shape[0] - 1)
            _look(i, now, m, kind, parameters, state, shared, event_first, event_start_s,
                  event_length_s, event_size, minute)
            looked = True
    if looked:
        for place in shared_parameters:  # last, so that the order of the loads does not matter
            i = int(place)
            step_follow(i, event_first[i], event_first[i + 1], shared, parameters, event_size)
    for i in range(n):
        wants[i] = shared[WANT, i] > 0.0
        draw_kw[i] = shared[DRAW, i]


@njit(cache=True)
def _live_together(
    members: Ints, followers: Ints, first: int, last: int, kind: Bytes, parameters: Floats,
    state: Floats, shared: Floats, event_first: Ints, start_s: Floats, length_s: Floats,
    size: Floats, minute: Floats, kwh: Floats, run_s: Floats,
) -> None:
    """Play some machines with unlimited power, from look to look; `followers` are among them."""
    second = first
    while second < last:
        earliest = np.inf
        for i in members:
            earliest = min(earliest, shared[NEXT, i])
        passed = last - second
        if earliest < last:
            passed = max(1, int(np.ceil(earliest)) - second)
        for i in members:
            if shared[WANT, i] > 0.0:
                kwh[i] += passed * shared[DRAW, i] / 3600.0
                run_s[i] += passed
                shared[RAN, i] += passed
        second += passed
        for i in members:
            if second >= shared[NEXT, i]:
                m = min((second - 1) // 60, minute.shape[0] - 1)
                _look(i, float(second), m, kind, parameters, state, shared, event_first, start_s,
                      length_s, size, minute)
        for i in followers:
            step_follow(i, event_first[i], event_first[i + 1], shared, parameters, size)


@njit(cache=True, nogil=True)
def live(
    first: int, last: int, kind: Bytes, parameters: Floats, state: Floats, shared: Floats,
    shared_parameters: Floats, event_first: Ints, event_start_s: Floats, event_length_s: Floats,
    event_size: Floats, minute: Floats, kwh: Floats, run_s: Floats,
) -> None:
    """Play the seconds from `first` to `last` with unlimited power; adds up energy and run time.

    It is `advance` with everybody fed. Then nobody minds the others, except those that follow,
    so that each machine is played by itself.
    """
    together = np.zeros(kind.shape[0], dtype=np.bool_)
    followers = shared_parameters.astype(np.int64)
    for i in followers:
        together[i] = True
        for e in range(event_first[i], event_first[i + 1]):
            together[int(event_size[e])] = True
    _live_together(np.flatnonzero(together), followers, first, last, kind, parameters, state,
                   shared, event_first, event_start_s, event_length_s, event_size, minute, kwh,
                   run_s)
    for i in np.flatnonzero(~together):
        _live_together(np.array([i]), followers[:0], first, last, kind, parameters, state,
                       shared, event_first, event_start_s, event_length_s, event_size, minute,
                       kwh, run_s)
