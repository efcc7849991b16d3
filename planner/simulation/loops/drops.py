"""The book of how far the frequency fell: below the controller's fast level, and after what."""

from __future__ import annotations

from planner.compiled import compiled
from planner.simulation import falls, tally
from planner.simulation.circuits import Circuits
from planner.simulation.controller import Memory
from planner.simulation.loops.falls import cause_of
from planner.simulation.loops.state import DROPPING, ENTERED, LOW_HZ, Given, Now
from planner.simulation.tally import Tally

NONE = -1


@compiled
def write_drop(
    second: int, frequency: float, given: Given, now: Now, memory: Memory, result: Tally
) -> None:
    """Book a hundredth of a second of a drop, which ends above the level of the protection too."""
    level = given.habits.fast_frequency
    if now.clock[DROPPING] == 0:
        now.clock[DROPPING] = 1
        place = result.drops_count[0]
        result.drops_count[0] += 1
        if place < result.drops.shape[0]:
            who = began_last(second, given.circuits, memory)
            result.drops[place, tally.DROP_SECOND] = second
            result.drops[place, tally.DROP_WHO] = who
            result.drops[place, tally.DROP_BEGAN] = memory.began[who] if who >= 0 else NONE
            result.drops[place, tally.DROP_CAUSE] = cause_of(
                second, second - now.clock[ENTERED], given.circuits, memory)
            result.drops[place, tally.DROP_LOWEST] = frequency
            result.drops[place, tally.DROP_LEVEL] = level
    elif frequency >= level and now.clock[LOW_HZ] == 0:
        now.clock[DROPPING] = 0
        return
    place = result.drops_count[0] - 1
    if place < result.drops.shape[0]:
        if frequency < level:
            result.drops[place, tally.DROP_LEVEL_TICKS] += 1.0
        result.drops[place, tally.DROP_LOWEST] = min(
            result.drops[place, tally.DROP_LOWEST], frequency)
        result.drops[place, tally.DROP_TICKS] = max(
            result.drops[place, tally.DROP_TICKS], float(now.clock[LOW_HZ]))


@compiled
def began_last(second: int, circuits: Circuits, memory: Memory) -> int:
    """Give the load that began just before: the hardest start, else the largest draw; -1 if none.

    A compressor that stands against its pressure counts as one that starts.
    """
    found = NONE
    hardest = 0.0
    for i in range(memory.began.size):
        if memory.pressed[i] or second - memory.began[i] <= falls.RECENT_S:
            size = max(circuits.start_kva[i], circuits.rated[0, i])
            if size > hardest:
                hardest = size
                found = i
    return found
