"""The controller's work of one second: what it measures, what fits, who is shed."""

from __future__ import annotations

from planner.arrays import Bools
from planner.compiled import compiled
from planner.service.choice import BY_HAND, DIRECT, MODULE
from planner.simulation import events
from planner.simulation.circuits import CALL, NOTHING, Circuits
from planner.simulation.controller import (
    CLOSED_AT,
    FITS,
    LOW_AT,
    NEXT_SHED_S,
    Habits,
    Memory,
)
from planner.simulation.events import Log
from planner.simulation.loops.log import note

EPS = 1e-6


@compiled
def take_over(second: int, circuits: Circuits, habits: Habits, memory: Memory) -> None:
    """Open every module that obeys, as the generator takes the house."""
    for i in range(memory.closed.size):
        memory.closed[i] = (circuits.connection[i] == DIRECT or circuits.stuck_closed[i]
                            or (circuits.connection[i] == BY_HAND and second < habits.by_hand_s))
        memory.said[i] = False
        memory.open_since[i] = second
    memory.clock[CLOSED_AT] = second - habits.spacing_s + habits.spacing_s // 2
    memory.clock[LOW_AT] = second
    for place in range(memory.ticks.size):
        memory.ticks[place] = 0
    memory.clock[1] = -1
    memory.clock[2] = memory.clock[3] = 0
    for r in range(memory.now.size):
        memory.now[r] = memory.mean[r] = 0.0


@compiled
def switch_off(second: int, circuits: Circuits, habits: Habits, memory: Memory) -> int:
    """Open by hand what is to be; gives the second in which that is due, 0 if it is done."""
    due = 0
    for i in range(memory.closed.size):
        if circuits.connection[i] == BY_HAND and memory.closed[i]:
            if second >= habits.by_hand_s:
                memory.closed[i] = False
                memory.open_since[i] = second
            else:
                due = habits.by_hand_s
    return due


@compiled
def measure(second: int, circuits: Circuits, habits: Habits, memory: Memory) -> None:
    """Take in the rows of this second: a rise is believed at once, a fall by and by.

    A fall that a module reports, because its load has stopped, is believed at once.
    """
    for i in circuits.order:
        if memory.stopped[i] == second:
            for r in range(memory.now.size):
                memory.mean[r] -= circuits.rated[r, i]
    for r in range(memory.now.size):
        if memory.now[r] >= memory.mean[r]:
            memory.mean[r] = memory.now[r]
        else:
            memory.mean[r] += (memory.now[r] - memory.mean[r]) / habits.averaging_s


@compiled
def survey(wants: Bools, circuits: Circuits, habits: Habits, memory: Memory) -> None:
    """Work out what a closing has to be added to.

    The measured rows, and the rated draw of closed modules whose load calls without drawing yet.
    Without a sensor, the rated draw of all that is connected.
    """
    n = memory.closed.size
    for i in range(n):
        memory.counted[i] = memory.on[i] or (circuits.sensor_lost and memory.closed[i])
    for r in range(memory.used.size):
        memory.used[r] = max(memory.now[r], memory.mean[r])
        if circuits.sensor_lost:
            memory.used[r] = 0.0
            for i in range(n):
                if memory.closed[i]:
                    memory.used[r] += circuits.rated[r, i]
    if circuits.sensor_lost:
        return
    for i in circuits.order:
        if circuits.senses[i] == CALL and memory.closed[i] and wants[i] and not memory.counted[i]:
            memory.counted[i] = True
            for r in range(memory.used.size):
                memory.used[r] += circuits.rated[r, i]


@compiled
def start_shortage(i: int, circuits: Circuits, memory: Memory) -> tuple[int, float, int]:
    """Say whether the motors that start with module load i can: see `shortage`."""
    all_kw = memory.used[0]
    for k in circuits.needs[i]:
        if k >= 0 and not memory.counted[k]:
            all_kw += circuits.rated[0, k]
    for k in circuits.needs[i]:
        if k < 0 or memory.counted[k]:
            continue
        others = all_kw - circuits.rated[0, k]
        if others > circuits.start_room_kw[k] + EPS:
            return events.WAITS_START, others - circuits.start_room_kw[k], memory.clock[1]
        if circuits.start_kva[k] > circuits.startable_kva + EPS:
            return events.WAITS_DIP, circuits.start_kva[k] - circuits.startable_kva, -1
    return FITS, 0.0, -1


@compiled
def shortage(i: int, circuits: Circuits, memory: Memory) -> tuple[int, float, int]:
    """Say whether module load i fits with what it needs: code (`FITS`), how much short, who.

    Rows as in the plan; and for each motor of the closing, the rest within its start room, and its
    kVA within what can be started.
    """
    for k in circuits.needs[i]:
        if k < 0:
            break
        for other in circuits.foes[k]:
            if other >= 0 and memory.counted[other]:
                return events.WAITS_EXCLUDED, 0.0, other
    for r in range(memory.used.size):
        total = memory.used[r]
        for k in circuits.needs[i]:
            if k >= 0 and not memory.counted[k]:
                total += circuits.rated[r, k]
        if total > circuits.caps[r] + EPS:
            code = events.WAITS_POWER if r == 0 else events.WAITS_AMPERES
            return code, total - circuits.caps[r], memory.clock[1]
    return start_shortage(i, circuits, memory)


@compiled
def resting_s(i: int, second: int, circuits: Circuits, habits: Habits, memory: Memory) -> int:
    """Seconds for which load i must stay off: a compressor after it stopped, others once shed."""
    rest: int = memory.shed[i] + habits.retry_s - second
    for k in circuits.needs[i]:
        if k >= 0 and circuits.compressor[k] and circuits.connection[k] == MODULE \
                and not memory.on[k]:
            rest = max(rest, memory.stopped[k] + habits.short_cycle_s - second)
    return max(rest, 0)


@compiled
def open_module(i: int, second: int, circuits: Circuits, memory: Memory) -> None:
    """Open load i and all that needs it, and take it out of what is measured."""
    for k in circuits.order:
        needs_it = False
        for other in circuits.needs[k]:
            needs_it = needs_it or other == i
        if needs_it and memory.closed[k] and not circuits.stuck_closed[k]:
            memory.closed[k] = False
            memory.shed[k] = memory.open_since[k] = second
            if memory.counted[k] and memory.on[k]:
                for r in range(memory.now.size):
                    memory.now[r] = max(0.0, memory.now[r] - circuits.rated[r, k])


@compiled
def overload(circuits: Circuits, habits: Habits, memory: Memory) -> tuple[float, float]:
    """Count the seconds of overload; give kW and amperes above the ratings.

    Amperes a little above the rating of a leg count on a clock of their own.
    """
    if circuits.sensor_lost:
        return 0.0, 0.0
    over_kw = memory.now[0] - circuits.shed_caps[0]
    over_a, slight = 0.0, True
    for r in range(1, memory.now.size):
        excess = memory.now[r] - circuits.shed_caps[r]
        over_a = max(over_a, excess)
        slight = slight and excess <= habits.slight_share * circuits.shed_caps[r]
    over = over_kw > EPS or over_a > EPS
    heavy = over_kw > EPS or not slight
    memory.clock[2] = memory.clock[2] + 1 if heavy else 0
    memory.clock[3] = memory.clock[3] + 1 if over else 0
    return over_kw, over_a


@compiled
def last_that_draws(circuits: Circuits, memory: Memory) -> int:
    """Find the last priority that is closed, obeys and draws; -1 if there is none.

    A module that senses nothing is taken to draw.
    """
    for place in range(circuits.order.size - 1, -1, -1):
        i: int = circuits.order[place]
        if memory.closed[i] and not circuits.stuck_closed[i] and (
                memory.on[i] or circuits.senses[i] == NOTHING):
            return i
    return -1


@compiled
def shed(
    second: int, circuits: Circuits, habits: Habits, memory: Memory, log: Log
) -> bool:
    """Open the last module that draws, if the load has stood too high for too long."""
    over_kw, over_a = overload(circuits, habits, memory)
    if memory.clock[2] < habits.overload_s and memory.clock[3] < habits.slight_s:
        return False
    i = last_that_draws(circuits, memory)
    if i < 0:
        return False
    memory.counted[i] = memory.on[i]
    open_module(i, second, circuits, memory)
    if over_kw > EPS:
        note(log, second, events.SHED_POWER, i, -1, over_kw)
    else:
        note(log, second, events.SHED_AMPERES, i, -1, over_a)
    memory.clock[2] = max(0, habits.overload_s - NEXT_SHED_S)
    memory.clock[3] = max(0, habits.slight_s - NEXT_SHED_S)
    memory.clock[LOW_AT] = second
    return True
