"""Book-keeping of an outage: what ran, who waited, which motors started, what changed hands."""

from __future__ import annotations

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.compiled import compiled
from planner.simulation import events, tally
from planner.simulation.circuits import Circuits
from planner.simulation.controller import Memory
from planner.simulation.events import Log
from planner.simulation.generator import NOMINAL_HZ, Engine
from planner.simulation.loops.breaker import cooled, power
from planner.simulation.loops.engine import fuel_rate_btu_h
from planner.simulation.loops.log import note
from planner.simulation.loops.state import (
    FREQUENCY,
    HEAT_1,
    HEAT_2,
    HELD,
    TOTAL_KW,
    WHO,
    Given,
    Now,
)
from planner.simulation.loops.transfer import engine_runs
from planner.simulation.tally import Tally
from planner.simulation.transfer import CARRYING, COOLING, FAILED, RESTING, UTILITY, WARMING

NONE = -1


@compiled
def write_waits(
    second: int, carrying: bool, wants: Bools, fed: Bools, circuits: Circuits, since: Ints,
    result: Tally, log: Log,
) -> None:
    """Keep the book of calls that wait; a wait ends served, or with the call given up."""
    for i in circuits.order:
        if wants[i] and not fed[i]:
            if carrying and since[i] < 0:
                since[i] = second
        elif since[i] >= 0:
            place = result.waits_count[0]
            if place < result.waits.shape[0]:
                result.waits[place, tally.WHO] = i
                result.waits[place, tally.SINCE] = since[i]
                result.waits[place, tally.LENGTH] = second - since[i]
                result.waits[place, tally.ENDED_SERVED] = 1.0 if wants[i] else 0.0
            result.waits_count[0] += 1
            if not wants[i]:
                note(log, second, events.MISSED, i, NONE, (second - since[i]) / 60.0)
            since[i] = -1


@compiled
def write_starts(
    second: int, dip: float, lowest: float, circuits: Circuits, memory: Memory, start_left: Floats,
    result: Tally,
) -> None:
    """Keep the book of motors that start on the generator, and let their starts go on."""
    for i in range(start_left.size):
        if start_left[i] > 0.0:
            if memory.began[i] == second:
                place = result.starts_count[0]
                if place < result.starts.shape[0]:
                    result.starts[place, tally.START_WHO] = i
                    result.starts[place, tally.START_SECOND] = second
                    result.starts[place, tally.START_KVA] = circuits.start_kva[i]
                    result.starts[place, tally.START_DIP] = dip
                    result.starts[place, tally.START_HZ] = lowest * NOMINAL_HZ
                result.starts_count[0] += 1
            start_left[i] -= 1.0


@compiled
def announce(state: int, before: int, second: int, tried: int, log: Log) -> None:
    """Write a change of the transfer into the log."""
    if state in (RESTING, FAILED):
        note(log, second, events.START_FAILED, NONE, NONE, float(tried))
    if state == FAILED:
        note(log, second, events.GAVE_UP, NONE, NONE, 0.0)
    elif state == WARMING:
        note(log, second, events.ENGINE_UP, NONE, NONE, 0.0)
    elif state == CARRYING:
        note(log, second, events.CARRIES, NONE, NONE, 0.0)
    elif state == COOLING or (state == UTILITY and before != COOLING):
        note(log, second, events.RETRANSFERRED, NONE, NONE, 0.0)
    elif state == UTILITY:
        note(log, second, events.STOPPED, NONE, NONE, 0.0)


@compiled
def flush(
    held: int, last: int, state: int, kw: Floats, total_kw: float, wants: Bools, fed: Bools,
    since: Ints, circuits: Circuits, engine: Engine, result: Tally,
) -> None:
    """Book the last `held` seconds, all of one minute and all alike; `last` is the last of them."""
    here = last // 60
    for i in range(kw.size):
        if kw[i] > 0.0:
            result.kwh[i] += kw[i] * held / 3600.0
            result.run_s[i] += held
            result.run_minute[i, here] += held
    for i in circuits.order:
        if since[i] >= 0 and wants[i] and not fed[i]:
            result.wait_minute[i, here] += held
    result.states[here] = state
    sums = result.sums
    if state == CARRYING:
        result.counts[tally.CARRYING_S] += held
        sums[tally.ENGINE_KWH] += total_kw * held / 3600.0
        result.mean_kw[here] += np.float32(total_kw * held / 60.0)
    elif state in (COOLING, UTILITY):
        sums[tally.UTILITY_KWH] += total_kw * held / 3600.0
    else:
        result.counts[tally.DARK_S] += held
    if engine_runs(state):
        carried_kw = total_kw if state == CARRYING else 0.0
        sums[tally.FUEL_BTU] += fuel_rate_btu_h(carried_kw, engine) * held / 3600.0


@compiled
def extremes(here: int, peak_kw: float, dip: float, lowest: float, result: Tally) -> None:
    """Keep the extremes of the run and of a minute."""
    sums = result.sums
    sums[tally.LOWEST_FREQUENCY] = min(sums[tally.LOWEST_FREQUENCY], lowest)
    sums[tally.DEEPEST_DIP] = max(sums[tally.DEEPEST_DIP], dip)
    sums[tally.TOP_KW] = max(sums[tally.TOP_KW], peak_kw)
    result.top_kw[here] = max(result.top_kw[here], np.float32(peak_kw))
    result.deepest_dip[here] = max(result.deepest_dip[here], np.float32(dip))
    if result.lowest_frequency[here] == 0.0 or lowest < result.lowest_frequency[here]:
        result.lowest_frequency[here] = np.float32(lowest)


@compiled
def book_held(second: int, given: Given, now: Now, memory: Memory, result: Tally) -> None:
    """Book the seconds before this one that were only counted: all alike, nobody waiting anew."""
    held, carrying = now.clock[HELD], now.clock[WHO] == CARRYING
    engine = given.engine
    flush(held, second - 1, now.clock[WHO], now.kw, now.gauges[TOTAL_KW], now.wanted, now.fed,
          now.since, given.circuits, engine, result)
    share_1 = memory.now[1] / engine.leg_a if carrying else 0.0
    share_2 = memory.now[2] / engine.leg_a if carrying else 0.0
    now.gauges[HEAT_1] = cooled(now.gauges[HEAT_1], share_1, held, engine.breaker_s)
    now.gauges[HEAT_2] = cooled(now.gauges[HEAT_2], share_2, held, engine.breaker_s)
    if carrying:
        extremes((second - 1) // 60, now.gauges[TOTAL_KW], 0.0, now.gauges[FREQUENCY], result)
        kept = power(1.0 - 1.0 / given.habits.averaging_s, held)
        for r in range(memory.mean.size):
            memory.mean[r] = memory.now[r] + (memory.mean[r] - memory.now[r]) * kept
    now.clock[HELD] = 0


@compiled
def close_book(seconds: int, given: Given, now: Now, result: Tally) -> None:
    """Book what is left at the end: seconds that were only counted, calls that still wait."""
    if now.clock[HELD] > 0:
        flush(now.clock[HELD], seconds - 1, now.clock[WHO], now.kw, now.gauges[TOTAL_KW],
              now.wanted, now.fed, now.since, given.circuits, given.engine, result)
    for i in given.circuits.order:
        if now.since[i] >= 0 and result.waits_count[0] < result.waits.shape[0]:
            place = result.waits_count[0]
            result.waits[place, tally.WHO] = i
            result.waits[place, tally.SINCE] = now.since[i]
            result.waits[place, tally.LENGTH] = seconds - now.since[i]
            result.waits_count[0] += 1
