"""Which loads can be always connected together, compiled; used by `planner.search.options`."""

from __future__ import annotations

import numpy as np
from numba import njit

from planner.arrays import Bools, Floats, Ints
from planner.search.loops.rows import clear_state
from planner.service.loops import DIRECT, FITS, MODULE, place_direct
from planner.tolerances import CODE_VA


@njit(cache=True)
def _code_va(how: Ints, constant_va: Floats, general_va: Floats, groups: Floats) -> float:
    """Give the least of the forms of the calculated load: the lesser method counts."""
    least = np.inf
    for form in range(constant_va.shape[0]):
        total = constant_va[form]
        for i in range(how.shape[0]):
            if how[i] == DIRECT:
                total += general_va[form, i]
        most = 0.0
        for g in range(groups.shape[1]):
            here = 0.0
            for i in range(how.shape[0]):
                if how[i] == DIRECT:
                    here += groups[form, g, i]
            most = max(most, here)
        least = min(least, total + most)
    return least


@njit(cache=True, nogil=True)
def direct_sets(
    candidates: Ints, always: Bools, most_sets: int, constant_va: Floats, general_va: Floats,
    groups: Floats, limit_va: float, calls: Bools, draw: Floats, caps: Floats, adder: Floats,
    start_kva: Floats, short_time_kw: float, startable_kva: float, needs: Ints, foes: Ints,
    ended: Bools,
) -> tuple[Bools, bool]:
    """Every set of candidates that can be direct beside those that always are.

    A set that does not fit has no larger set that does, so the walk turns back there. It ends early
    once `ended` (1,) is set from another thread.

    Returns
    -------
    sets : ndarray of bool, shape (S, number of candidates)
    complete : bool
        False if there are more than `most_sets`.
    """
    n, slots = calls.shape
    k = candidates.shape[0]
    found = np.zeros((most_sets, k), dtype=np.bool_)
    count = 0
    how = np.zeros(n, dtype=np.int64)
    sums = np.zeros((draw.shape[0], slots))
    top = np.zeros(slots)
    on = np.zeros((n, slots), dtype=np.bool_)
    for i in range(n):
        how[i] = DIRECT if always[i] else MODULE
    stack = np.zeros(k + 1, dtype=np.int64)
    depth = 0
    fresh = True
    while depth >= 0 and not ended[0]:
        if fresh:
            fresh = False
            clear_state(sums, top, on)
            fine = _code_va(how, constant_va, general_va, groups) <= limit_va + CODE_VA
            if fine:
                reason, _, _ = place_direct(how, calls, draw, caps, adder, start_kva,
                                            short_time_kw, startable_kva, needs, foes, sums, top,
                                            on)
                fine = reason == FITS
            if not fine:
                stack[depth] = k
            elif count == most_sets:
                return found, False
            else:
                for c in range(k):
                    found[count, c] = how[candidates[c]] == DIRECT
                count += 1
                stack[depth] = stack[depth - 1] if depth else 0
        if stack[depth] == k:
            depth -= 1
            if depth >= 0:
                how[candidates[stack[depth] - 1]] = MODULE
            continue
        how[candidates[stack[depth]]] = DIRECT
        stack[depth] += 1
        depth += 1
        fresh = True
    return found[:count], True
