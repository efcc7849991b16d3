"""A refrigerator or freezer: air and food in a cold box, a thermostat, doors that are opened."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from planner.arrays import FloatRows, Floats
from planner.compiled import compiled
from planner.physics.fuel import BTU_PER_KWH
from planner.physics.stores import (
    AROUND_DEGF,
    DOOR_SHARE,
    FREEZER_DEGF,
    FREEZER_LOST_DEGF,
    FREEZER_SAFE_H,
    FREEZER_WARM_DEGF,
    FRIDGE_DEGF,
    FRIDGE_SAFE_H,
    FRIDGE_WARM_DEGF,
)
from planner.simulation.appliances.losing import deepen, lose
from planner.simulation.appliances.two_mass import TwoMass, relax, write_step
from planner.simulation.columns import (
    AIR,
    AMBIENT,
    BAND,
    CAPACITY,
    CURRENT,
    DISCOMFORT,
    DRAW,
    F10,
    F11,
    K10,
    KW,
    MASS,
    NEXT,
    PARAMETERS,
    POWER,
    RAN,
    SET,
    SPOILS,
    THAW_KW,
    THAWED,
    TICK,
    WANT,
    WARM_S,
    WORST,
)

DIFFERENTIAL_DEGF = 4.0  # of the air in the box; common practice, no source
COP = 1.5  # heat moved for electricity; common practice, no source; only scales the box
COUPLING = 3.0  # food to air, as a multiple of the loss; common practice, no source
TICK_S = 20.0
THAW_EVERY_S, THAW_S = 8.0 * 3600.0, 20.0 * 60.0
"""The coil is thawed after so much running of the compressor, for so long (common practice, no
source): about once a day."""
SPOILS_S = 2.0 * 3600.0
"""Food that was above its limit for so long on end is lost (US Food and Drug Administration, food
safety during power outages, from memory) [s]."""
AIR_H, FREEZER_AIR_H = 3.0, 6.0  # air and walls: capacity over loss [h]; a choice, no source
DOORS, FREEZER_DOORS = 30, 4  # openings a day; common practice, no source


def _body(freezer: bool, food_h: float, loss: float) -> TwoMass:
    air_h = FREEZER_AIR_H if freezer else AIR_H
    return TwoMass(loss * air_h, loss * food_h, loss * COUPLING, loss)


@lru_cache(maxsize=2)
def food_h(freezer: bool) -> float:
    """Give the food's capacity over the loss of the box [h], found by halving an interval."""
    start = FREEZER_DEGF if freezer else FRIDGE_DEGF
    warm = FREEZER_WARM_DEGF if freezer else FRIDGE_WARM_DEGF
    seconds = 3600.0 * (FREEZER_SAFE_H if freezer else FRIDGE_SAFE_H)
    low, high = 1.0, 500.0
    row = np.zeros(PARAMETERS)
    while high - low > 1e-6:
        middle = (low + high) / 2.0
        write_step(_body(freezer, middle, 1.0), seconds, row)
        food = (row[F10] + row[F11]) * start + row[K10] * AROUND_DEGF
        low, high = (middle, high) if food > warm else (low, middle)
    return high


def write_box(row: Floats, state: Floats, *, kw: float, duty: float, freezer: bool) -> float:
    """Set up a box that runs a share of its hours; returns the heat of all doors of a day [Btu].

    Parameters
    ----------
    row, state : ndarray of float
        Parameters and state of the machine; changed in place.
    kw : float
        Draw while it runs [kW].
    duty : float
        Share of the day that it runs in an ordinary room with its doors opened as usual.
    freezer : bool
        Frozen food, or chilled.

    Notes
    -----
    The capacity of the food is such that behind a closed door it stays cold for as long as
    `FRIDGE_SAFE_H` and `FREEZER_SAFE_H` say, and not longer.
    """
    set_degf = FREEZER_DEGF if freezer else FRIDGE_DEGF
    heat_btu_h = kw * BTU_PER_KWH * COP
    colder_degf = AROUND_DEGF - set_degf
    loss = duty * heat_btu_h * (1.0 - DOOR_SHARE) / colder_degf
    body = _body(freezer, food_h(freezer), loss)
    write_step(body, row[TICK], row)
    row[POWER], row[SET], row[BAND] = -heat_btu_h, set_degf, DIFFERENTIAL_DEGF
    row[CAPACITY], row[AMBIENT] = body.air_btu_degf, AROUND_DEGF
    row[SPOILS] = FREEZER_LOST_DEGF if freezer else FRIDGE_WARM_DEGF
    state[AIR] = state[MASS] = set_degf
    return float(24.0 * duty * heat_btu_h * DOOR_SHARE)


@compiled
def step_box(
    i: int, now: float, last: int, hot: FloatRows, state: FloatRows, parameters: FloatRows,
    start_s: Floats, size: Floats, loss: FloatRows, depth: FloatRows,
) -> None:
    """Bring box i up to `now`; an event is a door that lets `size` Btu into the air.

    Food is lost once, when it has been too warm for too long.

    `THAWED` counts the seconds that the compressor ran since its coil was last thawed, and below 0
    those that the heater still has to run; the compressor rests meanwhile.
    """
    if parameters[i, THAW_KW] > 0.0:
        if state[i, THAWED] < 0.0:
            state[i, THAWED] = min(0.0, state[i, THAWED] + hot[RAN, i])
            hot[RAN, i] = 0.0
        else:
            state[i, THAWED] += hot[RAN, i]
            if state[i, THAWED] >= THAW_EVERY_S:
                state[i, THAWED] = -THAW_S
    power_btu_h = parameters[i, POWER] * hot[RAN, i] / parameters[i, TICK]
    relax(i, state, parameters, parameters[i, AMBIENT], 0.0, power_btu_h, 0.0)
    e = int(state[i, CURRENT])
    while e < last and start_s[e] <= now:
        state[i, AIR] += size[e] / parameters[i, CAPACITY]
        e += 1
    state[i, CURRENT] = e
    error = state[i, AIR] - parameters[i, SET]
    half = 0.5 * parameters[i, BAND]
    if error >= half:
        hot[WANT, i] = 1.0
        hot[DRAW, i] = parameters[i, KW]
    elif error <= -half:
        hot[WANT, i] = 0.0
        hot[DRAW, i] = 0.0
    if state[i, THAWED] < 0.0:
        hot[WANT, i] = 1.0
        hot[DRAW, i] = parameters[i, THAW_KW]
    elif hot[WANT, i] > 0.0:
        hot[DRAW, i] = parameters[i, KW]
    state[i, WORST] = max(state[i, WORST], state[i, MASS])
    warm = FREEZER_WARM_DEGF if parameters[i, SET] < FREEZER_WARM_DEGF else FRIDGE_WARM_DEGF
    if state[i, MASS] > warm:
        state[i, DISCOMFORT] += (state[i, MASS] - warm) * parameters[i, TICK] / 3600.0
    deepen(i, now, state[i, MASS], depth)
    spoil(i, now, state, parameters, loss)
    hot[NEXT, i] = now + parameters[i, TICK]


@compiled
def spoil(i: int, now: float, state: FloatRows, parameters: FloatRows, loss: FloatRows) -> None:
    """Count the seconds on end for which the food of box i is too warm; it is lost once."""
    if state[i, WARM_S] < 0.0:
        return
    if state[i, MASS] <= parameters[i, SPOILS]:
        state[i, WARM_S] = 0.0
        return
    state[i, WARM_S] += parameters[i, TICK]
    if state[i, WARM_S] > SPOILS_S:
        state[i, WARM_S] = -1.0
        lose(i, now, 1.0, loss)
