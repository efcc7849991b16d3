"""The service rule as compiled loops over slots; `planner.service.replay` is its public face.

Because a load never sees those that stand behind it in the priority order, the rule can be played
load by load over all slots instead of slot by slot over all loads: the outcome is the same, and a
search over orders can go on from any prefix.

`needs` (n, m) lists each load itself and what it wakes, `foes` (n, m) what is never on with it;
both are padded with -1.

State of a partly placed order, per slot: the sum of each row, the largest starting adder (starting
minus running kW) of the motors that are on, and which loads are on.
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.arrays import Bools, Floats, Ints
from planner.tolerances import LIMIT

SLOTS = 96

OFF, DIRECT, MODULE = 0, 1, 2

# rows of what adds up: kW, amperes on each leg; then the amperes of panels
KW_ROW, L1_ROW, L2_ROW = 0, 1, 2

# marks of the timeline
QUIET, RUNNING, WAITING, DROPPED, WOKEN = 0, 1, 2, 3, 4

# why a set of direct loads is refused
FITS, OVER_ROW, OVER_SHORT_TIME, OVER_STARTABLE, TOGETHER = 0, 1, 2, 3, 4


@njit(cache=True)
def turn_on(i: int, t: int, draw: Floats, adder: Floats, sums: Floats, top: Floats,
            on: Bools) -> None:
    """Add load i to slot t of the state."""
    on[i, t] = True
    for r in range(draw.shape[0]):
        sums[r, t] += draw[r, i]
    top[t] = max(top[t], adder[i])


@njit(cache=True)
def place_direct(
    connection: Ints, calls: Bools, draw: Floats, caps: Floats, adder: Floats, start_kva: Floats,
    short_time_kw: float, startable_kva: float, needs: Ints, foes: Ints,
    sums: Floats, top: Floats, on: Bools,
) -> tuple[int, int, int]:
    """Put every direct load on in its slots; returns (reason, slot, row), reason FITS if valid."""
    n, slots = calls.shape
    for i in range(n):
        if connection[i] != DIRECT:
            continue
        for t in range(slots):
            if not calls[i, t]:
                continue
            for k in needs[i]:
                if k >= 0 and not on[k, t]:
                    turn_on(k, t, draw, adder, sums, top, on)
    for t in range(slots):
        for r in range(draw.shape[0]):
            if sums[r, t] > caps[r] + LIMIT:
                return OVER_ROW, t, r
        all_kva = 0.0
        all_adder = 0.0
        for i in range(n):
            if on[i, t]:
                all_kva += start_kva[i]
                all_adder += adder[i]
                for k in foes[i]:
                    if k >= 0 and on[k, t]:
                        return TOGETHER, t, i
        if sums[KW_ROW, t] + all_adder > short_time_kw + LIMIT:
            return OVER_SHORT_TIME, t, 0
        if all_kva > startable_kva + LIMIT:
            return OVER_STARTABLE, t, 0
    return FITS, -1, -1


@njit(cache=True)
def fits(
    i: int, t: int, draw: Floats, caps: Floats, adder: Floats, start_kva: Floats,
    short_time_kw: float, startable_kva: float, needs: Ints, foes: Ints,
    sums: Floats, top: Floats, on: Bools,
) -> bool:
    """Whether load i, with what it wakes, has room in slot t of the state."""
    added_kw = 0.0
    largest = top[t]
    for k in needs[i]:
        if k >= 0 and not on[k, t]:
            if start_kva[k] > startable_kva + LIMIT:
                return False
            for foe in foes[k]:
                if foe >= 0 and on[foe, t]:
                    return False
            added_kw += draw[KW_ROW, k]
            largest = max(largest, adder[k])
    if sums[KW_ROW, t] + added_kw > caps[KW_ROW] + LIMIT:
        return False
    if largest > 0.0 and sums[KW_ROW, t] + added_kw + largest > short_time_kw + LIMIT:
        return False
    for r in range(1, draw.shape[0]):
        added = 0.0
        for k in needs[i]:
            if k >= 0 and not on[k, t]:
                added += draw[r, k]
        if sums[r, t] + added > caps[r] + LIMIT:
            return False
    return True


@njit(cache=True)
def place(
    i: int, calls: Bools, wait_slots: Ints, draw: Floats, caps: Floats, adder: Floats,
    start_kva: Floats, short_time_kw: float, startable_kva: float, needs: Ints,
    foes: Ints, sums: Floats, top: Floats, on: Bools, served: Ints, waits: Ints,
    marks: NDArray[np.uint8],
) -> None:
    """Give load i its turn after all that are already in the state, in every slot of every day.

    `served` (D,) counts served calls by day; `waits` (T,) gets the slots that the call served in
    slot t had waited, -1 where none was served; `marks` (T,) the timeline.
    """
    slots = calls.shape[1]
    pending = np.empty(SLOTS, dtype=np.int64)
    for day in range(slots // SLOTS):
        head = 0
        tail = 0
        served[day] = 0
        for t in range(day * SLOTS, (day + 1) * SLOTS):
            waits[t] = -1
            marks[t] = QUIET
            if calls[i, t]:
                pending[tail] = t
                tail += 1
            while head < tail and pending[head] + wait_slots[i] < t:
                head += 1
                marks[t] = DROPPED
            if head == tail:
                if on[i, t]:
                    marks[t] = WOKEN
                continue
            if not on[i, t]:
                if not fits(i, t, draw, caps, adder, start_kva, short_time_kw, startable_kva,
                            needs, foes, sums, top, on):
                    marks[t] = WAITING if wait_slots[i] > 0 else DROPPED
                    continue
                for k in needs[i]:
                    if k >= 0 and not on[k, t]:
                        turn_on(k, t, draw, adder, sums, top, on)
            waits[t] = t - pending[head]
            head += 1
            served[day] += 1
            marks[t] = RUNNING


@njit(cache=True)
def replay_order(
    order: Ints, calls: Bools, wait_slots: Ints, draw: Floats, caps: Floats, adder: Floats,
    start_kva: Floats, short_time_kw: float, startable_kva: float, needs: Ints,
    foes: Ints, sums: Floats, top: Floats, on: Bools, served: Ints,
    waits: Ints, marks: NDArray[np.uint8],
) -> None:
    """Place every load of a priority order, first to last."""
    for i in order:
        place(i, calls, wait_slots, draw, caps, adder, start_kva, short_time_kw, startable_kva,
              needs, foes, sums, top, on, served[i], waits[i], marks[i])
