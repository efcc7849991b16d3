"""A water pump with a pressure tank: taps empty it to the cut-in, the pump fills it to the cut-out.

Without power the taps run dry when the tank is at the cut-in; that water is lost.
"""

from __future__ import annotations

from planner.arrays import FloatRows, Floats
from planner.compiled import compiled
from planner.physics.stores import PUMP_GAL_MIN
from planner.simulation.appliances.losing import lose
from planner.simulation.columns import (
    BAD,
    CURRENT,
    DRAW,
    DRAWDOWN,
    KW,
    LOST,
    MISSED,
    NEXT,
    PUMP,
    RAN,
    TICK,
    VOLUME,
    WANT,
)

PUMP_GAL_S = PUMP_GAL_MIN / 60.0
TAPS_SHARE = 0.5  # flow of the taps as a share of the pump's; common practice, no source
TICK_S = 5.0


@compiled
def step_pressure(
    i: int, now: float, last: int, hot: FloatRows, state: FloatRows, parameters: FloatRows,
    start_s: Floats, length_s: Floats, size: Floats,
    loss: FloatRows,
) -> None:
    """Bring pump i and its tank up to `now`; `size` is gal/s at the taps.

    It loses seconds in which taps run dry. A use of water counts as missed if less than half of it
    flowed.
    """
    state[i, VOLUME] += hot[RAN, i] * parameters[i, PUMP]
    before = now - parameters[i, TICK]
    floor = -parameters[i, TICK] * parameters[i, PUMP]
    while True:
        e = int(state[i, CURRENT])
        if e >= last or start_s[e] >= now:
            break
        end = start_s[e] + length_s[e]
        state[i, VOLUME] -= max(0.0, min(end, now) - max(start_s[e], before)) * size[e]
        if state[i, VOLUME] < floor:
            state[i, LOST] += (floor - state[i, VOLUME]) / parameters[i, PUMP]
            state[i, BAD] += floor - state[i, VOLUME]
            lose(i, now, (floor - state[i, VOLUME]) / size[e], loss)
            state[i, VOLUME] = floor
        if end > now:
            break
        if state[i, BAD] > 0.5 * length_s[e] * size[e]:
            state[i, MISSED] += 1.0
        state[i, BAD] = 0.0
        state[i, CURRENT] += 1.0
    if state[i, VOLUME] <= 0.0:
        hot[WANT, i] = 1.0
    elif state[i, VOLUME] >= parameters[i, DRAWDOWN]:
        hot[WANT, i] = 0.0
    hot[DRAW, i] = parameters[i, KW] * hot[WANT, i]
    hot[NEXT, i] = now + parameters[i, TICK]
