"""Shedding by frequency, the signal of an overload: two levels, within the second."""

from __future__ import annotations

from planner.compiled import compiled
from planner.simulation import events
from planner.simulation.circuits import Circuits
from planner.simulation.controller import FAST_FOR, LOW_AT, OPEN_AT, SLOW_FOR, Habits, Memory
from planner.simulation.events import Log
from planner.simulation.generator import NOMINAL_HZ, STEPS
from planner.simulation.loops.controller import last_that_draws, open_module
from planner.simulation.loops.log import note

NONE = -1


@compiled
def shed_by_frequency(
    tick: int, frequency: float, before: float, circuits: Circuits, habits: Habits, memory: Memory,
    log: Log,
) -> bool:
    """Look at the frequency once a hundredth of a second; whether a module was opened.

    `tick` counts hundredths of a second from the loss of the utility, `before` is the frequency a
    hundredth ago. First level: the last priorities that draw (`shed_last`), again after each
    further time; time in which the frequency comes back by itself does not count. Second level: all
    modules, a while after it was crossed, even if the frequency has come back by then.
    """
    ticks = memory.ticks
    second = tick // STEPS
    opened = False
    if frequency >= habits.slow_frequency:
        ticks[SLOW_FOR] = 0
    else:
        memory.clock[LOW_AT] = second
        if frequency - before < habits.recovering_tick:
            ticks[SLOW_FOR] += 1
        if ticks[SLOW_FOR] >= habits.slow_ticks:
            ticks[SLOW_FOR] -= habits.slow_next_ticks
            opened = shed_last(second, frequency, circuits, memory, log)
    ticks[FAST_FOR] = ticks[FAST_FOR] + 1 if frequency < habits.fast_frequency else 0
    if ticks[OPEN_AT] == 0 and ticks[FAST_FOR] >= habits.fast_after_ticks:
        ticks[OPEN_AT] = tick + habits.fast_act_ticks
    if ticks[OPEN_AT] > 0 and tick >= ticks[OPEN_AT]:
        ticks[OPEN_AT] = 0
        ticks[FAST_FOR] = 0
        if open_all(second, circuits, memory):
            note(log, second, events.OPENED_ALL, NONE, NONE, frequency * NOMINAL_HZ)
            opened = True
    return opened


@compiled
def shed_last(
    second: int, frequency: float, circuits: Circuits, memory: Memory, log: Log
) -> bool:
    """Open the last priority that draws, and more until what is measured stands within the limit.

    A small load that is shed alone would cost half a second in which the engine falls further.
    """
    opened = False
    more = True
    while more:
        i = last_that_draws(circuits, memory)
        if i == NONE:
            break
        memory.counted[i] = memory.on[i]
        open_module(i, second, circuits, memory)
        note(log, second, events.SHED_FREQUENCY, i, NONE, frequency * NOMINAL_HZ)
        opened = True
        more = memory.now[0] > circuits.shed_caps[0] and not circuits.sensor_lost
    return opened


@compiled
def open_all(second: int, circuits: Circuits, memory: Memory) -> bool:
    """Open every module that obeys; whether there was one."""
    opened = False
    for i in circuits.order:
        if memory.closed[i] and not circuits.stuck_closed[i]:
            memory.closed[i] = False
            memory.shed[i] = memory.open_since[i] = second
            opened = True
    return opened


@compiled
def is_watching(memory: Memory) -> bool:
    """Whether a level counts, so that the next second must be looked at closely."""
    counts: bool = (memory.ticks[SLOW_FOR] > 0 or memory.ticks[FAST_FOR] > 0
                    or memory.ticks[OPEN_AT] > 0)
    return counts
