"""One load's turn on top of a partly placed order, compiled: what it would get, and giving it."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.service._kernel import SLOTS, fits, turn_on

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]


@njit(cache=True)
def toll_of(i: int, t: int, draw: Floats, adder: Floats, row_toll: Floats, start_toll: Floats
            ) -> float:
    """What load i pays, in coverage, for being on in slot t."""
    paid = float(adder[i] * start_toll[i, t])
    for r in range(draw.shape[0]):
        paid += draw[r, i] * row_toll[r, t]
    return float(paid)


@njit(cache=True)
def probe(
    i: int, worth_of_call: float, late_is_fatal: bool, day_weight: Floats, calls: Bools,
    wait_slots: Ints, draw: Floats, caps: Floats, adder: Floats, start_kva: Floats,
    short_time_kw: float, startable_kva: float, needs: Ints, foes: Ints, row_toll: Floats,
    start_toll: Floats, tolled: bool, sums: Floats, top: Floats, on: Bools,
) -> tuple[float, float]:
    """What load i would get if it came next: its worth, and its worth after tolls.

    The first is -1 if the load must not be late and is; the second is reckoned only if `tolled`.
    After tolls each call is served in the best
    slot of its window where the load fits, or not at all.
    """
    slots = calls.shape[1]
    got = 0.0
    netted = 0.0
    pending = np.empty(SLOTS, dtype=np.int64)
    net = np.empty(SLOTS)
    for day in range(slots // SLOTS):
        first = day * SLOTS
        worth = worth_of_call * day_weight[day]
        head = 0
        tail = 0
        served = 0
        open_until = -1
        for t in range(first, first + SLOTS):
            net[t - first] = 0.0
            if calls[i, t]:
                pending[tail] = t
                tail += 1
                open_until = t + wait_slots[i]
            if t > open_until:
                continue
            while head < tail and pending[head] + wait_slots[i] < t:
                head += 1
            if on[i, t]:
                net[t - first] = worth
            elif fits(i, t, draw, caps, adder, start_kva, short_time_kw, startable_kva,
                      needs, foes, sums, top, on):
                net[t - first] = worth
                if tolled:
                    net[t - first] -= toll_of(i, t, draw, adder, row_toll, start_toll)
            else:
                if late_is_fatal and head < tail:
                    return -1.0, 0.0
                continue
            if head < tail:
                head += 1
                served += 1
        got += worth * served
        if not tolled:
            continue
        for c in range(tail):
            best = 0.0
            last = min(pending[c] + wait_slots[i], first + SLOTS - 1)
            for t in range(pending[c], last + 1):
                best = max(best, net[t - first])
            netted += best
    return got, netted


@njit(cache=True)
def put(
    i: int, worth_of_call: float, day_weight: Floats, keys: NDArray[np.uint64],
    calls: Bools, wait_slots: Ints,
    draw: Floats, caps: Floats, adder: Floats, start_kva: Floats, short_time_kw: float,
    startable_kva: float, needs: Ints, foes: Ints, row_toll: Floats, start_toll: Floats,
    sums: Floats, top: Floats, on: Bools,
) -> tuple[float, float, np.uint64]:
    """Place load i next: its worth, the tolls paid, and the change of the state's fingerprint."""
    slots = calls.shape[1]
    got = 0.0
    paid = 0.0
    mark = np.uint64(0)
    pending = np.empty(SLOTS, dtype=np.int64)
    for day in range(slots // SLOTS):
        head = 0
        tail = 0
        for t in range(day * SLOTS, (day + 1) * SLOTS):
            if calls[i, t]:
                pending[tail] = t
                tail += 1
            while head < tail and pending[head] + wait_slots[i] < t:
                head += 1
            if head == tail:
                continue
            if not on[i, t]:
                if not fits(i, t, draw, caps, adder, start_kva, short_time_kw, startable_kva,
                            needs, foes, sums, top, on):
                    continue
                for k in needs[i]:
                    if k >= 0 and not on[k, t]:
                        turn_on(k, t, draw, adder, sums, top, on)
                        mark ^= keys[k, t]
                        paid += toll_of(k, t, draw, adder, row_toll, start_toll)
            got += day_weight[day]
            head += 1
    return got * worth_of_call, paid, mark
