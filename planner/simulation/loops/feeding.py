"""Who has power and what each draws, who begins and who stops, and what that adds up to."""

from __future__ import annotations

from planner.arrays import Bools, Floats
from planner.compiled import compiled
from planner.simulation.circuits import Circuits
from planner.simulation.controller import Habits, Memory


@compiled
def feed(
    second: int, carrying: bool, by_utility: bool, wants: Bools, draw_kw: Floats,
    circuits: Circuits, memory: Memory, fed: Bools, kw: Floats,
) -> None:
    """Say who has power, and what each then draws.

    On the generator a load has power with its own module and those of all that it needs closed.
    What a running load needs runs too. What comes up by and by draws its share.
    """
    needs = circuits.needs
    width = needs.shape[1]
    for i in range(fed.size):
        fed[i] = by_utility or (carrying and memory.closed[i])
        for place in range(1, width):
            if needs[i, place] < 0:
                break
            if not by_utility and not memory.closed[needs[i, place]]:
                fed[i] = False
        kw[i] = draw_kw[i] if fed[i] and wants[i] else 0.0
    for i in range(fed.size):
        for place in range(1, width):
            k = needs[i, place]
            if k < 0 or kw[i] == 0.0:
                break
            if kw[k] == 0.0:
                kw[k] = circuits.rated[0, k]
    for i in range(fed.size):
        if kw[i] > 0.0 and circuits.comes_up_s[i] > 0.0:
            since = second - memory.began[i] if memory.on[i] else 0
            kw[i] *= min(1.0, (since + 1.0) / circuits.comes_up_s[i])


@compiled
def is_coming_up(second: int, circuits: Circuits, memory: Memory) -> bool:
    """Whether a load has not yet come up to its draw, so that the next second is another."""
    for i in range(memory.on.size):
        if memory.on[i] and second - memory.began[i] + 1 < circuits.comes_up_s[i]:
            return True
    return False


@compiled
def settle(
    second: int, carrying: bool, kw: Floats, circuits: Circuits, habits: Habits, memory: Memory,
    start_left: Floats, fed: Bools,
) -> tuple[float, float, float]:
    """Note who began and who stopped; give starting kVA, kW at full voltage, and seconds of it.

    A compressor that begins before its pressures are equal stands: it draws its locked-rotor
    current until its own protector opens, and tries again when that has cooled.
    """
    longest_s = 0.0
    for i in range(kw.size):
        if memory.pressed[i] and start_left[i] <= 0.0 and kw[i] > 0.0:
            memory.pressed[i] = False
            memory.hot_until[i] = second + habits.protector_off_s
        if second < memory.hot_until[i]:
            kw[i] = 0.0
            fed[i] = False
        runs = kw[i] > 0.0
        if runs and not memory.on[i]:
            memory.began[i] = second
            start_left[i] = circuits.start_s[i]
            if carrying and circuits.compressor[i] and circuits.start_s[i] > 0.0 \
                    and second < memory.equal_at[i]:
                memory.pressed[i] = True
                start_left[i] = habits.protector_s
        elif memory.on[i] and not runs:
            memory.stopped[i] = second
            if not memory.pressed[i] and second >= memory.hot_until[i]:
                memory.equal_at[i] = second + habits.equal_s
            memory.pressed[i] = False
            start_left[i] = 0.0
        memory.on[i] = runs
        if memory.pressed[i]:
            fed[i] = False
        longest_s = max(longest_s, min(1.0, start_left[i]))
    kva, locked_kw = starting(start_left, circuits)
    return kva, locked_kw, longest_s


@compiled
def starting(start_left: Floats, circuits: Circuits) -> tuple[float, float]:
    """Give kVA and kW at full voltage of all motors that start, or stand against their pressure."""
    kva = 0.0
    locked_kw = 0.0
    for i in range(start_left.size):
        if start_left[i] > 0.0:
            kva += circuits.start_kva[i]
            locked_kw += circuits.locked_kw[i]
    return kva, locked_kw


@compiled
def add_rows(kw: Floats, circuits: Circuits, memory: Memory) -> None:
    """Add up the rows of what runs: kW as drawn, amperes in proportion to the rated draw."""
    for r in range(memory.now.size):
        memory.now[r] = 0.0
    for i in range(kw.size):
        if kw[i] > 0.0:
            memory.now[0] += kw[i]
            share = kw[i] / circuits.rated[0, i] if circuits.rated[0, i] > 0.0 else 1.0
            for r in range(1, memory.now.size):
                memory.now[r] += share * circuits.rated[r, i]
