"""Loads that may start unannounced: closed modules that sense only current, and draw none."""

from __future__ import annotations

from planner.compiled import compiled
from planner.simulation import events
from planner.simulation.circuits import CALL, Circuits
from planner.simulation.controller import FITS, Habits, Memory
from planner.simulation.loops.controller import open_module

EPS = 1e-6


@compiled
def is_idle(i: int, circuits: Circuits, memory: Memory) -> bool:
    """Whether load i may start unannounced: its module is closed and senses no call."""
    return (circuits.senses[i] != CALL and memory.closed[i] and not memory.on[i]
            and not circuits.stuck_closed[i])


@compiled
def excess_kw(i: int, others_kw: float, circuits: Circuits, memory: Memory) -> float:
    """By how much load i could not start unannounced beside others [kW]; at most 0 if it could.

    Its start, with all that it needs and that is not on, must be one that can be picked up, and
    each motor must have its start room: beyond that the engine would live, but all modules would
    open for it.
    """
    starting = running = 0.0
    for k in circuits.needs[i]:
        if k >= 0 and not memory.on[k]:
            starting += circuits.start_kw[k]
            running += circuits.rated[0, k]
    excess = others_kw + starting - circuits.pick_up_kw
    for k in circuits.needs[i]:
        if k >= 0 and not memory.on[k]:
            excess = max(excess, others_kw + running - circuits.rated[0, k]
                         - circuits.start_room_kw[k])
    return excess


@compiled
def is_excluded(i: int, circuits: Circuits, memory: Memory) -> bool:
    """Whether something draws that is never on together with load i, or with what it needs."""
    found = False
    for k in circuits.needs[i]:
        if k >= 0:
            for other in circuits.foes[k]:
                found = found or (other >= 0 and memory.on[other])
    return found


@compiled
def withdraw(second: int, circuits: Circuits, habits: Habits, memory: Memory) -> None:
    """Open idle modules whose load could no longer start on top of what runs, or beside it."""
    for place in range(circuits.order.size - 1, -1, -1):
        i = circuits.order[place]
        if is_idle(i, circuits, memory) and (
                excess_kw(i, memory.now[0], circuits, memory) > EPS
                or is_excluded(i, circuits, memory)):
            open_module(i, second, circuits, memory)
            memory.shed[i] = second - habits.retry_s  # nothing was lost: it need not rest


@compiled
def make_safe(
    i: int, place: int, second: int, circuits: Circuits, habits: Habits, memory: Memory
) -> tuple[int, float, int]:
    """Say whether load i may be closed beside idle modules: code (`FITS`), how much short, who.

    With i drawing, each of them must still be one that could start; else it is opened for i,
    if it has been idle for `idle_s`, or stands behind i and i calls or has been open that long.
    """
    added_kw = 0.0
    for k in circuits.needs[i]:
        if k >= 0 and not memory.counted[k]:
            added_kw += circuits.rated[0, k]
    known = circuits.senses[i] == CALL or second - memory.open_since[i] >= habits.idle_s
    for other in range(circuits.order.size):
        k = circuits.order[other]
        if k != i and is_idle(k, circuits, memory) and not (other > place and known) and (
                second - memory.closed_since[k] < habits.idle_s):
            excess = excess_kw(k, memory.used[0] + added_kw, circuits, memory)
            if excess > EPS:
                return events.WAITS_PICK_UP, excess, k
    for late in range(circuits.order.size):
        k = circuits.order[late]
        if k != i and is_idle(k, circuits, memory) and excess_kw(
                k, memory.used[0] + added_kw, circuits, memory) > EPS:
            open_module(k, second, circuits, memory)
            memory.shed[k] = second - habits.retry_s
    return FITS, 0.0, -1
