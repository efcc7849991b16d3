"""A piece of work with a deadline: begun once, it may pause for a while, or it is lost.

It is begun when it first has power, at the latest `wait_h` after somebody wanted it, and then wants
all the time that its work takes. It is lost when it cannot begin, when its pauses add up to more
than it stands, or when it can no longer be finished in time; a lost task is not begun again. One
with a start button has to be started by somebody: the family does so when it wants it, and a later
beginning, or going on after a pause, only while somebody is up: from 7 to 22 h. Uses begin up to
20 min from their hour, so somebody who wanted one so shortly before 7 or after 22 is up beside it:
breakfast at 7 is not given up because it began at 6:50.
"""

from __future__ import annotations

import numpy as np

from planner.arrays import FloatRows, Floats
from planner.compiled import compiled
from planner.simulation.appliances.event import HIGH_S, PERIOD_S
from planner.simulation.appliances.losing import lose
from planner.simulation.columns import (
    BEGUN,
    BUTTON,
    CLOCK_S,
    CURRENT,
    DRAW,
    HIGH,
    LOOKED,
    LOST,
    LOW,
    MISSED,
    NEXT,
    PAUSE_S,
    PAUSED,
    PROGRESS,
    RAN,
    TICK,
    WAIT_S,
    WANT,
)

LATE_S = 60.0  # later by less than this is not late; a choice, no source
SHORT_S = 300.0
"""A shorter pause is none: less than a slot of the plan, what a controller takes to rearrange (a
choice, no source) [s]."""
BESIDE_S = 1200.0  # uses begin up to so long from their hour (`planner.simulation.schedule`)
UP_S, ABED_S = 7.0 * 3600.0, 22.0 * 3600.0  # somebody presses a button; common practice, no source
DAY_S = 86400.0
UNCUT = -1.0  # `PAUSE_S` of what must not be cut at all


@compiled
def step_task(
    i: int, now: float, last: int, hot: FloatRows, state: FloatRows, parameters: FloatRows,
    start_s: Floats, length_s: Floats, loss: FloatRows,
) -> None:
    """Bring load i up to `now`; `last` is the end of its tasks.

    A lost task is written down in the slot in which its window closes.
    """
    asked = now - state[i, LOOKED]
    state[i, LOOKED] = now
    e = int(state[i, CURRENT])
    halted = False
    if e < last and start_s[e] < now:
        halted = hot[RAN, i] < min(asked, now - start_s[e])
        if state[i, BEGUN] > 0.0:
            state[i, PAUSED] += max(0.0, asked - hot[RAN, i])
        if hot[RAN, i] > 0.0:
            state[i, BEGUN] = 1.0
            state[i, PROGRESS] += hot[RAN, i]
    while True:
        e = int(state[i, CURRENT])
        if e >= last or start_s[e] > now:
            hot[WANT, i] = 0.0
            hot[DRAW, i] = 0.0
            hot[NEXT, i] = start_s[e] if e < last else np.inf
            return
        left = length_s[e] - state[i, PROGRESS]
        if left >= 0.5 and not is_lost(i, now, start_s[e], left, length_s[e], state, parameters):
            break
        if left >= 0.5:
            state[i, MISSED] += 1.0
            state[i, LOST] += left
            closes = start_s[e] + length_s[e] + max(parameters[i, WAIT_S], parameters[i, PAUSE_S])
            lose(i, closes, 1.0, loss)
        state[i, CURRENT] += 1.0
        state[i, PROGRESS] = 0.0
        state[i, BEGUN] = 0.0
        state[i, PAUSED] = 0.0
        halted = True  # what follows at once was not begun at its time
    wanted = 1.0
    if parameters[i, BUTTON] > 0.0 and halted:
        hour_s = (now + parameters[i, CLOCK_S]) % DAY_S
        beside_s = BESIDE_S if now - start_s[e] < BESIDE_S else 0.0
        if hour_s < UP_S - beside_s or hour_s >= ABED_S + beside_s:
            wanted = 0.0
    hot[WANT, i] = wanted
    heating = (now - start_s[e]) % PERIOD_S < HIGH_S
    hot[DRAW, i] = wanted * (parameters[i, HIGH] if heating else parameters[i, LOW])
    hot[NEXT, i] = now + max(1.0, min(parameters[i, TICK], np.ceil(left - 0.5)))


@compiled
def is_lost(
    i: int, now: float, start: float, left: float, length: float, state: FloatRows,
    parameters: FloatRows,
) -> bool:
    """Whether the present task of load i can no longer be done."""
    pause = max(parameters[i, PAUSE_S], SHORT_S)
    late_s = max(parameters[i, WAIT_S], parameters[i, PAUSE_S])
    if state[i, BEGUN] == 0.0:
        lost: bool = now - start > late_s + LATE_S
    elif parameters[i, PAUSE_S] < 0.0:
        lost = state[i, PAUSED] > 0.0
    else:
        lost = state[i, PAUSED] > pause or now + left > start + length + late_s + SHORT_S
    return lost
