"""Rules 1 to 4 slot by slot, load by load, over one spell; written from the words of the rule.

It shares no code with `planner.service`. It is compiled only so that full enumerations can afford
it: with `NUMBA_DISABLE_JIT=1` it runs as plain Python.

Units: kW, amperes, slots of a quarter of an hour; the unit of each store.
"""

from __future__ import annotations

import numpy as np
from numba import njit

IDLE, CLOCK, STORE, TASK = 0, 1, 2, 3
OPEN, BEGUN, DONE, LOST = 0, 1, 2, 3  # a window of a task
DAY, MORNING, NIGHT = 96, 28, 88  # somebody presses a start button from 7 to 22 h
HAIR = 1e-9


@njit(cache=True)
def fits(live, kw, legs_a, room_kw, startable, apart, kw_cap, leg_cap_a, below, panel_a):
    """Whether what is on fits: power, legs, panels, every motor's start, nothing barred."""
    n = len(kw)
    total_kw = 0.0
    for i in range(n):
        if live[i]:
            total_kw += kw[i]
    if total_kw > kw_cap + HAIR:
        return False
    for i in range(n):
        if live[i]:
            if total_kw - kw[i] > room_kw[i] + HAIR or not startable[i]:
                return False
            for k in range(n):
                if live[k] and apart[i, k]:
                    return False
    for leg in range(2):
        amperes = 0.0
        for i in range(n):
            if live[i]:
                amperes += legs_a[i, leg]
        if amperes > leg_cap_a + HAIR:
            return False
        for p in range(len(panel_a)):
            amperes = 0.0
            for i in range(n):
                if live[i] and below[p, i]:
                    amperes += legs_a[i, leg]
            if amperes > panel_a[p] + HAIR:
                return False
    return True


@njit(cache=True)
def wants_slot(t, start, state, ran, button):
    """Whether a task calls in slot t for a window in some state; `ran` in the slot before."""
    if t < start or state in (DONE, LOST):
        return False
    awake = MORNING <= t % DAY < NIGHT
    if state == OPEN:
        return t == start or awake or not button
    return ran or awake or not button


@njit(cache=True)
def played_task(t, start, length, wait, pauses, state, done, refused, served):
    """State, slots done and slots refused of a window after slot t."""
    if t < start or state in (DONE, LOST):
        return state, done, refused
    if served:
        done += 1
        state = DONE if done == length else BEGUN
        return state, done, refused
    if state == OPEN:
        return (LOST if t >= start + wait else OPEN), done, refused
    refused += 1
    left = start + length + max(wait, pauses) - (t + 1)
    if refused > pauses or length - done > left:
        state = LOST
    return state, done, refused


@njit(cache=True)
def play(kind, clock, stays, need, gain, cap, theta, ahead, windows, button, must_run, kw, legs_a,
         room_kw, startable, needs, apart, kw_cap, leg_cap_a, below, panel_a, direct, sequence):
    """Play the direct loads and then the module loads of `sequence` through every slot.

    `ahead[i, k]`: load i stands ahead of k in the same store and is connected. `windows` (n, w, 4)
    holds start, length, wait, pauses; length 0 is no window.

    Returns
    -------
    refused : bool
        Whether a must-run load was refused in some slot; the rest is then not finished.
    on, called, ran : ndarray of bool, shape (T, n)
    share : ndarray of float, shape (T, n)
        Part of the slot that counts for energy.
    deviation : ndarray of float, shape (T, n)
        Behind each load, after the slot.
    state : ndarray of int, shape (n, w)
    """
    n, slots = clock.shape
    on = np.zeros((slots, n), dtype=np.bool_)
    called = np.zeros((slots, n), dtype=np.bool_)
    ran = np.zeros((slots, n), dtype=np.bool_)
    share = np.zeros((slots, n))
    deviation = np.zeros((slots, n))
    state = np.zeros((n, windows.shape[1]), dtype=np.int64)
    done, refused = np.zeros_like(state), np.zeros_like(state)
    behind, given, missing = np.zeros(n), np.zeros(n), np.zeros(n)
    for t in range(slots):
        live = on[t]
        given[:] = 0.0
        for i in sequence:
            # what it wants
            before = ran[t - 1, i] if t else False
            if kind[i] == CLOCK:
                called[t, i] = clock[i, t]
            elif kind[i] == STORE:
                missing[i] = stays[i] * behind[i] + need[i, t]
                for k in range(n):
                    if ahead[k, i]:
                        missing[i] -= given[k]
                missing[i] = max(0.0, missing[i])
                called[t, i] = (gain[i, t] > 0.0 and missing[i] > 0.0
                                and missing[i] >= theta[i, t] - 1e-12)
            elif kind[i] == TASK:
                for w in range(windows.shape[1]):
                    if windows[i, w, 1] and wants_slot(t, windows[i, w, 0], state[i, w], before,
                                                       button[i]):
                        called[t, i] = True
            # whether it gets it
            served = False
            if called[t, i]:
                if direct[i] or live[i]:
                    served = True
                else:
                    tried = live.copy()
                    tried[i] = True
                    for k in range(n):
                        if needs[i, k]:
                            tried[k] = True
                    served = fits(tried, kw, legs_a, room_kw, startable, apart, kw_cap, leg_cap_a,
                                  below, panel_a)
                if must_run[i] and not served:
                    return True, on, called, ran, share, deviation, state
            if served:
                ran[t, i] = True
                part = min(1.0, missing[i] / gain[i, t]) if kind[i] == STORE else 1.0
                for k in range(n):
                    if k == i or needs[i, k]:
                        live[k] = True
                        share[t, k] = max(share[t, k], part)
            # what comes of it
            if kind[i] == STORE:
                given[i] = min(gain[i, t], missing[i]) if served else 0.0
                behind[i] = min(cap[i], missing[i] - given[i])
                deviation[t, i] = behind[i]
            elif kind[i] == TASK:
                for w in range(windows.shape[1]):
                    start, length, wait, pauses = windows[i, w]
                    if length:
                        state[i, w], done[i, w], refused[i, w] = played_task(
                            t, start, length, wait, pauses, state[i, w], done[i, w],
                            refused[i, w], served)
    return False, on, called, ran, share, deviation, state
