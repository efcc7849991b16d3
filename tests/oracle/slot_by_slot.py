"""The service rule a second time, as plainly as it can be said: slot by slot, load by load.

Written from the words of the rule alone; it shares no code with `planner.service`. It is compiled
only so that full enumerations can afford it: with `NUMBA_DISABLE_JIT=1` it runs as plain Python.

Units: kW, kVA, amperes, slots of a quarter of an hour.
"""

from __future__ import annotations

import numpy as np
from numba import njit

OFF, DIRECT, SHED = 0, 1, 2
DAY = 96
HAIR = 1e-9  # rounding of sums


@njit(cache=True)
def holds(live, kw, legs_a, kw_cap, leg_cap_a, panel_members, panel_cap_a, apart):
    """Whether what is on fits power, both legs and every panel, and nothing is barred together."""
    n = len(kw)
    total_kw = 0.0
    for i in range(n):
        if live[i]:
            total_kw += kw[i]
            for k in range(n):
                if live[k] and apart[i, k]:
                    return False
    if total_kw > kw_cap + HAIR:
        return False
    for leg in range(2):
        amperes = 0.0
        for i in range(n):
            if live[i]:
                amperes += legs_a[i, leg]
        if amperes > leg_cap_a + HAIR:
            return False
        for p in range(len(panel_cap_a)):
            amperes = 0.0
            for i in range(n):
                if live[i] and panel_members[p, i]:
                    amperes += legs_a[i, leg]
            if amperes > panel_cap_a[p] + HAIR:
                return False
    return True


@njit(cache=True)
def takes_over(live, kw, start_kw, start_kva, motor, short_kw, start_cap_kva):
    """Whether everything that is on may start in the same moment."""
    power_kw, apparent_kva = 0.0, 0.0
    for i in range(len(kw)):
        if live[i]:
            power_kw += start_kw[i] if motor[i] else kw[i]
            apparent_kva += start_kva[i] if motor[i] else 0.0
    return power_kw <= short_kw + HAIR and apparent_kva <= start_cap_kva + HAIR


@njit(cache=True)
def each_starts(live, kw, start_kw, start_kva, motor, short_kw, start_cap_kva):
    """Whether each motor that is on may start while all others run."""
    for m in range(len(kw)):
        if live[m] and motor[m]:
            power_kw = start_kw[m]
            for i in range(len(kw)):
                if live[i] and i != m:
                    power_kw += kw[i]
            if power_kw > short_kw + HAIR or start_kva[m] > start_cap_kva + HAIR:
                return False
    return True


@njit(cache=True)
def play(calls, wait_slots, kw, legs_a, start_kw, start_kva, motor, needs, apart, panel_members,
          panel_cap_a, kw_cap, leg_cap_a, short_kw, start_cap_kva, connection, order):
    """Play one choice.

    Returns
    -------
    valid : bool
        False if the direct loads are refused in some slot; the rest is then meaningless.
    served : ndarray of int, shape (n, D)
    waited : ndarray of int, shape (n, T)
        Slots that the call served by turn in a slot had waited; -1 where none was.
    live : ndarray of bool, shape (T, n)
    """
    n, slots = calls.shape
    served = np.zeros((n, slots // DAY), dtype=np.int64)
    waited = np.full((n, slots), -1, dtype=np.int64)
    live = np.zeros((slots, n), dtype=np.bool_)
    open_calls = np.zeros((n, DAY), dtype=np.bool_)
    for t in range(slots):
        day, slot = t // DAY, t % DAY
        if slot == 0:
            open_calls[:] = False
        on = live[t]
        for i in range(n):
            if connection[i] == DIRECT and calls[i, t]:
                served[i, day] += 1
                on[i] = True
                for k in range(n):
                    if needs[i, k]:
                        on[k] = True
        if not (holds(on, kw, legs_a, kw_cap, leg_cap_a, panel_members, panel_cap_a, apart)
                and takes_over(on, kw, start_kw, start_kva, motor, short_kw, start_cap_kva)):
            return False, served, waited, live
        for i in order:
            open_calls[i, slot] = calls[i, t]
            oldest = -1
            for s in range(slot + 1):
                if open_calls[i, s] and slot - s <= wait_slots[i]:
                    oldest = s
                    break
            if oldest < 0:
                continue
            tried = on.copy()
            tried[i] = True
            for k in range(n):
                if needs[i, k]:
                    tried[k] = True
            if (holds(tried, kw, legs_a, kw_cap, leg_cap_a, panel_members, panel_cap_a, apart)
                    and each_starts(tried, kw, start_kw, start_kva, motor, short_kw,
                                     start_cap_kva)):
                on[:] = tried
                open_calls[i, oldest] = False
                waited[i, t] = slot - oldest
                served[i, day] += 1
    return True, served, waited, live



@njit(cache=True)
def best_of(orders, must_run, worth, weights, calls, wait_slots, kw, legs_a, start_kw, start_kva,
            motor, needs, apart, panel_members, panel_cap_a, kw_cap, leg_cap_a, short_kw,
            start_cap_kva, connection):
    """Most coverage over orders (rows of `orders`); -1 if none keeps what must run.

    `worth` (n,) is the coverage of one served call of weight 1.
    """
    best = -1.0
    for row in range(orders.shape[0]):
        valid, served, waited, _ = play(
            calls, wait_slots, kw, legs_a, start_kw, start_kva, motor, needs, apart, panel_members,
            panel_cap_a, kw_cap, leg_cap_a, short_kw, start_cap_kva, connection, orders[row])
        if not valid:
            return -1.0
        got = 0.0
        kept = True
        for i in range(calls.shape[0]):
            missed = served[i].sum() < calls[i].sum() or waited[i].max() > 0
            if must_run[i] and missed:
                kept = False
                break
            for day in range(len(weights)):
                got += worth[i] * weights[day] * served[i, day]
        if kept:
            best = max(best, got)
    return best
