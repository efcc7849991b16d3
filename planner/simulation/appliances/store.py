"""A need that builds up and is worked off: a sump pit, a dehumidifier, a spa, a fish tank.

Need is counted in seconds of running. It grows with the share of the time that the load has to
run, and shrinks while it runs; a pit is one whose need is water.
"""

from __future__ import annotations

from planner.arrays import FloatRows
from planner.compiled import compiled
from planner.simulation.appliances.losing import lose
from planner.simulation.columns import (
    BAD,
    COLUMN,
    DRAW,
    FULL_AT,
    KW,
    LOST,
    MISSED,
    NEED,
    NEXT,
    RAN,
    START_AT,
    TICK,
    WANT,
)

BATCH_S = 600.0  # need at which an appliance starts; common practice, no source
TICK_S = 10.0
PIT_BATCH_S = 60.0  # a pit is pumped out in about a minute; common practice, no source
PIT_ROOM_S = 180.0  # what a pit holds above its float switch; common practice, no source
PIT_TICK_S = 5.0


@compiled
def step_store(
    i: int, now: float, hot: FloatRows, state: FloatRows, parameters: FloatRows, minute: FloatRows,
    m: int, loss: FloatRows,
) -> None:
    """Bring store i up to `now`.

    What does not fit is lost; each time that it begins to overflow counts as missed once.
    """
    state[i, NEED] += parameters[i, TICK] * minute[m, int(parameters[i, COLUMN])] - hot[RAN, i]
    if state[i, NEED] > parameters[i, FULL_AT]:
        state[i, LOST] += state[i, NEED] - parameters[i, FULL_AT]
        lose(i, now, state[i, NEED] - parameters[i, FULL_AT], loss)
        state[i, NEED] = parameters[i, FULL_AT]
        state[i, MISSED] += 1.0 - state[i, BAD]
        state[i, BAD] = 1.0
    elif state[i, NEED] < parameters[i, START_AT]:
        state[i, BAD] = 0.0
    if state[i, NEED] >= parameters[i, START_AT]:
        hot[WANT, i] = 1.0
    elif state[i, NEED] <= 0.0:
        hot[WANT, i] = 0.0
    hot[DRAW, i] = parameters[i, KW] * hot[WANT, i]
    hot[NEXT, i] = now + parameters[i, TICK]
