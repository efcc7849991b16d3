"""The controller: closes modules in priority order where there is room, opens them in reverse.

It knows what the plan says of each load, measures the total on each leg, and is told by each
module whether its load calls and draws. It knows nothing of slots, calls to come or the weather.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit

from planner.arrays import Bools, Floats, Ints
from planner.service.choice import DIRECT, MODULE
from planner.simulate import events
from planner.simulate.circuits import Circuits
from planner.simulate.events import Log, note
from planner.simulate.generator import NOMINAL_HZ
from planner.simulate.settings import Settings

EPS = 1e-6
FITS = -1
NEVER = -10**9
NEXT_SHED_S = 2


class Habits(NamedTuple):
    """Settings of the controller, compiled; whole seconds."""

    spacing_s: int
    averaging_s: float
    overload_s: int
    slight_share: float
    slight_s: int
    shed_frequency: float
    short_cycle_s: int
    minimum_run_s: int
    retry_s: int
    sees_calls: bool


class Memory(NamedTuple):
    """What the controller remembers, changed in place.

    Attributes
    ----------
    closed, on, said : ndarray of bool, shape (n,)
        Module closed (always, for a direct load); the load draws; its waiting is in the log.
    began, stopped, shed : ndarray of int, shape (n,)
        Seconds in which it last began or stopped to draw, was shed.
    now, mean, used : ndarray of float, shape (R,)
        Measured rows, smoothed rows, and what a closing has to be added to.
    counted : ndarray of bool, shape (n,)
        Loads that are part of `used`.
    clock : ndarray of int, shape (4,)
        Second of the last closing, load then closed, seconds of overload, of slight overload.
    """

    closed: Bools
    on: Bools
    said: Bools
    began: Ints
    stopped: Ints
    shed: Ints
    now: Floats
    mean: Floats
    used: Floats
    counted: Bools
    clock: Ints


def habits_of(settings: Settings) -> Habits:
    """Take the controller's part of the settings."""
    return Habits(
        spacing_s=round(settings.spacing_s), averaging_s=settings.averaging_s,
        overload_s=round(settings.overload_s), slight_share=settings.slight_share,
        slight_s=round(settings.slight_s), shed_frequency=settings.shed_frequency,
        short_cycle_s=round(settings.short_cycle_s), minimum_run_s=round(settings.minimum_run_s),
        retry_s=round(settings.retry_s), sees_calls=settings.sees_calls,
    )


def blank_memory(circuits: Circuits) -> Memory:
    """Make the memory of a controller at the loss of the utility: compressors stop at second 0."""
    rows, n = circuits.rated.shape
    return Memory(
        closed=np.ones(n, dtype=np.bool_), on=np.zeros(n, dtype=np.bool_),
        said=np.zeros(n, dtype=np.bool_), began=np.full(n, NEVER), stopped=np.zeros(n, np.int64),
        shed=np.full(n, NEVER), now=np.zeros(rows), mean=np.zeros(rows), used=np.zeros(rows),
        counted=np.zeros(n, dtype=np.bool_), clock=np.array([NEVER, -1, 0, 0], dtype=np.int64),
    )


@njit(cache=True)
def take_over(second: int, circuits: Circuits, habits: Habits, memory: Memory) -> None:
    """Open every module that obeys, as the generator takes the house."""
    for i in range(memory.closed.size):
        memory.closed[i] = circuits.connection[i] == DIRECT or circuits.stuck_closed[i]
        memory.said[i] = False
    memory.clock[0] = second - habits.spacing_s + habits.spacing_s // 2
    memory.clock[1] = -1
    memory.clock[2:] = 0
    memory.now[:] = 0.0
    memory.mean[:] = 0.0


@njit(cache=True)
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


@njit(cache=True)
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
    if circuits.sensor_lost or not habits.sees_calls:
        return
    for i in circuits.order:
        if memory.closed[i] and wants[i] and not memory.counted[i]:
            memory.counted[i] = True
            for r in range(memory.used.size):
                memory.used[r] += circuits.rated[r, i]


@njit(cache=True)
def start_shortage(i: int, circuits: Circuits, memory: Memory) -> tuple[int, float, int]:
    """Say whether the motors that start with module load i can: see `shortage`."""
    all_kw = memory.used[0]
    for k in circuits.needs[i]:
        if k >= 0 and not memory.counted[k]:
            all_kw += circuits.rated[0, k]
    for k in circuits.needs[i]:
        if k < 0 or memory.counted[k]:
            continue
        total = all_kw + circuits.start_kw[k] - circuits.rated[0, k]
        if total > circuits.short_time_kw + EPS:
            return events.WAITS_START, total - circuits.short_time_kw, memory.clock[1]
        if circuits.start_kva[k] > circuits.startable_kva + EPS:
            return events.WAITS_DIP, circuits.start_kva[k] - circuits.startable_kva, -1
    return FITS, 0.0, -1


@njit(cache=True)
def shortage(i: int, circuits: Circuits, memory: Memory) -> tuple[int, float, int]:
    """Say whether module load i fits with what it needs: code (`FITS`), how much short, who.

    The same limits as the plan's: rows; and for each motor of the closing, the rest plus its start
    within the short-time power, and its kVA within what can be started.
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
    found: tuple[int, float, int] = start_shortage(i, circuits, memory)
    return found


@njit(cache=True)
def resting_s(i: int, second: int, circuits: Circuits, habits: Habits, memory: Memory) -> int:
    """Seconds for which load i must stay off: a compressor after it stopped, others once shed."""
    rest = memory.shed[i] + habits.retry_s - second
    for k in circuits.needs[i]:
        if k >= 0 and circuits.compressor[k] and circuits.connection[k] == MODULE \
                and not memory.on[k]:
            rest = max(rest, memory.stopped[k] + habits.short_cycle_s - second)
    return max(int(rest), 0)


@njit(cache=True)
def open_module(i: int, second: int, circuits: Circuits, memory: Memory) -> None:
    """Open load i and all that needs it, and take it out of what is measured."""
    for k in circuits.order:
        needs_it = False
        for other in circuits.needs[k]:
            needs_it = needs_it or other == i
        if needs_it and memory.closed[k] and not circuits.stuck_closed[k]:
            memory.closed[k] = False
            memory.shed[k] = second
            if memory.counted[k] and memory.on[k]:
                for r in range(memory.now.size):
                    memory.now[r] = max(0.0, memory.now[r] - circuits.rated[r, k])
                    memory.mean[r] = min(memory.mean[r], memory.now[r])


@njit(cache=True)
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


@njit(cache=True)
def shed(
    second: int, frequency: float, wants: Bools, circuits: Circuits, habits: Habits, memory: Memory,
    log: Log,
) -> bool:
    """Open the last module that draws, if the load is too high or the frequency too low."""
    over_kw, over_a = overload(circuits, habits, memory)
    slow = frequency < habits.shed_frequency
    if not (slow or memory.clock[2] >= habits.overload_s or memory.clock[3] >= habits.slight_s):
        return False
    for place in range(circuits.order.size - 1, -1, -1):
        i = circuits.order[place]
        if memory.closed[i] and not circuits.stuck_closed[i] and (
                memory.on[i] or not habits.sees_calls):
            memory.counted[i] = memory.on[i]
            open_module(i, second, circuits, memory)
            if slow:
                note(log, second, events.SHED_FREQUENCY, i, -1, frequency * NOMINAL_HZ)
            elif over_kw > EPS:
                note(log, second, events.SHED_POWER, i, -1, over_kw)
            else:
                note(log, second, events.SHED_AMPERES, i, -1, over_a)
            memory.clock[2] = max(0, habits.overload_s - NEXT_SHED_S)
            memory.clock[3] = max(0, habits.slight_s - NEXT_SHED_S)
            return True
    return False
