"""Exact search over priority orders, compiled; `planner.search.orders` is its public face.

A load never sees those behind it in the order, so the service of every load that is already placed
is final. And a load fits in a slot only if it fits with less on: whatever is placed before it can
only take room away. Hence, with the loads of a prefix placed, the service that a remaining load
would get if it came next is the most it can get in any completion: the sum of these is a bound that
never cuts off the best order. (What a load gets by itself is a largest matching of its calls to the
slots where it fits, for equal waits and oldest first; it grows with the set of slots.)
"""

from __future__ import annotations

import numpy as np
from numba import njit

from planner.arrays import Bools, Floats, Ints
from planner.search.loops.bounds import ask_again, first_asks
from planner.search.loops.inputs import Inputs
from planner.search.loops.placing import put, take_back
from planner.search.loops.rows import copy_state
from planner.search.loops.workspace import TABLE, Workspace
from planner.tolerances import SAME_COVERAGE


@njit(cache=True)
def child_bound(
    a: int, members: Ints, placed: Bools, depth: int, gain: float, inputs: Inputs, adder: Floats,
    kva: Floats, space: Workspace, changed: Bools,
) -> float:
    """What no order beats that goes on with member a; -1 if a load would be late that may not be.

    Row depth + 1 of the space must hold the state of row `depth`, and does so again afterwards.
    """
    i = members[a]
    d = depth + 1
    got, _, count = put(
        i, inputs.value[i], inputs.day_weight, inputs.keys, inputs.calls, inputs.wait_slots,
        space.fit[depth, i], inputs.draw, adder, inputs.needs, space.sums[d], space.top[d],
        space.on[d], space.taken)
    bound = gain + got
    for b in range(members.shape[0]):
        if placed[b] or b == a:
            continue
        more = ask_again(members[b], depth, count, inputs, adder, kva, space, changed)
        if more < 0.0:
            bound = -1.0
            break
        bound += more
    take_back(space.taken, count, space.sums[depth], space.top[depth], space.sums[d], space.top[d],
              space.on[d])
    return float(bound)


@njit(cache=True)
def best_order(
    members: Ints, floor: float, slack: float, node_limit: int, inputs: Inputs, adder: Floats,
    kva: Floats, stamp: int, space: Workspace,
) -> tuple[float, Ints, float, int]:
    """Best order of the member loads on top of the state in row 0 of the space.

    Depth-first over prefixes; children by falling bound; a child is dropped if its bound does not
    beat the best so far (at least `floor`), or if the same loads reached the same state with the
    same worth before. Once the space is marked as ended it comes back with whatever it has.

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
    most = first_asks(members, inputs, adder, kva, space)
    if most < 0.0:
        return best, found, best, 0
    if most <= best + slack + SAME_COVERAGE:
        return best, found, max(best, most), 0
    gain = np.zeros(m + 1)
    placed = np.zeros(m, dtype=np.bool_)
    path = np.zeros(m, dtype=np.int64)
    print_ = np.zeros(m + 1, dtype=np.uint64)
    bounds = np.full((m + 1, m), -1.0)
    next_child = np.zeros(m + 1, dtype=np.int64)
    children = np.zeros((m + 1, m), dtype=np.int64)
    n_children = np.zeros(m + 1, dtype=np.int64)
    changed = np.zeros(inputs.day_weight.shape[0], dtype=np.bool_)
    nodes = 0
    open_bound = floor
    depth = 0
    fresh = True
    while depth >= 0 and not space.ended[0]:
        d = depth + 1
        if fresh:
            fresh = False
            n_children[depth] = 0
            next_child[depth] = 0
            copy_state(depth, d, space)
            for a in range(m):
                if placed[a]:
                    continue
                free = True
                for b in range(m):
                    if not placed[b] and inputs.before[members[b], members[a]]:
                        free = False
                        break
                if not free:
                    continue
                nodes += 1
                bound = child_bound(a, members, placed, depth, gain[depth], inputs, adder, kva,
                                    space, changed)
                if bound < 0.0:
                    continue
                if bound <= best + slack + SAME_COVERAGE:
                    open_bound = max(open_bound, bound)
                    continue
                spot = n_children[depth]
                while spot > 0 and bounds[depth, spot - 1] < bound - SAME_COVERAGE:
                    bounds[depth, spot] = bounds[depth, spot - 1]
                    children[depth, spot] = children[depth, spot - 1]
                    spot -= 1
                bounds[depth, spot] = bound
                children[depth, spot] = a
                n_children[depth] += 1
        if next_child[depth] >= n_children[depth]:
            depth -= 1
            if depth >= 0:
                placed[path[depth]] = False
            continue
        spot = next_child[depth]
        next_child[depth] += 1
        bound = bounds[depth, spot]
        if bound <= best + slack + SAME_COVERAGE or nodes > node_limit:
            open_bound = max(open_bound, bound)
            continue
        a = children[depth, spot]
        i = members[a]
        copy_state(depth, d, space)
        got, mark, count = put(
            i, inputs.value[i], inputs.day_weight, inputs.keys, inputs.calls, inputs.wait_slots,
            space.fit[depth, i], inputs.draw, adder, inputs.needs, space.sums[d], space.top[d],
            space.on[d], space.taken)
        gain[d] = gain[depth] + got
        print_[d] = print_[depth] ^ mark ^ inputs.member_keys[i]
        path[depth] = a
        if d == m:
            if gain[d] > best + SAME_COVERAGE:
                best = gain[d]
                found = np.empty(m, dtype=np.int64)
                for b in range(m):
                    found[b] = members[path[b]]
            continue
        cell = np.int64((print_[d] ^ np.uint64(stamp)) & np.uint64(TABLE - 1))
        tag = print_[d] ^ (np.uint64(stamp) << np.uint64(40))
        if space.seen[cell] == tag and gain[d] <= space.seen_worth[cell] + SAME_COVERAGE:
            continue
        space.seen[cell] = tag
        space.seen_worth[cell] = gain[d]
        placed[a] = True
        for b in range(m):
            if not placed[b]:
                ask_again(members[b], depth, count, inputs, adder, kva, space, changed)
        depth = d
        fresh = True
    return best, found, max(best, open_bound), nodes
