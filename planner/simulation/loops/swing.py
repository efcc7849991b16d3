"""A second of the engine in hundredths: it is pulled down, loads are shed, protection counts."""

from __future__ import annotations

from planner.compiled import compiled
from planner.service.answer import MOTOR, RESISTIVE
from planner.simulation import tally
from planner.simulation.circuits import Circuits
from planner.simulation.controller import Memory
from planner.simulation.events import Log
from planner.simulation.generator import STEP_S, STEPS
from planner.simulation.loops.drops import write_drop
from planner.simulation.loops.engine import (
    dip_of,
    is_settled,
    one_step,
    start_draw_kw,
    steady_frequency,
)
from planner.simulation.loops.feeding import starting
from planner.simulation.loops.shedding import is_watching, shed_by_frequency
from planner.simulation.loops.state import (
    DIM_70,
    DIM_80,
    DIM_90,
    DROPPED,
    DROPPING,
    ELECTRONIC_KW,
    FREQUENCY,
    LOW_HZ,
    LOW_VOLTS,
    MOTOR_KW,
    RESISTIVE_KW,
    TORQUE,
    TOTAL_KW,
    Given,
    Now,
)
from planner.simulation.tally import Tally

RIDE_70, RIDE_80, RIDE_90 = 2, 50, 1000
"""Hundredths of a second that computers ride through below 70, 80 and 90 % of the voltage (the
tolerance curve of the Information Technology Industry Council, edition 2000, from memory: nothing
for 20 ms, 70 % for 0.5 s, 80 % for 10 s, 90 % for ever)."""


@compiled
def split(now: Now, circuits: Circuits) -> None:
    """Add up what runs by its nature; what still starts is left out [kW]."""
    resistive_kw = motor_kw = electronic_kw = 0.0
    for i in range(now.kw.size):
        if now.kw[i] > 0.0 and now.start_left[i] <= 0.0:
            if circuits.nature[i] == RESISTIVE:
                resistive_kw += now.kw[i]
            elif circuits.nature[i] == MOTOR:
                motor_kw += now.kw[i]
            else:
                electronic_kw += now.kw[i]
    now.gauges[RESISTIVE_KW] = resistive_kw
    now.gauges[MOTOR_KW] = motor_kw
    now.gauges[ELECTRONIC_KW] = electronic_kw


@compiled
def started_kw(now: Now) -> float:
    """Running draw of the motors that still start [kW]."""
    kw = 0.0
    for i in range(now.kw.size):
        if now.start_left[i] > 0.0:
            kw += now.kw[i]
    return kw


@compiled
def unplug(now: Now, circuits: Circuits, memory: Memory) -> None:
    """Take out of the present second what was shed in it, with all that needs it."""
    for i in range(now.kw.size):
        fed = True
        for k in circuits.needs[i]:
            if k >= 0 and not memory.closed[k]:
                fed = False
        if not fed:
            now.kw[i] = 0.0
            now.start_left[i] = 0.0
    split(now, circuits)


@compiled
def dim(volts: float, now: Now, result: Tally) -> None:
    """Count a hundredth of a second at a voltage against what computers ride through."""
    clock = now.clock
    clock[DIM_90] = clock[DIM_90] + 1 if volts < 0.9 else 0
    clock[DIM_80] = clock[DIM_80] + 1 if volts < 0.8 else 0
    clock[DIM_70] = clock[DIM_70] + 1 if volts < 0.7 else 0
    if clock[DIM_90] == 0:
        clock[DROPPED] = 0
    elif clock[DROPPED] == 0 and (clock[DIM_70] > RIDE_70 or clock[DIM_80] > RIDE_80
                                  or clock[DIM_90] > RIDE_90):
        clock[DROPPED] = 1
        result.counts[tally.COMPUTER_DROPS] += 1


@compiled
def swing(
    second: int, kva: float, locked_kw: float, start_s: float, given: Given, now: Now,
    memory: Memory, result: Tally, log: Log,
) -> float:
    """Let the engine follow the load for a second; gives the lowest frequency in it, per unit.

    Motors start in the first `start_s` with `kva` and `locked_kw` at full voltage. The second ends
    early if the engine is steady, or stops; `now.clock` then says for how long its protection has
    counted.
    """
    engine = given.engine
    gauges = now.gauges
    clock = now.clock
    frequency: float = gauges[FREQUENCY]
    torque = gauges[TORQUE]
    if start_s == 0.0 and is_settled(frequency, torque, gauges[TOTAL_KW], engine) \
            and not is_watching(memory):
        frequency = steady_frequency(gauges[TOTAL_KW], engine)
        gauges[FREQUENCY] = frequency
        gauges[TORQUE] = gauges[TOTAL_KW] / (engine.derated_kw * frequency)
        clock[LOW_HZ] = clock[LOW_VOLTS] = clock[DIM_90] = clock[DROPPING] = 0
        return frequency
    split(now, given.circuits)
    started = started_kw(now)
    dip = dip_of(kva, locked_kw, engine)
    start_kw = max(start_draw_kw(kva, locked_kw, engine), started)
    lowest = frequency
    for step in range(STEPS):
        starts = step * STEP_S < start_s
        before = frequency
        frequency, torque = one_step(
            frequency, torque, gauges[RESISTIVE_KW] + (start_kw if starts else 0.0),
            gauges[MOTOR_KW] + (0.0 if starts else started), gauges[ELECTRONIC_KW], engine)
        lowest = min(lowest, frequency)
        volts = min(1.0, frequency / engine.knee) * (1.0 - dip if starts else 1.0)
        if volts < 0.9 or clock[DIM_90] > 0:
            dim(volts, now, result)
        clock[LOW_HZ] = clock[LOW_HZ] + 1 if frequency < engine.low_frequency else 0
        if frequency < given.habits.fast_frequency or clock[DROPPING] > 0:
            write_drop(second, frequency, given, now, memory, result)
        clock[LOW_VOLTS] = clock[LOW_VOLTS] + 1 if volts < engine.low_voltage else 0
        if stops(frequency, given, now):
            break
        watching = frequency < given.habits.slow_frequency or is_watching(memory)
        if watching and shed_by_frequency(
                second * STEPS + step, frequency, before, given.circuits, given.habits, memory,
                log):
            unplug(now, given.circuits, memory)
            kva, locked_kw = starting(now.start_left, given.circuits)
            dip = dip_of(kva, locked_kw, engine)
            started = started_kw(now)
            start_kw = max(start_draw_kw(kva, locked_kw, engine), started)
        elif not starts and not watching and step % 5 == 4 and is_settled(
                frequency, torque,
                gauges[RESISTIVE_KW] + gauges[MOTOR_KW] + gauges[ELECTRONIC_KW] + started, engine):
            break
    gauges[FREQUENCY], gauges[TORQUE] = frequency, torque
    return lowest


@compiled
def stops(frequency: float, given: Given, now: Now) -> bool:
    """Whether the engine stalls or its protection acts."""
    engine = given.engine
    clock = now.clock
    return (frequency < engine.stall_frequency
            or clock[LOW_HZ] > engine.low_frequency_s * STEPS
            or clock[LOW_VOLTS] > engine.low_voltage_s * STEPS)
