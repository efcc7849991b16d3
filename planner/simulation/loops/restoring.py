"""Restoring: who is connected next, and who makes room for whom."""

from __future__ import annotations

from planner.arrays import Bools
from planner.compiled import compiled
from planner.simulation import events
from planner.simulation.circuits import CALL, Circuits
from planner.simulation.controller import CLOSED_AT, FITS, LOW_AT, Habits, Memory
from planner.simulation.events import Log
from planner.simulation.loops.controller import open_module, resting_s, shed, shortage, survey
from planner.simulation.loops.log import note
from planner.simulation.loops.picking_up import make_safe, withdraw

LOOK_S = 5  # how often it looks again while a load waits and nothing else changes
SELDOM_S = 15  # the same, while only loads wait whose call nobody senses
FAR = 2**40


@compiled
def decide(
    second: int, wants: Bools, circuits: Circuits, habits: Habits, memory: Memory, log: Log
) -> int:
    """Let the controller do its work of one second: release, shed, restore.

    Returns the second in which it has to look again if no load changes before. A module that
    senses the call opens as soon as its load no longer calls, so that every start is one that was
    let in. One that senses only the current of its circuit stays closed, and is closed wherever its
    load would fit: it learns of a call in no other way.
    """
    waiting = calling = False
    for i in circuits.order:
        calls = circuits.senses[i] == CALL
        if memory.closed[i]:
            memory.said[i] = False
            if calls and not wants[i] and not circuits.stuck_closed[i]:
                memory.closed[i] = _is_needed(i, wants, circuits, memory)
        elif calls and not wants[i]:
            memory.said[i] = False
        elif not circuits.stuck_open[i]:
            waiting = True
            calling = calling or calls
    if shed(second, circuits, habits, memory, log):
        return second + 1
    withdraw(second, circuits, habits, memory)
    if waiting and second - memory.clock[LOW_AT] >= habits.steady_s and (
            second - memory.clock[CLOSED_AT] >= habits.spacing_s + memory.spread[
                second % memory.spread.size]):
        restore(second, wants, circuits, habits, memory, log)
    if memory.clock[3] > 0:
        return second + 1
    if calling or second - memory.clock[CLOSED_AT] < 2 * habits.spacing_s:
        return second + LOOK_S if waiting else FAR
    return second + SELDOM_S if waiting else FAR


@compiled
def _is_needed(i: int, wants: Bools, circuits: Circuits, memory: Memory) -> bool:
    for k in range(wants.size):
        if k != i and wants[k] and memory.closed[k]:
            for needed in circuits.needs[k]:
                if needed == i:
                    return True
    return False


@compiled
def restore(
    second: int, wants: Bools, circuits: Circuits, habits: Habits, memory: Memory, log: Log
) -> None:
    """Close the first load of the order that calls, or may call, and fits; make room for it.

    Lower ones make room for a load whose call is sensed, and for another once it has been open for
    `trial_s`. What was shed and calls keeps its room while it rests: a compressor that took it
    would not give it back for its shortest run.
    """
    survey(wants, circuits, habits, memory)
    for place in range(circuits.order.size):
        i = circuits.order[place]
        calls = circuits.senses[i] == CALL
        if memory.closed[i] or circuits.stuck_open[i] or (calls and not wants[i]):
            continue
        rest = resting_s(i, second, circuits, habits, memory)
        if rest > 0:
            _say(second, i, events.WAITS_REST, -1, float(rest), memory, log)
            if calls and rest <= habits.retry_s:
                _reserve(i, circuits, memory)
            continue
        code, missing, other = shortage(i, circuits, memory)
        if code == FITS:
            code, missing, other = make_safe(i, place, second, circuits, habits, memory)
        if code == FITS:
            _close(i, second, circuits, memory, log)
            return
        _say(second, i, code, other, missing, memory, log)
        due = second - max(memory.open_since[i], memory.tried[i]) >= habits.trial_s
        if (calls or due) and make_room(second, place, wants, circuits, habits, memory, log):
            memory.tried[i] = second
            return


@compiled
def _reserve(i: int, circuits: Circuits, memory: Memory) -> None:
    """Count load i, with what it needs, as if it drew already."""
    for k in circuits.needs[i]:
        if k >= 0 and not memory.counted[k]:
            memory.counted[k] = True
            for r in range(memory.used.size):
                memory.used[r] += circuits.rated[r, k]


@compiled
def _reserve_ahead(
    second: int, place: int, wants: Bools, circuits: Circuits, habits: Habits, memory: Memory
) -> None:
    """Count again what keeps its room ahead of a place of the order."""
    for earlier in range(place):
        i = circuits.order[earlier]
        if not memory.closed[i] and not circuits.stuck_open[i] and wants[i] \
                and circuits.senses[i] == CALL \
                and 0 < resting_s(i, second, circuits, habits, memory) <= habits.retry_s:
            _reserve(i, circuits, memory)


@compiled
def make_room(
    second: int, place: int, wants: Bools, circuits: Circuits, habits: Habits, memory: Memory,
    log: Log,
) -> bool:
    """Shed loads behind a place of the order, last first, if that lets it in; else none.

    What still fits beside it stays, in the order.
    """
    i = circuits.order[place]
    last = circuits.order.size
    code = 0
    for k in circuits.order:
        memory.yields[k] = False
    while code != FITS and last > place + 1:
        last -= 1
        k = circuits.order[last]
        if _may_yield(k, i, second, circuits, habits, memory):
            memory.counted[k] = False
            memory.yields[k] = True
            for r in range(memory.used.size):
                memory.used[r] = max(0.0, memory.used[r] - circuits.rated[r, k])
            code, _, _ = shortage(i, circuits, memory)
    if code == FITS:
        _spare(i, last, circuits, memory)
    survey(wants, circuits, habits, memory)
    if code != FITS:
        _reserve_ahead(second, place, wants, circuits, habits, memory)
        return False
    for late in range(circuits.order.size - 1, last - 1, -1):
        k = circuits.order[late]
        if memory.yields[k]:
            open_module(k, second, circuits, memory)
            note(log, second, events.YIELDED, k, i, 0.0)
    return True


@compiled
def _spare(i: int, last: int, circuits: Circuits, memory: Memory) -> None:
    """Keep what would make room for load i, from a place of the order on, and still fits beside it.

    A load that would be without what it needs is not kept.
    """
    for late in range(last, circuits.order.size):
        k = circuits.order[late]
        if not memory.yields[k] or needs_what_yields(k, circuits, memory):
            continue
        for r in range(memory.used.size):
            memory.used[r] += circuits.rated[r, k]
        memory.counted[k] = True
        code, _, _ = shortage(i, circuits, memory)
        if code == FITS:
            memory.yields[k] = False
        else:
            memory.counted[k] = False
            for r in range(memory.used.size):
                memory.used[r] -= circuits.rated[r, k]


@compiled
def needs_what_yields(k: int, circuits: Circuits, memory: Memory) -> bool:
    """Whether a load needs another that makes room."""
    found = False
    for other in circuits.needs[k]:
        found = found or (other >= 0 and other != k and memory.yields[other])
    return found


@compiled
def _may_yield(
    k: int, i: int, second: int, circuits: Circuits, habits: Habits, memory: Memory
) -> bool:
    if not memory.closed[k] or circuits.stuck_closed[k] or not memory.counted[k]:
        return False
    for needed in circuits.needs[i]:
        if needed == k:
            return False
    return not (circuits.compressor[k] and memory.on[k]
                and second - memory.began[k] < habits.minimum_run_s)


@compiled
def _close(i: int, second: int, circuits: Circuits, memory: Memory, log: Log) -> None:
    for k in circuits.needs[i]:
        if k >= 0 and not memory.closed[k]:
            memory.closed[k] = True
            memory.closed_since[k] = second
    memory.clock[CLOSED_AT] = second
    memory.clock[1] = i
    note(log, second, events.CLOSED, i, -1, 0.0)


@compiled
def _say(
    second: int, i: int, code: int, other: int, value: float, memory: Memory, log: Log
) -> None:
    if not memory.said[i]:
        memory.said[i] = True
        note(log, second, code, i, other, value)
