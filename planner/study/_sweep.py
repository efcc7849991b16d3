"""Walk through combinations by rising cost, compiled; `planner.study.sweep` is its public face."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.service._kernel import DIRECT, FITS, MODULE, OFF, place_direct
from planner.study._search import best_order
from planner.study._turn import toll_of

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]
Bytes = NDArray[np.int8]

LEAST_GAIN = 1e-6  # a dearer plan must cover this much more to count


@njit(cache=True)
def next_better(
    first: int, stamp: int, connection: Bytes, soft: Bytes, floors: Floats, slack: float,
    node_limit: int,
    value: Floats, called: Floats, must_run: Bools, before: Bools, day_weight: Floats,
    keys: NDArray[np.uint64], member_keys: NDArray[np.uint64], calls: Bools, wait_slots: Ints,
    draw: Floats, caps: Floats, start_kw: Floats, start_kva: Floats, short_time_kw: float,
    startable_kva: float, needs: Ints, foes: Ints, row_toll: Floats, start_toll: Floats,
    all_room: float, seen: NDArray[np.uint64], worth: Floats, opened: Floats,
) -> tuple[int, float, Ints, int, int]:
    """First combination from `first` on that covers more than its floor.

    `floors` (C,) is the coverage that a plan of that cost must beat; `opened` (C,) gets, where the
    search over orders ran out of nodes, the coverage that might still be reached.

    Returns
    -------
    row : int
        The combination; C if there is none.
    coverage : float
    order : ndarray of int
    stamp : int
        To be passed on to the next call.
    nodes : int
        Nodes of the order search, summed.
    """
    combos, n = connection.shape
    rows, slots = draw.shape[0], calls.shape[1]
    sums = np.zeros((rows, slots))
    top = np.zeros(slots)
    on = np.zeros((n, slots), dtype=np.bool_)
    adder = np.zeros(n)
    kva = np.zeros(n)
    how = np.zeros(n, dtype=np.int64)
    nodes = 0
    for c in range(first, combos):
        direct_worth = 0.0
        most = 0.0
        members = 0
        for i in range(n):
            how[i] = connection[c, i]
            adder[i] = start_kw[i, soft[c, i]] - draw[0, i]
            kva[i] = start_kva[i, soft[c, i]]
            if how[i] == DIRECT:
                direct_worth += value[i] * called[i]
            if how[i] == MODULE:
                members += 1
            if how[i] != OFF:
                most += value[i] * called[i]
        if most <= floors[c] + LEAST_GAIN:
            continue
        sums[:] = 0.0
        top[:] = 0.0
        on[:] = False
        reason, _, _ = place_direct(how, calls, draw, caps, adder, kva, short_time_kw,
                                    startable_kva, needs, foes, sums, top, on)
        if reason != FITS:
            continue
        group = np.empty(members, dtype=np.int64)
        spot = 0
        for i in range(n):
            if how[i] == MODULE:
                group[spot] = i
                spot += 1
        unspent = all_room
        for i in range(n if all_room > 0.0 else 0):
            for t in range(slots):
                if on[i, t]:
                    unspent -= toll_of(i, t, draw, adder, row_toll, start_toll)
        stamp += 1
        floor = floors[c] + LEAST_GAIN - direct_worth
        best, order, bound, used = best_order(
            group, floor, slack, node_limit, value, must_run, before, day_weight, keys, member_keys,
            calls, wait_slots, draw, caps, adder, kva, short_time_kw, startable_kva, needs, foes,
            row_toll, start_toll, unspent, sums, top, on, seen, worth, stamp)
        nodes += used
        if bound > best + 1e-9:
            opened[c] = bound + direct_worth
        if best > floor and (order.shape[0] == members):
            return c, best + direct_worth, order, stamp, nodes
    return combos, 0.0, np.empty(0, dtype=np.int64), stamp, nodes
