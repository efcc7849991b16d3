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
def pick_up_kw(i: int, circuits: Circuits, memory: Memory) -> float:
    """What load i takes when it starts, with all that it needs and that is not counted [kW]."""
    kw = 0.0
    for k in circuits.needs[i]:
        if k >= 0 and not memory.on[k]:
            kw += circuits.start_kw[k]
    return kw


@compiled
def withdraw(second: int, circuits: Circuits, habits: Habits, memory: Memory) -> None:
    """Open idle modules whose load could no longer be picked up on top of what is measured."""
    for place in range(circuits.order.size - 1, -1, -1):
        i = circuits.order[place]
        if is_idle(i, circuits, memory) and memory.now[0] + pick_up_kw(
                i, circuits, memory) > circuits.pick_up_kw + EPS:
            open_module(i, second, circuits, memory)
            memory.shed[i] = second - habits.retry_s  # nothing was lost: it need not rest


@compiled
def make_safe(
    i: int, place: int, second: int, circuits: Circuits, habits: Habits, memory: Memory
) -> tuple[int, float, int]:
    """Say whether load i may be closed beside idle modules: code (`FITS`), how much short, who.

    With i drawing, each of them must still be one that can be picked up; else it is opened for i,
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
            excess_kw = memory.used[0] + added_kw + pick_up_kw(
                k, circuits, memory) - circuits.pick_up_kw
            if excess_kw > EPS:
                return events.WAITS_PICK_UP, excess_kw, k
    for late in range(circuits.order.size):
        k = circuits.order[late]
        if k != i and is_idle(k, circuits, memory) and memory.used[0] + added_kw + pick_up_kw(
                k, circuits, memory) > circuits.pick_up_kw + EPS:
            open_module(k, second, circuits, memory)
            memory.shed[k] = second - habits.retry_s
    return FITS, 0.0, -1
