"""Walk through combinations by rising cost, compiled; `planner.study.sweep` is its public face."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.service._kernel import DIRECT, FITS, MODULE, OFF, place_direct
from planner.study._desk import Desk
from planner.study._facts import Facts
from planner.study._search import best_order

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Bytes = NDArray[np.int8]

LEAST_GAIN = 1e-6  # a dearer plan must cover this much more to count


@njit(cache=True, nogil=True)
def next_better(
    first: int, stamp: int, connection: Bytes, soft: Bytes, floors: Floats, slack: float,
    node_limit: int, pause: int, facts: Facts, desk: Desk, opened: Floats,
) -> tuple[int, float, Ints, int, int]:
    """First combination from `first` on that covers more than its floor.

    `floors` (C,) is the coverage that a plan of that cost must beat; `opened` (C,) gets, where the
    search over orders ran out of nodes, the coverage that might still be reached. After `pause`
    nodes it comes back with what it has, so that the caller can be interrupted.

    Returns
    -------
    row : int
        The combination, or the last that was looked at before the pause; C if there is none.
    coverage : float
        -1 at a pause.
    order : ndarray of int
    stamp : int
        To be passed on to the next call.
    nodes : int
        Nodes of the order search, summed.
    """
    combos, n = connection.shape
    adder = np.zeros(n)
    kva = np.zeros(n)
    how = np.zeros(n, dtype=np.int64)
    nothing = np.empty(0, dtype=np.int64)
    nodes = 0
    for c in range(first, combos):
        direct_worth = 0.0
        most = 0.0
        members = 0
        for i in range(n):
            how[i] = connection[c, i]
            adder[i] = facts.start_kw[i, soft[c, i]] - facts.draw[0, i]
            kva[i] = facts.start_kva[i, soft[c, i]]
            if how[i] == DIRECT:
                direct_worth += facts.value[i] * facts.called[i]
            if how[i] == MODULE:
                members += 1
            if how[i] != OFF:
                most += facts.value[i] * facts.called[i]
        if most <= floors[c] + slack + LEAST_GAIN:
            if most > floors[c] + LEAST_GAIN:
                opened[c] = most
            continue
        desk.sums[0] = 0.0
        desk.top[0] = 0.0
        desk.on[0] = False
        reason, _, _ = place_direct(
            how, facts.calls, facts.draw, facts.caps, adder, kva, facts.short_time_kw,
            facts.startable_kva, facts.needs, facts.foes, desk.sums[0], desk.top[0], desk.on[0])
        if reason != FITS:
            continue
        group = np.empty(members, dtype=np.int64)
        spot = 0
        for i in range(n):
            if how[i] == MODULE:
                group[spot] = i
                spot += 1
        stamp += 1
        floor = floors[c] + LEAST_GAIN - direct_worth
        best, order, bound, used = best_order(
            group, floor, slack, node_limit, facts, adder, kva, stamp, desk)
        nodes += used
        if bound > best + 1e-9:
            opened[c] = bound + direct_worth
        if best > floor and order.shape[0] == members:
            return c, best + direct_worth, order, stamp, nodes
        if nodes >= pause:
            return c, -1.0, nothing, stamp, nodes
    return combos, 0.0, nothing, stamp, nodes
