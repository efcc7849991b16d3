"""A car that comes home, charges until it is full and leaves again.

Where miles are promised by an hour, what is missing then is kept, wherever the car is.
What a night could not charge is still missing the next evening; it counts as given up at the
moment the car leaves.
"""

from __future__ import annotations

import numpy as np

from planner.arrays import FloatRows, Floats
from planner.compiled import compiled
from planner.simulation.appliances.losing import deepen, lose
from planner.simulation.columns import (
    BATTERY,
    BY_S,
    CURRENT,
    DEFICIT,
    DRAW,
    KW,
    LEAVES,
    LOST,
    MISSED,
    NEXT,
    RAN,
    TICK,
    WANT,
    WANTED_KWH,
    WORST,
)

FULL_ENOUGH_KWH = 0.1  # a third of a mile short does not count as missed; no source
TICK_S = 10.0
DAY_S = 86400.0
NOTHING_PROMISED = -1.0


@compiled
def step_vehicle(
    i: int, now: float, last: int, hot: FloatRows, state: FloatRows, parameters: FloatRows,
    start_s: Floats, length_s: Floats, size: Floats, loss: FloatRows, depth: FloatRows,
) -> None:
    """Bring charger i up to `now`; an event is a stay, `size` the kWh that the car drove.

    When the car leaves, it loses the share that is missing of what the family wants in it.
    """
    state[i, DEFICIT] = max(0.0, state[i, DEFICIT] - hot[RAN, i] * parameters[i, KW] / 3600.0)
    if now >= state[i, LEAVES] > -np.inf:
        if state[i, DEFICIT] > 0.0:
            state[i, LOST] += state[i, DEFICIT] * 3600.0 / parameters[i, KW]
        if state[i, DEFICIT] > FULL_ENOUGH_KWH:
            state[i, MISSED] += 1.0
        wanted = parameters[i, WANTED_KWH]
        short = max(0.0, wanted - (parameters[i, BATTERY] - state[i, DEFICIT]))
        if short > 0.0:
            lose(i, state[i, LEAVES], short / wanted, loss)
        deepen(i, state[i, LEAVES], state[i, DEFICIT], depth)
        state[i, LEAVES] = -np.inf
    since = (now + DAY_S - parameters[i, BY_S]) % DAY_S
    if parameters[i, BY_S] >= 0.0 and since < 1.0:
        state[i, WORST] = max(state[i, WORST], state[i, DEFICIT])
    e = int(state[i, CURRENT])
    while e < last and start_s[e] <= now:
        state[i, DEFICIT] = min(parameters[i, BATTERY], state[i, DEFICIT] + size[e])
        state[i, LEAVES] = start_s[e] + length_s[e]
        e += 1
    state[i, CURRENT] = e
    home = state[i, LEAVES] > now
    hot[WANT, i] = 1.0 if home and state[i, DEFICIT] > 0.0 else 0.0
    hot[DRAW, i] = parameters[i, KW] * hot[WANT, i]
    following = start_s[e] if e < last else np.inf
    if not home:
        hot[NEXT, i] = following
    elif hot[WANT, i] > 0.0:
        left = np.ceil(state[i, DEFICIT] * 3600.0 / parameters[i, KW])
        hot[NEXT, i] = now + max(1.0, min(parameters[i, TICK], left))
    else:
        hot[NEXT, i] = min(state[i, LEAVES], following)
    if parameters[i, BY_S] >= 0.0:
        hot[NEXT, i] = min(hot[NEXT, i], now + DAY_S - since)
