"""A thermostat and the part of the house that it looks after.

The zone is sized by the load's own use, so that plan and simulation agree by physics: it loses
UA per degree such that at the design temperature the load runs its full duty, and is warmed by
sun and people so that at the balance temperature it rests at the set point. How fast it drifts
follows from the construction level "normal" of `planner.physics.thermal`.
"""

from __future__ import annotations

from planner.arrays import FloatRows, Floats
from planner.compiled import compiled
from planner.facts.home import Use
from planner.physics.fuel import BTU_PER_KWH
from planner.physics.thermal import (
    AIR_BTU_PER_FT3_DEGF,
    ENVELOPES,
    HOUSE_MASS_BTU_PER_FT2_DEGF,
    house_loss_btu_h_degf,
)
from planner.simulation.appliances.two_mass import TwoMass, relax, write_step
from planner.simulation.columns import (
    AIR,
    BAND,
    DISCOMFORT,
    DRAW,
    GAIN,
    KW,
    MASS,
    NEXT,
    OUTDOOR,
    POWER,
    SET,
    SIGN,
    SUN,
    SUNSHINE,
    TICK,
    WANT,
    WORST,
)

COOL_DEGF, HEAT_DEGF = 75.0, 70.0  # set points; common practice, no source
PIPE_ABOVE_DEGF = 2.0  # set point of heat tape above its balance; common practice, no source
DIFFERENTIAL_DEGF = 2.0  # between switching on and off; common practice, no source
COMFORT_DEGF = 3.0  # error beyond which degree-hours of discomfort count; a choice, no source
SUN_SHARE = 0.3  # of what the sun and people give; common practice, no source
LARGEST_GAIN_DEGF = 8.0  # what sun and people lift a house by; common practice, no source
BTU_PER_WH = 10.0  # common practice for air conditioners, no source; only scales the zone
FILM_BTU_H_FT2_DEGF = 1.46  # interior film (residential model of GridLAB-D, PNNL, open source)
AIR_FACTOR = 3.0  # air mass with furnishings (GridLAB-D)
HEIGHT_FT = 8.0
TICK_S = 10.0
USUAL_FLOOR_FT2 = 2000.0  # where the home does not say


def write_zone(
    row: Floats, state: Floats, use: Use, *, kw: float, floor_ft2: float, pipe: bool = False
) -> None:
    """Set up a zone for a load with a ``cooling`` or ``heating`` use.

    Parameters
    ----------
    row, state : ndarray of float
        Parameters and state of the machine; changed in place.
    use : Use
        Balance and design temperature, full duty.
    kw : float
        Draw of the load [kW].
    floor_ft2 : float
        Floor area of the home [ft²]; the drift depends on it only through the shape of a house.
    pipe : bool
        Whether it keeps a pipe from freezing instead of people comfortable.
    """
    cooling = use.kind == "cooling"
    heat_btu_h = kw * (1000.0 * BTU_PER_WH if cooling else BTU_PER_KWH)
    loss = use.full_duty * heat_btu_h / abs(use.design_degf - use.balance_degf)
    set_degf = max(COOL_DEGF, use.balance_degf) if cooling else max(HEAT_DEGF, use.balance_degf)
    if pipe:
        set_degf = use.balance_degf + PIPE_ABOVE_DEGF
    floor = floor_ft2 or USUAL_FLOOR_FT2
    scale = loss * floor / house_loss_btu_h_degf(floor, ENVELOPES["normal"])
    body = TwoMass(
        air_btu_degf=AIR_FACTOR * HEIGHT_FT * AIR_BTU_PER_FT3_DEGF * scale,
        mass_btu_degf=HOUSE_MASS_BTU_PER_FT2_DEGF * scale,
        coupling_btu_h_degf=FILM_BTU_H_FT2_DEGF * scale,
        loss_btu_h_degf=loss,
    )
    write_step(body, row[TICK], row)
    lift_degf = set_degf - use.balance_degf
    row[POWER] = -heat_btu_h if cooling else heat_btu_h
    row[SUN] = SUN_SHARE * loss * min(lift_degf, LARGEST_GAIN_DEGF)
    row[GAIN] = loss * lift_degf - row[SUN]
    row[SET], row[BAND], row[SIGN] = set_degf, DIFFERENTIAL_DEGF, 1.0 if cooling else -1.0
    state[AIR] = state[MASS] = set_degf


@compiled
def step_zone(
    i: int, now: float, hot: FloatRows, state: FloatRows, parameters: FloatRows, minute: FloatRows,
    m: int,
) -> None:
    """Bring zone i up to `now` and let its thermostat decide."""
    relax(i, hot, state, parameters, minute[m, OUTDOOR], parameters[i, GAIN],
          parameters[i, SUN] * minute[m, SUNSHINE])
    error = parameters[i, SIGN] * (state[i, AIR] - parameters[i, SET])
    half = 0.5 * parameters[i, BAND]
    if error >= half:
        hot[WANT, i] = 1.0
        hot[DRAW, i] = parameters[i, KW]
    elif error <= -half:
        hot[WANT, i] = 0.0
        hot[DRAW, i] = 0.0
    state[i, WORST] = max(state[i, WORST], error)
    if error > COMFORT_DEGF:
        state[i, DISCOMFORT] += (error - COMFORT_DEGF) * parameters[i, TICK] / 3600.0
    hot[NEXT, i] = now + parameters[i, TICK]
