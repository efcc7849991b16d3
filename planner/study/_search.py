"""Exact search over priority orders, compiled; `planner.study.orders` is its public face.

A load never sees those behind it in the order, so the service of every load that is already placed
is final. And a load fits in a slot only if it fits with less on: whatever is placed before it can
only take room away. Hence, with the loads of a prefix placed, the service that a remaining load
would get if it came next is the most it can get in any completion: the sum of these is a bound that
never cuts off the best order. (What a load gets by itself is a largest matching of its calls to the
slots where it fits, for equal waits and oldest first; it grows with the set of slots.)

A second bound prices the room that loads compete for. Let each load pay, for each slot it is on, a
toll on its kW and, for a motor, on its starting adder; whatever the tolls are, if none is negative,
what is still to be won is at most what each remaining load would win after tolls by itself, plus
what the room left over is worth at the tolls (Lagrangian relaxation of the power and start rows).
The lower of the two bounds counts.
"""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.service._kernel import EPS
from planner.study._turn import probe, put

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]

TABLE = 1 << 16


@njit(cache=True)
def best_order(
    members: Ints, floor: float, slack: float, node_limit: int, value: Floats, must_run: Bools,
    before: Bools,
    day_weight: Floats, keys: NDArray[np.uint64], member_keys: NDArray[np.uint64], calls: Bools,
    wait_slots: Ints, draw: Floats, caps: Floats, adder: Floats, start_kva: Floats,
    short_time_kw: float, startable_kva: float, needs: Ints, foes: Ints, row_toll: Floats,
    start_toll: Floats, unspent: float, sums0: Floats, top0: Floats, on0: Bools,
    seen: NDArray[np.uint64], worth: Floats, stamp: int,
) -> tuple[float, Ints, float, int]:
    """Best order of the member loads on top of a state.

    Depth-first over prefixes; children by falling bound; a child is dropped if its bound does not
    beat the best so far (at least `floor`), or if the same loads reached the same state with the
    same worth before. `unspent` is what all the room of the state is worth at the tolls.

    Returns
    -------
    best : float
        Worth of the best order found above `floor`, else `floor`.
    order : ndarray of int
        That order; length 0 if nothing beat `floor`.
    bound : float
        What no order of the members beats: `best` if the search ended, else higher.
    nodes : int
        Children looked at.
    """
    m = members.shape[0]
    found = np.empty(0, dtype=np.int64)
    best = floor
    if m == 0:
        if floor < 0.0:
            best = 0.0
        return best, found, best, 0
    rows, slots = sums0.shape
    n = calls.shape[0]
    sums = np.empty((m + 1, rows, slots))
    top = np.empty((m + 1, slots))
    on = np.empty((m + 1, n, slots), dtype=np.bool_)
    sums[0], top[0], on[0] = sums0, top0, on0
    placed = np.zeros(m, dtype=np.bool_)
    path = np.zeros(m, dtype=np.int64)
    gain = np.zeros(m + 1)
    room = np.zeros(m + 1)              # what the room that is left is worth at the tolls
    room[0] = unspent
    print_ = np.zeros(m + 1, dtype=np.uint64)
    cap = np.zeros((m + 1, m))          # most that each remaining member can still get
    child_bound = np.full((m + 1, m), -1.0)
    next_child = np.zeros(m + 1, dtype=np.int64)
    children = np.zeros((m + 1, m), dtype=np.int64)
    n_children = np.zeros(m + 1, dtype=np.int64)
    priced = unspent != 0.0
    nodes = 0
    open_bound = floor
    most = 0.0
    most_tolled = unspent
    for a in range(m):
        i = members[a]
        got, net = probe(i, value[i], must_run[i], day_weight, calls, wait_slots, draw, caps, adder,
                         start_kva, short_time_kw, startable_kva, needs, foes, row_toll,
                         start_toll, priced, sums[0], top[0], on[0])
        if got < 0.0:
            return best, found, best, 0
        cap[0, a] = got
        most += got
        most_tolled += net
    if priced:
        most = min(most, most_tolled)
    if most <= best + slack + EPS:
        return best, found, max(best, most), 0
    depth = 0
    fresh = True
    while depth >= 0:
        if fresh:
            fresh = False
            n_children[depth] = 0
            next_child[depth] = 0
            for a in range(m):
                if placed[a]:
                    continue
                free = True
                for b in range(m):
                    if not placed[b] and before[members[b], members[a]]:
                        free = False
                        break
                if not free:
                    continue
                nodes += 1
                i = members[a]
                d = depth + 1
                sums[d], top[d], on[d] = sums[depth], top[depth], on[depth]
                got, paid, _ = put(i, value[i], day_weight, keys, calls, wait_slots, draw, caps,
                                   adder, start_kva, short_time_kw, startable_kva, needs, foes,
                                   row_toll, start_toll, sums[d], top[d], on[d])
                bound = gain[depth] + got
                tolled = bound + room[depth] - paid
                dead = False
                for b in range(m):
                    if placed[b] or b == a:
                        continue
                    k = members[b]
                    if cap[depth, b] == 0.0 and not must_run[k]:
                        continue
                    more, net = probe(k, value[k], must_run[k], day_weight, calls, wait_slots, draw,
                                      caps, adder, start_kva, short_time_kw, startable_kva, needs,
                                      foes, row_toll, start_toll, priced, sums[d], top[d],
                                      on[d])
                    if more < 0.0:
                        dead = True
                        break
                    bound += more
                    tolled += net
                if priced:
                    bound = min(bound, tolled)
                if dead:
                    continue
                if bound <= best + slack + EPS:
                    open_bound = max(open_bound, bound)
                    continue
                spot = n_children[depth]
                while spot > 0 and child_bound[depth, spot - 1] < bound - EPS:
                    child_bound[depth, spot] = child_bound[depth, spot - 1]
                    children[depth, spot] = children[depth, spot - 1]
                    spot -= 1
                child_bound[depth, spot] = bound
                children[depth, spot] = a
                n_children[depth] += 1
        if next_child[depth] >= n_children[depth]:
            depth -= 1
            if depth >= 0:
                placed[path[depth]] = False
            continue
        spot = next_child[depth]
        next_child[depth] += 1
        if child_bound[depth, spot] <= best + slack + EPS:
            open_bound = max(open_bound, child_bound[depth, spot])
            continue
        if nodes > node_limit:
            open_bound = max(open_bound, child_bound[depth, spot])
            continue
        a = children[depth, spot]
        i = members[a]
        d = depth + 1
        sums[d], top[d], on[d] = sums[depth], top[depth], on[depth]
        got, paid, mark = put(i, value[i], day_weight, keys, calls, wait_slots, draw, caps, adder,
                              start_kva, short_time_kw, startable_kva, needs, foes, row_toll,
                              start_toll, sums[d], top[d], on[d])
        gain[d] = gain[depth] + got
        room[d] = room[depth] - paid
        print_[d] = print_[depth] ^ mark ^ member_keys[i]
        path[depth] = a
        if d == m:
            if gain[d] > best + EPS:
                best = gain[d]
                found = np.empty(m, dtype=np.int64)
                for b in range(m):
                    found[b] = members[path[b]]
            continue
        cell = np.int64((print_[d] ^ np.uint64(stamp)) & np.uint64(TABLE - 1))
        tag = print_[d] ^ (np.uint64(stamp) << np.uint64(40))
        if seen[cell] == tag and abs(worth[cell] - gain[d]) < EPS:
            continue
        seen[cell] = tag
        worth[cell] = gain[d]
        for b in range(m):
            if placed[b] or b == a:
                continue
            k = members[b]
            more = 0.0
            if cap[depth, b] > 0.0:
                more, _ = probe(k, value[k], False, day_weight, calls, wait_slots, draw, caps,
                                adder, start_kva, short_time_kw, startable_kva, needs, foes,
                                row_toll, start_toll, False, sums[d], top[d], on[d])
            cap[d, b] = more
        placed[a] = True
        depth = d
        fresh = True
    return best, found, max(best, open_bound), nodes
