"""How the engine answers the load, and what stops it: a stall, its protection, the breaker."""

from __future__ import annotations

from planner.compiled import compiled
from planner.simulation import events, falls, tally
from planner.simulation.breaker import TRIP_HEAT
from planner.simulation.controller import Memory
from planner.simulation.events import Log
from planner.simulation.generator import NOMINAL_HZ, STEPS
from planner.simulation.loops.book import extremes, write_starts
from planner.simulation.loops.breaker import warmer
from planner.simulation.loops.controller import measure
from planner.simulation.loops.engine import dip_of, start_draw_kw, steady_frequency
from planner.simulation.loops.falls import write_fall
from planner.simulation.loops.feeding import add_rows
from planner.simulation.loops.log import note
from planner.simulation.loops.shedding import is_watching
from planner.simulation.loops.state import (
    BUSY,
    ENTERED,
    FREQUENCY,
    HEAT_1,
    HEAT_2,
    LOW_HZ,
    LOW_VOLTS,
    TOTAL_KW,
    WHO,
    Given,
    Now,
)
from planner.simulation.loops.swing import started_kw, swing
from planner.simulation.tally import Tally
from planner.simulation.transfer import STALLED, TRIPPED

EPS = 1e-6
NONE = -1


@compiled
def engine_answers(
    second: int, kva: float, locked_kw: float, start_s: float, given: Given, now: Now,
    memory: Memory, result: Tally, log: Log,
) -> bool:
    """Let motors start and the engine follow; whether its frequency swung within the second."""
    engine = given.engine
    add_rows(now.kw, given.circuits, memory)
    measure(second, given.circuits, given.habits, memory)
    total_kw = now.gauges[TOTAL_KW]
    peak_kw = total_kw
    dip = 0.0
    if start_s > 0.0:
        peak_kw += max(0.0, start_draw_kw(kva, locked_kw, engine) - started_kw(now))
        dip = dip_of(kva, locked_kw, engine)
        start_kwh = (peak_kw - total_kw) * start_s / 3600.0
        result.sums[tally.START_KWH] += start_kwh
        result.sums[tally.ENGINE_KWH] += start_kwh
        if dip >= falls.LIGHTS_DIP:
            result.counts[tally.LIGHT_DIPS] += 1
        if dip > given.circuits.allowed_dip + EPS and started_now(second, now, memory):
            write_fall(second, falls.DIP, dip, second - now.clock[ENTERED], given.circuits, memory,
                       result)
    lowest = swing(second, kva, locked_kw, start_s, given, now, memory, result, log)
    frequency = now.gauges[FREQUENCY]
    if start_s > 0.0:
        write_starts(second, dip, lowest, given.circuits, memory, now.start_left, result)
    extremes(second // 60, peak_kw, dip, lowest, result)
    return (start_s > 0.0 or lowest != frequency or is_watching(memory)
            or frequency != steady_frequency(total_kw, engine))


@compiled
def started_now(second: int, now: Now, memory: Memory) -> bool:
    """Whether a motor begins its start in this second."""
    for i in range(now.start_left.size):
        if now.start_left[i] > 0.0 and memory.began[i] == second:
            return True
    return False


@compiled
def watch(
    second: int, swung: bool, given: Given, now: Now, memory: Memory, result: Tally, log: Log
) -> None:
    """Watch overload, frequency, voltage and breaker; too much stops it."""
    engine = given.engine
    total_kw, frequency = now.gauges[TOTAL_KW], now.gauges[FREQUENCY]
    leg_a = max(memory.now[1], memory.now[2])
    over = total_kw > engine.derated_kw + EPS or leg_a > engine.leg_a + EPS
    if over:
        result.counts[tally.OVERLOAD_S] += 1
    now.gauges[HEAT_1] = warmer(now.gauges[HEAT_1], memory.now[1] / engine.leg_a, engine.breaker_s)
    now.gauges[HEAT_2] = warmer(now.gauges[HEAT_2], memory.now[2] / engine.leg_a, engine.breaker_s)
    if over or swung:
        now.clock[BUSY] = 1
    what = -1
    if frequency < engine.stall_frequency:
        what = falls.STALL
        note(log, second, events.STALLED_ENGINE, NONE, NONE, frequency * NOMINAL_HZ)
        result.counts[tally.STALLS] += 1
    elif now.clock[LOW_HZ] > engine.low_frequency_s * STEPS:
        what = falls.LOW_HZ
        note(log, second, events.LOW_HZ_TRIP, NONE, NONE, frequency * NOMINAL_HZ)
        result.counts[tally.ENGINE_TRIPS] += 1
    elif now.clock[LOW_VOLTS] > engine.low_voltage_s * STEPS:
        what = falls.LOW_VOLTS
        note(log, second, events.LOW_VOLTS_TRIP, NONE, NONE, 100.0 * engine.low_voltage)
        result.counts[tally.ENGINE_TRIPS] += 1
    elif max(now.gauges[HEAT_1], now.gauges[HEAT_2]) >= TRIP_HEAT:
        what = falls.BREAKER
        note(log, second, events.TRIPPED_BREAKER, NONE, NONE, 0.0)
        result.counts[tally.BREAKER_TRIPS] += 1
    if what >= 0:
        write_fall(second, what, frequency, second - now.clock[ENTERED], given.circuits, memory,
                   result)
        stop(second, TRIPPED if what == falls.BREAKER else STALLED, now)


@compiled
def stop(second: int, how: int, now: Now) -> None:
    """Take the house off the generator from the next second on."""
    now.clock[WHO] = how
    now.clock[ENTERED] = second + 1
    now.clock[BUSY] = 1


@compiled
def rest(given: Given, now: Now) -> None:
    """Let no motor start, and the breaker cool, while the generator does not carry the house."""
    for i in range(now.start_left.size):
        now.start_left[i] = 0.0
    now.gauges[HEAT_1] = warmer(now.gauges[HEAT_1], 0.0, given.engine.breaker_s)
    now.gauges[HEAT_2] = warmer(now.gauges[HEAT_2], 0.0, given.engine.breaker_s)
