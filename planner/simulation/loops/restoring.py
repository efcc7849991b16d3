"""Restoring: who is connected next, and who makes room for whom."""

from __future__ import annotations

from planner.arrays import Bools
from planner.compiled import compiled
from planner.simulation import events
from planner.simulation.circuits import Circuits
from planner.simulation.controller import FITS, Habits, Memory
from planner.simulation.events import Log
from planner.simulation.loops.controller import open_module, resting_s, shed, shortage, survey
from planner.simulation.loops.log import note

LOOK_S = 5  # how often it looks again while a load waits and nothing else changes
FAR = 2**40


@compiled
def decide(
    second: int, frequency: float, wants: Bools, circuits: Circuits, habits: Habits, memory: Memory,
    log: Log,
) -> int:
    """Let the controller do its work of one second: release, shed, restore.

    Returns the second in which it has to look again if no load changes before. A module opens as
    soon as its load no longer calls, so that every start is one that was let in.
    """
    waiting = False
    for i in circuits.order:
        if wants[i]:
            waiting = waiting or not memory.closed[i]
        elif habits.sees_calls and memory.closed[i] and not circuits.stuck_closed[i]:
            memory.closed[i] = _is_needed(i, wants, circuits, memory)
        if memory.closed[i] or not wants[i]:
            memory.said[i] = False
        waiting = waiting or (not habits.sees_calls and not memory.closed[i])
    if shed(second, frequency, wants, circuits, habits, memory, log):
        return second + 1
    if waiting and second - memory.clock[0] >= habits.spacing_s:
        restore(second, wants, circuits, habits, memory, log)
    if memory.clock[3] > 0:
        return second + 1
    return second + LOOK_S if waiting else FAR


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
    """Close the first load of the order that calls and fits; let lower ones make room for it."""
    survey(wants, circuits, habits, memory)
    for place in range(circuits.order.size):
        i = circuits.order[place]
        if memory.closed[i] or circuits.stuck_open[i] or (habits.sees_calls and not wants[i]):
            continue
        rest = resting_s(i, second, circuits, habits, memory)
        if rest > 0:
            _say(second, i, events.WAITS_REST, -1, float(rest), memory, log)
            continue
        code, missing, other = shortage(i, circuits, memory)
        if code == FITS:
            _close(i, second, circuits, memory, log)
            return
        _say(second, i, code, other, missing, memory, log)
        if habits.sees_calls and make_room(second, place, wants, circuits, habits, memory, log):
            return


@compiled
def make_room(
    second: int, place: int, wants: Bools, circuits: Circuits, habits: Habits, memory: Memory,
    log: Log,
) -> bool:
    """Shed loads behind a place of the order, last first, if that lets it in; else none."""
    i = circuits.order[place]
    last = circuits.order.size
    code = 0
    while code != FITS and last > place + 1:
        last -= 1
        k = circuits.order[last]
        if _may_yield(k, i, second, circuits, habits, memory):
            memory.counted[k] = False
            for r in range(memory.used.size):
                memory.used[r] = max(0.0, memory.used[r] - circuits.rated[r, k])
            code, _, _ = shortage(i, circuits, memory)
    if code == FITS:
        survey(wants, circuits, habits, memory)
        for late in range(circuits.order.size - 1, last - 1, -1):
            k = circuits.order[late]
            if _may_yield(k, i, second, circuits, habits, memory):
                open_module(k, second, circuits, memory)
                note(log, second, events.YIELDED, k, i, 0.0)
        return True
    survey(wants, circuits, habits, memory)
    return False


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
        if k >= 0:
            memory.closed[k] = True
    memory.clock[0] = second
    memory.clock[1] = i
    note(log, second, events.CLOSED, i, -1, 0.0)


@compiled
def _say(
    second: int, i: int, code: int, other: int, value: float, memory: Memory, log: Log
) -> None:
    if not memory.said[i]:
        memory.said[i] = True
        note(log, second, code, i, other, value)
