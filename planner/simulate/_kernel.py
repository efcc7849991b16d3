"""The outage, second by second, compiled; `planner.simulate.outage` is its public face."""

from __future__ import annotations

import numpy as np
from numba import njit

from planner.arrays import Bools, Bytes, Floats, Ints
from planner.simulate import events, tally
from planner.simulate._book import announce, extremes, flush, write_starts, write_waits
from planner.simulate.breaker import TRIP_HEAT, cooled, warmer
from planner.simulate.circuits import Circuits
from planner.simulate.controller import Habits, Memory, measure, take_over
from planner.simulate.events import Log, note
from planner.simulate.generator import (
    NOMINAL_HZ,
    RECOVERY,
    Engine,
    dip_of,
    one_second,
    spent,
    start_draw_kw,
    steady_frequency,
)
from planner.simulate.machines import advance
from planner.simulate.restoring import FAR, decide
from planner.simulate.tally import Tally
from planner.simulate.transfer import (
    CARRYING,
    COOLING,
    SENSING,
    STALLED,
    TRIPPED,
    UTILITY,
    Sequence,
    next_state,
)

EPS = 1e-6
NONE = -1


@njit(cache=True)
def feed(
    carrying: bool, by_utility: bool, wants: Bools, draw_kw: Floats, circuits: Circuits,
    memory: Memory, fed: Bools, kw: Floats,
) -> None:
    """Say who has power, and what each then draws.

    On the generator a load has power with its own module and those of all that it needs closed.
    What a running load needs runs too.
    """
    needs = circuits.needs
    width = needs.shape[1]
    for i in range(fed.size):
        fed[i] = by_utility or (carrying and memory.closed[i])
        for place in range(1, width):
            if needs[i, place] < 0:
                break
            if not by_utility and not memory.closed[needs[i, place]]:
                fed[i] = False
        kw[i] = draw_kw[i] if fed[i] and wants[i] else 0.0
    for i in range(fed.size):
        for place in range(1, width):
            k = needs[i, place]
            if k < 0 or kw[i] == 0.0:
                break
            if kw[k] == 0.0:
                kw[k] = circuits.rated[0, k]


@njit(cache=True)
def settle(
    second: int, kw: Floats, circuits: Circuits, memory: Memory, start_left: Floats
) -> tuple[float, float, float]:
    """Note who began and who stopped; give starting kVA, kW at full voltage, and seconds of it."""
    kva = 0.0
    locked_kw = 0.0
    longest_s = 0.0
    for i in range(kw.size):
        runs = kw[i] > 0.0
        if runs and not memory.on[i]:
            memory.began[i] = second
            start_left[i] = circuits.start_s[i]
        elif memory.on[i] and not runs:
            memory.stopped[i] = second
            start_left[i] = 0.0
        memory.on[i] = runs
        if start_left[i] > 0.0:
            kva += circuits.start_kva[i]
            locked_kw += circuits.locked_kw[i]
            longest_s = max(longest_s, min(1.0, start_left[i]))
    return kva, locked_kw, longest_s


@njit(cache=True)
def add_rows(kw: Floats, circuits: Circuits, memory: Memory) -> None:
    """Add up the rows of what runs: kW as drawn, amperes in proportion to the rated draw."""
    memory.now[:] = 0.0
    for i in range(kw.size):
        if kw[i] > 0.0:
            memory.now[0] += kw[i]
            share = kw[i] / circuits.rated[0, i] if circuits.rated[0, i] > 0.0 else 1.0
            for r in range(1, memory.now.size):
                memory.now[r] += share * circuits.rated[r, i]


@njit(cache=True, nogil=True)
def play(
    seconds: int, engine: Engine, times: Sequence, circuits: Circuits, habits: Habits,
    memory: Memory, kind: Bytes, parameters: Floats, state: Floats, shared: Floats,
    shared_parameters: Floats, event_first: Ints, event_start_s: Floats, event_length_s: Floats,
    event_size: Floats, minute: Floats, wants: Bools, draw_kw: Floats, result: Tally, log: Log,
) -> None:
    """Play an outage; `state`, `shared`, `memory`, `result` and `log` are changed in place.

    A second in which nobody changes what he draws, nobody waits and the engine is steady is only
    counted; such seconds are booked together, at the latest at the end of a minute.
    """
    n = wants.size
    fed = np.zeros(n, dtype=np.bool_)
    kw = np.zeros(n)
    start_left = np.zeros(n)
    since = np.full(n, -1)
    wanted = wants.copy()
    drawn = draw_kw.copy()
    who, entered, tried = SENSING, 0, 0
    frequency, shaft_kw, total_kw = 1.0, 0.0, 0.0
    heat, heat_l2, store_s, slow_s = 0.0, 0.0, 0.0, 0
    held = 0
    busy, look = True, FAR
    note(log, 0, events.LOST, NONE, NONE, 0.0)
    for second in range(seconds):
        if second == times.return_s:
            note(log, second, events.RETURNED, NONE, NONE, 0.0)
        found, tried = next_state(who, entered, tried, second, times)
        busy = busy or found != who or second >= look
        if not busy:
            for i in range(n):
                if wants[i] != wanted[i] or draw_kw[i] != drawn[i]:
                    busy = True
                    break
        if held > 0 and (busy or second % 60 == 0):
            flush(held, second - 1, who, kw, total_kw, wanted, fed, since, circuits, engine, result)
            shares = memory.now if who == CARRYING else np.zeros(3)
            heat = cooled(heat, shares[1] / engine.leg_a, held, engine.breaker_s)
            heat_l2 = cooled(heat_l2, shares[2] / engine.leg_a, held, engine.breaker_s)
            store_s = max(0.0, store_s - RECOVERY * held)
            if who == CARRYING:
                extremes((second - 1) // 60, total_kw, 0.0, frequency, result)
                for r in range(memory.mean.size):
                    memory.mean[r] = memory.now[r] + (memory.mean[r] - memory.now[r]) * (
                        1.0 - 1.0 / habits.averaging_s) ** held
            held = 0
        if not busy:
            held += 1
            advance(second, fed, kind, parameters, state, shared, shared_parameters, event_first,
                    event_start_s, event_length_s, event_size, minute, wants, draw_kw)
            continue
        if found != who:
            announce(found, who, second, tried, log)
            who, entered = found, second
            if who == CARRYING:
                take_over(second, circuits, habits, memory)
                frequency, shaft_kw = steady_frequency(0.0, engine), 0.0
                store_s, slow_s = 0.0, 0
        wanted[:] = wants
        drawn[:] = draw_kw
        by_utility = who in (COOLING, UTILITY)
        busy, look = False, FAR
        if who == CARRYING:
            look = decide(second, frequency, wants, circuits, habits, memory, log)
        feed(who == CARRYING, by_utility, wants, draw_kw, circuits, memory, fed, kw)
        kva, locked_kw, peak_s = settle(second, kw, circuits, memory, start_left)
        write_waits(second, who == CARRYING, wants, fed, circuits, since, result, log)
        total_kw = kw.sum()
        flush(1, second, who, kw, total_kw, wants, fed, since, circuits, engine, result)
        if who == CARRYING:
            add_rows(kw, circuits, memory)
            measure(second, circuits, habits, memory)
            peak_kw = total_kw
            dip = 0.0
            if peak_s > 0.0:
                starting_kw = 0.0
                for i in range(n):
                    if start_left[i] > 0.0:
                        starting_kw += kw[i]
                peak_kw += max(0.0, start_draw_kw(kva, locked_kw, engine) - starting_kw)
                dip = dip_of(kva, locked_kw, engine)
                start_kwh = (peak_kw - total_kw) * peak_s / 3600.0
                result.sums[tally.START_KWH] += start_kwh
                result.sums[tally.ENGINE_KWH] += start_kwh
            frequency, shaft_kw, lowest = one_second(
                frequency, shaft_kw, peak_kw, peak_s, total_kw, engine)
            if peak_s > 0.0:
                write_starts(second, dip, lowest, circuits, memory, start_left, result)
            extremes(second // 60, peak_kw, dip, lowest, result)
            leg_a = max(memory.now[1], memory.now[2])
            over = total_kw > engine.derated_kw + EPS or leg_a > engine.leg_a + EPS
            result.counts[tally.OVERLOAD_S] += over
            store_s = spent(store_s, total_kw, engine)
            slow_s = slow_s + 1 if frequency < engine.stall_frequency else 0
            heat = warmer(heat, memory.now[1] / engine.leg_a, engine.breaker_s)
            heat_l2 = warmer(heat_l2, memory.now[2] / engine.leg_a, engine.breaker_s)
            busy = (over or peak_s > 0.0 or lowest != frequency
                    or frequency != steady_frequency(total_kw, engine))
            before = who
            if slow_s >= engine.stall_s:
                note(log, second, events.STALLED_ENGINE, NONE, NONE, frequency * NOMINAL_HZ)
                result.counts[tally.STALLS] += 1
                who = STALLED
            elif max(heat, heat_l2) >= TRIP_HEAT:
                note(log, second, events.TRIPPED_BREAKER, NONE, NONE, 0.0)
                result.counts[tally.BREAKER_TRIPS] += 1
                who = TRIPPED
            elif store_s >= engine.short_time_s:
                note(log, second, events.TRIPPED_ENGINE, NONE, NONE, 0.0)
                result.counts[tally.ENGINE_TRIPS] += 1
                who = TRIPPED
            if who != before:
                entered = second + 1
                busy = True
        else:
            start_left[:] = 0.0
            heat = warmer(heat, 0.0, engine.breaker_s)
            heat_l2 = warmer(heat_l2, 0.0, engine.breaker_s)
        advance(second, fed, kind, parameters, state, shared, shared_parameters, event_first,
                event_start_s, event_length_s, event_size, minute, wants, draw_kw)
    if held > 0:
        flush(held, seconds - 1, who, kw, total_kw, wanted, fed, since, circuits, engine, result)
    for i in circuits.order:
        if since[i] >= 0 and result.waits_count[0] < result.waits.shape[0]:
            place = result.waits_count[0]
            result.waits[place, tally.WHO] = i
            result.waits[place, tally.SINCE] = since[i]
            result.waits[place, tally.LENGTH] = seconds - since[i]
            result.waits_count[0] += 1
