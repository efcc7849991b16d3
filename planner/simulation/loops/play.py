"""The outage, second by second; `planner.simulation.outage` is its public face.

In every second: who carries the house? Then the controller decides; loads are fed; motors start;
the engine answers; protection watches; and the machines behind the loads go on. A second in which
nobody changes what he draws, nobody waits and the engine is steady is only counted; such seconds
are booked together, at the latest at the end of a minute.
"""

from __future__ import annotations

from planner.compiled import compiled
from planner.simulation import events
from planner.simulation.controller import Memory
from planner.simulation.events import Log
from planner.simulation.loops.book import book_held, close_book, flush, write_waits
from planner.simulation.loops.controller import switch_off
from planner.simulation.loops.feeding import feed, is_coming_up, settle
from planner.simulation.loops.hand_over import hand_over, who_carries
from planner.simulation.loops.log import note
from planner.simulation.loops.machines import advance
from planner.simulation.loops.restoring import decide
from planner.simulation.loops.state import (
    BUSY,
    FAR,
    HELD,
    LOOK,
    TOTAL_KW,
    WHO,
    Fleet,
    Given,
    Now,
)
from planner.simulation.loops.watch import engine_answers, rest, watch
from planner.simulation.tally import Tally
from planner.simulation.transfer import CARRYING, COOLING, UTILITY

NONE = -1


@compiled
def play(
    seconds: int, given: Given, fleet: Fleet, now: Now, memory: Memory, result: Tally, log: Log
) -> None:
    """Play an outage; `fleet`, `now`, `memory`, `result` and `log` are changed in place."""
    note(log, 0, events.LOST, NONE, NONE, 0.0)
    for second in range(seconds):
        who_carries(second, given, now, log)
        notice(second, now)
        if now.clock[HELD] > 0 and (now.clock[BUSY] == 1 or second % 60 == 0):
            book_held(second, given, now, memory, result)
        if now.clock[BUSY] == 1:
            busy_second(second, given, now, memory, result, log)
        else:
            now.clock[HELD] += 1
        advance(second, now.fed, fleet, now.wants, now.draw_kw)
    close_book(seconds, given, now, result)


@compiled
def notice(second: int, now: Now) -> None:
    """Mark a second as busy if the controller is to look, or somebody wants or draws otherwise."""
    if now.clock[BUSY] == 1:
        return
    if second >= now.clock[LOOK]:
        now.clock[BUSY] = 1
        return
    for i in range(now.wants.size):
        if now.wants[i] != now.wanted[i] or now.draw_kw[i] != now.drawn[i]:
            now.clock[BUSY] = 1
            return


@compiled
def busy_second(
    second: int, given: Given, now: Now, memory: Memory, result: Tally, log: Log
) -> None:
    """Play one second in all its steps, up to the machines behind the loads."""
    hand_over(second, given, now, memory, log)
    who = now.clock[WHO]
    carrying = who == CARRYING
    by_utility = who in (COOLING, UTILITY)
    for i in range(now.wants.size):
        now.wanted[i] = now.wants[i]
        now.drawn[i] = now.draw_kw[i]
    now.clock[BUSY] = 0
    now.clock[LOOK] = FAR
    if carrying:
        now.clock[LOOK] = decide(second, now.wants, given.circuits, given.habits, memory, log)
        due = switch_off(second, given.circuits, given.habits, memory)
        if due > 0:
            now.clock[LOOK] = min(now.clock[LOOK], due)
    feed(second, carrying, by_utility, now.wants, now.draw_kw, given.circuits, memory, now.fed,
         now.kw)
    kva, locked_kw, peak_s = settle(second, carrying, now.kw, given.circuits, given.habits, memory,
                                      now.start_left, now.fed)
    if is_coming_up(second, given.circuits, memory):
        now.clock[BUSY] = 1
    for i in range(memory.hot_until.size):
        if memory.hot_until[i] > second:  # a compressor tries again when its protector has cooled
            now.clock[LOOK] = min(now.clock[LOOK], memory.hot_until[i])
    write_waits(second, carrying, now.wants, now.fed, given.circuits, now.since, result, log)
    total_kw = 0.0
    for i in range(now.kw.size):
        total_kw += now.kw[i]
    now.gauges[TOTAL_KW] = total_kw
    flush(1, second, who, now.kw, total_kw, now.wants, now.fed, now.since, given.circuits,
          given.engine, result)
    if carrying:
        swung = engine_answers(second, kva, locked_kw, peak_s, given, now, memory, result, log)
        watch(second, swung, given, now, memory, result, log)
    else:
        rest(given, now)
