"""A storage water heater: two layers of water, two elements that take turns, taps that mix.

The lower layer gets the cold water, the upper one feeds the taps. The upper element goes first;
never both. A tap mixes to its own temperature, so a draw takes the same heat from a hot tank
as from a very hot one, and runs cold when the tank cannot give it.
"""

from __future__ import annotations

from math import exp

import numpy as np

from planner.arrays import FloatRows, Floats
from planner.compiled import compiled
from planner.physics.fuel import BTU_PER_KWH
from planner.physics.stores import (
    AROUND_DEGF,
    ELEMENT_EFFICIENCY,
    INLET_DEGF,
    SHOWER_DEGF,
    TANK_BAND_DEGF,
    TANK_LOSS_BTU_H_DEGF,
    TANK_SET_DEGF,
)
from planner.physics.thermal import WATER_BTU_PER_GAL_DEGF
from planner.simulation.appliances.losing import lose
from planner.simulation.columns import (
    AROUND,
    BAD,
    CURRENT,
    DRAW,
    HEAT,
    INLET,
    KEEP,
    KW,
    LOST,
    LOWER,
    LOWER_GAL,
    MISSED,
    NEXT,
    RAN,
    TANK_BAND,
    TANK_SET,
    TAP,
    TICK,
    UPPER,
    UPPER_GAL,
    WANT,
    WORST,
)

COLD_DEGF = 95.0  # below this a draw counts as cold; a choice, no source
UPPER_SHARE = 1.0 / 3.0  # common practice, no source
TICK_S = 20.0


def write_tank(
    row: Floats, state: Floats, *, kw: float, gal: float,
    loss_btu_h_degf: float = TANK_LOSS_BTU_H_DEGF, efficiency: float = ELEMENT_EFFICIENCY,
    set_degf: float = TANK_SET_DEGF,
) -> None:
    """Set up a tank that is hot.

    Parameters
    ----------
    row, state : ndarray of float
        Parameters and state of the machine; changed in place.
    kw : float
        Each of its two elements [kW].
    gal : float
        Contents [gal].
    loss_btu_h_degf, efficiency, set_degf : float
        Loss to the room, heat into the water per electricity, thermostat.
    """
    row[UPPER_GAL], row[LOWER_GAL] = gal * UPPER_SHARE, gal * (1.0 - UPPER_SHARE)
    row[INLET], row[TANK_SET], row[TANK_BAND] = INLET_DEGF, set_degf, TANK_BAND_DEGF
    row[AROUND], row[TAP] = AROUND_DEGF, SHOWER_DEGF
    constant_h = WATER_BTU_PER_GAL_DEGF * gal / loss_btu_h_degf if loss_btu_h_degf else np.inf
    row[KEEP] = exp(-row[TICK] / 3600.0 / constant_h)
    row[HEAT] = kw * BTU_PER_KWH * efficiency / 3600.0
    state[UPPER] = state[LOWER] = set_degf
    state[WORST] = SHOWER_DEGF


@compiled
def _draw_water(
    i: int, now: float, last: int, state: FloatRows, parameters: FloatRows, start_s: Floats,
    length_s: Floats, size: Floats, loss: FloatRows,
) -> None:
    """Let the taps run until `now`; `size` is gal/s at the tap. What they lack is lost [kWh]."""
    before = now - parameters[i, TICK]
    inlet, tap = parameters[i, INLET], parameters[i, TAP]
    while True:
        e = int(state[i, CURRENT])
        if e >= last or start_s[e] >= now:
            return
        end = start_s[e] + length_s[e]
        seconds = min(end, now) - max(start_s[e], before)
        if seconds > 0.0:
            upper, lower = state[i, UPPER], state[i, LOWER]
            gal = seconds * size[e] * (tap - inlet) / (max(upper, tap) - inlet)
            if upper < tap:
                state[i, WORST] = min(state[i, WORST], upper)
                lacks_btu = gal * WATER_BTU_PER_GAL_DEGF * (tap - upper)
                state[i, LOST] += lacks_btu / parameters[i, HEAT]
                lose(i, now, lacks_btu / BTU_PER_KWH, loss)
                if upper < COLD_DEGF:
                    state[i, BAD] = 1.0
            state[i, UPPER] = upper + gal / parameters[i, UPPER_GAL] * (lower - upper)
            state[i, LOWER] = lower + gal / parameters[i, LOWER_GAL] * (inlet - lower)
        if end > now:
            return
        state[i, MISSED] += state[i, BAD]
        state[i, BAD] = 0.0
        state[i, CURRENT] += 1.0


@compiled
def step_tank(
    i: int, now: float, last: int, hot: FloatRows, state: FloatRows, parameters: FloatRows,
    start_s: Floats, length_s: Floats, size: Floats, loss: FloatRows,
) -> None:
    """Bring tank i up to `now`; WANT is 1 for the upper element, 2 for the lower one."""
    heat = hot[RAN, i] * parameters[i, HEAT] / WATER_BTU_PER_GAL_DEGF
    upper_gal, lower_gal = parameters[i, UPPER_GAL], parameters[i, LOWER_GAL]
    want = hot[WANT, i]
    if want > 1.5:
        state[i, LOWER] += heat / lower_gal
    else:
        state[i, UPPER] += heat / upper_gal
    room, keep = parameters[i, AROUND], parameters[i, KEEP]
    state[i, UPPER] = room + (state[i, UPPER] - room) * keep
    state[i, LOWER] = room + (state[i, LOWER] - room) * keep
    _draw_water(i, now, last, state, parameters, start_s, length_s, size, loss)
    upper, lower = state[i, UPPER], state[i, LOWER]
    if lower > upper:
        upper = (upper_gal * upper + lower_gal * lower) / (upper_gal + lower_gal)
        lower = upper
        state[i, UPPER] = state[i, LOWER] = upper
    hot_enough = parameters[i, TANK_SET]
    cold = hot_enough - parameters[i, TANK_BAND]
    if upper < cold or (0.5 < want < 1.5 and upper < hot_enough):
        hot[WANT, i] = 1.0
    elif lower < cold or (want > 0.5 and lower < hot_enough):
        hot[WANT, i] = 2.0
    else:
        hot[WANT, i] = 0.0
    hot[DRAW, i] = parameters[i, KW] if hot[WANT, i] > 0.0 else 0.0
    hot[NEXT, i] = now + parameters[i, TICK]
