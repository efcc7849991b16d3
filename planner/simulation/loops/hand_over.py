"""Who carries the house: utility, nobody, generator; and what changes when that changes."""

from __future__ import annotations

from planner.compiled import compiled
from planner.simulation import events
from planner.simulation.controller import Memory
from planner.simulation.events import Log
from planner.simulation.loops.book import announce
from planner.simulation.loops.controller import take_over
from planner.simulation.loops.engine import steady_frequency
from planner.simulation.loops.log import note
from planner.simulation.loops.state import (
    BUSY,
    DROPPING,
    ENTERED,
    FREQUENCY,
    LOW_HZ,
    LOW_VOLTS,
    NEXT_WHO,
    TORQUE,
    TRIED,
    WHO,
    Given,
    Now,
)
from planner.simulation.loops.transfer import next_state
from planner.simulation.transfer import CARRYING

NONE = -1


@compiled
def who_carries(second: int, given: Given, now: Now, log: Log) -> None:
    """Say who carries the house from this second on; a change makes it a busy one."""
    if second == given.times.return_s:
        note(log, second, events.RETURNED, NONE, NONE, 0.0)
    found, tried = next_state(now.clock[WHO], now.clock[ENTERED], now.clock[TRIED], second,
                              given.times)
    now.clock[NEXT_WHO] = found
    now.clock[TRIED] = tried
    if found != now.clock[WHO]:
        now.clock[BUSY] = 1


@compiled
def hand_over(second: int, given: Given, now: Now, memory: Memory, log: Log) -> None:
    """Let another carry the house; the generator begins without load, all modules open."""
    who = now.clock[NEXT_WHO]
    if who == now.clock[WHO]:
        return
    announce(who, now.clock[WHO], second, now.clock[TRIED], log)
    now.clock[WHO] = who
    now.clock[ENTERED] = second
    if who == CARRYING:
        take_over(second, given.circuits, given.habits, memory)
        now.gauges[FREQUENCY] = steady_frequency(0.0, given.engine)
        now.gauges[TORQUE] = 0.0
        now.clock[LOW_HZ] = now.clock[LOW_VOLTS] = now.clock[DROPPING] = 0
