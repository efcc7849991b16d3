"""The book of what went wrong at the generator, each entry with its cause."""

from __future__ import annotations

from planner.compiled import compiled
from planner.service.choice import DIRECT
from planner.simulation import falls, tally
from planner.simulation.circuits import Circuits
from planner.simulation.controller import Memory
from planner.simulation.tally import Tally


@compiled
def write_fall(
    second: int, what: int, value: float, since_s: int, circuits: Circuits, memory: Memory,
    result: Tally,
) -> None:
    """Book a fall; `since_s` is how long the generator has carried the house."""
    place = result.falls_count[0]
    result.falls_count[0] += 1
    if place < result.falls.shape[0]:
        result.falls[place, tally.FALL_SECOND] = second
        result.falls[place, tally.FALL_WHAT] = what
        result.falls[place, tally.FALL_CAUSE] = cause_of(second, since_s, circuits, memory)
        result.falls[place, tally.FALL_VALUE] = value


@compiled
def cause_of(second: int, since_s: int, circuits: Circuits, memory: Memory) -> int:
    """Say which loads began just before: the gravest reason that explains a fall."""
    direct = let_in = unsensed = pressed = 0
    for i in range(memory.began.size):
        if memory.pressed[i]:
            pressed += 1
        if second - memory.began[i] <= falls.RECENT_S:
            if circuits.connection[i] == DIRECT:
                direct += 1
            elif memory.began[i] - memory.closed_since[i] <= 1:
                let_in += 1
            else:
                unsensed += 1
    cause = falls.LOAD
    if pressed > 0:
        cause = falls.PRESSURE
    elif since_s <= falls.TAKEOVER_S:
        cause = falls.TAKEOVER
    elif unsensed > 0:
        cause = falls.UNSENSED
    elif direct > 0 and let_in > 0:
        cause = falls.ON_TOP
    elif direct > 0:
        cause = falls.TOGETHER if direct > 1 else falls.DIRECT_ALONE
    elif let_in > 0:
        cause = falls.ADMITTED
    return cause
