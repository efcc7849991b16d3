"""Sweep combinations by rising cost, compiled; `planner.search.sweep` is its public face."""

from __future__ import annotations

import numpy as np
from numba import njit

from planner.arrays import Bytes, Floats, Ints
from planner.search.loops.best_order import best_order
from planner.search.loops.inputs import Inputs
from planner.search.loops.rows import clear_state
from planner.search.loops.workspace import Workspace
from planner.service.loops import DIRECT, FITS, KW_ROW, MODULE, OFF, place_direct
from planner.tolerances import SAME_COVERAGE

LEAST_GAIN = 1e-6  # a dearer plan must cover this much more to count


@njit(cache=True, nogil=True)
def next_better(
    first: int, stamp: int, connection: Bytes, soft: Bytes, floors: Floats, slack: float,
    node_limit: int, pause: int, inputs: Inputs, space: Workspace, opened: Floats,
) -> tuple[int, float, Ints, int, int]:
    """First combination from `first` on that covers more than its floor.

    `floors` (C,) is the coverage that a plan of that cost must beat; `opened` (C,) gets, where the
    search over orders ran out of nodes, the coverage that might still be reached. After `pause`
    nodes, or once the space is marked as ended, it comes back with what it has.

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
        if space.ended[0]:
            return c, -1.0, nothing, stamp, nodes
        direct_worth = 0.0
        most = 0.0
        members = 0
        for i in range(n):
            how[i] = connection[c, i]
            adder[i] = inputs.start_kw[i, soft[c, i]] - inputs.draw[KW_ROW, i]
            kva[i] = inputs.start_kva[i, soft[c, i]]
            if how[i] == DIRECT:
                direct_worth += inputs.value[i] * inputs.called[i]
            if how[i] == MODULE:
                members += 1
            if how[i] != OFF:
                most += inputs.value[i] * inputs.called[i]
        if most <= floors[c] + slack + LEAST_GAIN:
            if most > floors[c] + LEAST_GAIN:
                opened[c] = most
            continue
        clear_state(space.sums[0], space.top[0], space.on[0])
        reason, _, _ = place_direct(
            how, inputs.calls, inputs.draw, inputs.caps, adder, kva, inputs.short_time_kw,
            inputs.startable_kva, inputs.needs, inputs.foes, space.sums[0], space.top[0],
            space.on[0])
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
            group, floor, slack, node_limit, inputs, adder, kva, stamp, space)
        nodes += used
        if bound > best + SAME_COVERAGE:
            opened[c] = bound + direct_worth
        if best > floor and order.shape[0] == members:
            return c, best + direct_worth, order, stamp, nodes
        if nodes >= pause:
            return c, -1.0, nothing, stamp, nodes
    return combos, 0.0, nothing, stamp, nodes
