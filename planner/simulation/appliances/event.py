"""An appliance that someone switches on: it runs its time, waits for power, or is given up.

Every second of an event may be put off by the load's wait. What is older is lost, oldest first:
the planner's rule for calls, with seconds for slots.
"""

from __future__ import annotations

import numpy as np

from planner.arrays import FloatRows, Floats
from planner.compiled import compiled
from planner.simulation.appliances.losing import lose
from planner.simulation.columns import (
    CURRENT,
    DONE,
    DRAW,
    HIGH,
    LOST,
    LOW,
    MISSED,
    NEXT,
    PROGRESS,
    RAN,
    TICK,
    WAIT_S,
    WANT,
)

HIGH_S, PERIOD_S = 40.0, 60.0  # an element's cycle; common practice, no source


@compiled
def step_event(
    i: int, now: float, last: int, hot: FloatRows, state: FloatRows, parameters: FloatRows,
    start_s: Floats, length_s: Floats, loss: FloatRows,
) -> None:
    """Bring load i up to `now`; `last` is the end of its events.

    An event counts as missed if less than half of it ran.
    """
    if hot[WANT, i] > 0.0:
        state[i, PROGRESS] += hot[RAN, i]
        state[i, DONE] += hot[RAN, i]
    while True:
        e = int(state[i, CURRENT])
        if e >= last or start_s[e] > now:
            hot[WANT, i] = 0.0
            hot[DRAW, i] = 0.0
            hot[NEXT, i] = start_s[e] if e < last else np.inf
            return
        given_up = min(now - start_s[e] - parameters[i, WAIT_S], length_s[e])
        if given_up > state[i, PROGRESS]:
            state[i, LOST] += given_up - state[i, PROGRESS]
            lose(i, now, given_up - state[i, PROGRESS], loss)
            state[i, PROGRESS] = given_up
        if state[i, PROGRESS] < length_s[e] - 0.5:
            break
        if state[i, DONE] < 0.5 * length_s[e]:
            state[i, MISSED] += 1.0
        state[i, CURRENT] += 1.0
        state[i, PROGRESS] = 0.0
        state[i, DONE] = 0.0
    hot[WANT, i] = 1.0
    heating = (now - start_s[e]) % PERIOD_S < HIGH_S
    hot[DRAW, i] = parameters[i, HIGH] if heating else parameters[i, LOW]
    left = np.ceil(length_s[e] - state[i, PROGRESS] - 0.5)
    hot[NEXT, i] = now + max(1.0, min(parameters[i, TICK], left))
