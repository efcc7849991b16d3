"""One load's turn on top of a partly placed order, compiled: what it would get, and giving it.

`fit` (n, T) marks the slots that a load could use for a call of its own and where it has room. Room
only shrinks as more loads are placed, so the marks are kept up by looking at the slots that the
last load took.
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.arrays import Bools, Floats, Ints
from planner.search.loops.inputs import Inputs
from planner.service.loops import KW_ROW, SLOTS, fits, turn_on
from planner.tolerances import LIMIT


@njit(cache=True)
def wanted_slots(calls: Bools, wait_slots: Ints) -> Bools:
    """Slots in which a call of each load could be served, shape (n, T)."""
    n, slots = calls.shape
    wanted = np.zeros((n, slots), dtype=np.bool_)
    for i in range(n):
        open_until = -1
        for t in range(slots):
            if t % SLOTS == 0:
                open_until = -1
            if calls[i, t]:
                open_until = t + wait_slots[i]
            wanted[i, t] = t <= open_until
    return wanted


@njit(cache=True)
def day_served(i: int, first: int, late_is_fatal: bool, calls: Bools, wait: int, fit: Bools
               ) -> int:
    """Calls of load i served on the day from slot `first` on; -1 if one is late and may not be."""
    served = 0
    oldest = first
    for t in range(first, first + SLOTS):
        if not fit[t] and not late_is_fatal:
            continue
        while oldest <= t and (not calls[i, oldest] or oldest + wait < t):
            oldest += 1
        if oldest > t:
            continue
        if not fit[t]:
            return -1
        served += 1
        oldest += 1
    return served


@njit(cache=True)
def put(
    i: int, worth_of_call: float, day_weight: Floats, keys: NDArray[np.uint64],
    calls: Bools, wait_slots: Ints, fit: Bools, draw: Floats, adder: Floats, needs: Ints,
    sums: Floats, top: Floats, on: Bools, taken: Ints,
) -> tuple[float, np.uint64, int]:
    """Place load i next.

    Returns
    -------
    got : float
        Its worth.
    mark : int
        The change of the state's fingerprint.
    count : int
        Rows of `taken` (load, slot) that it filled: what it put on, by rising slot.
    """
    slots = calls.shape[1]
    wait = wait_slots[i]
    got = 0.0
    mark = np.uint64(0)
    count = 0
    oldest = 0
    for t in range(slots):
        if not fit[t]:
            continue
        day = t // SLOTS
        oldest = max(oldest, day * SLOTS)
        while oldest <= t and (not calls[i, oldest] or oldest + wait < t):
            oldest += 1
        if oldest > t:
            continue
        oldest += 1
        got += day_weight[day]
        if on[i, t]:
            continue
        for k in needs[i]:
            if k >= 0 and not on[k, t]:
                turn_on(k, t, draw, adder, sums, top, on)
                mark ^= keys[k, t]
                taken[count, 0] = k
                taken[count, 1] = t
                count += 1
    return got * worth_of_call, mark, count


@njit(cache=True)
def take_back(taken: Ints, count: int, from_sums: Floats, from_top: Floats, sums: Floats,
              top: Floats, on: Bools) -> None:
    """Undo a `put` on a state that was `from_sums`, `from_top` before."""
    for e in range(count):
        k, t = taken[e, 0], taken[e, 1]
        on[k, t] = False
        top[t] = from_top[t]
        for r in range(sums.shape[0]):
            sums[r, t] = from_sums[r, t]


@njit(cache=True)
def narrow(
    i: int, taken: Ints, count: int, inputs: Inputs, fit: Bools, adder: Floats, kva: Floats,
    sums: Floats, top: Floats, on: Bools, changed: Bools,
) -> None:
    """Take from load i's marks the slots where it has no room any more.

    `changed` (D,) gets the days on which a mark went.
    """
    for day in range(changed.shape[0]):
        changed[day] = False
    kw, my_adder = inputs.draw[KW_ROW, i], adder[i]
    before = -1
    for e in range(count):
        t = taken[e, 1]
        if not fit[t] or t == before or on[i, t]:
            continue
        before = t
        if inputs.single[i]:
            all_kw = sums[KW_ROW, t] + kw
            largest = max(top[t], my_adder)
            room = all_kw <= inputs.caps[KW_ROW] + LIMIT and (
                largest <= 0.0 or all_kw + largest <= inputs.short_time_kw + LIMIT)
            for r in range(1, sums.shape[0]):
                room = room and sums[r, t] + inputs.draw[r, i] <= inputs.caps[r] + LIMIT
        else:
            room = fits(i, t, inputs.draw, inputs.caps, adder, kva, inputs.short_time_kw,
                        inputs.startable_kva, inputs.needs, inputs.foes, sums, top, on)
        if not room:
            fit[t] = False
            changed[t // SLOTS] = True
