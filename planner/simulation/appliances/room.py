"""A room with a thermostat of several stages, and what heats or cools it.

The room is sized by its loads' own use, so that plan and simulation agree by physics: it loses UA
per degree such that at the design temperature its loads together run their full duty, and is warmed
by sun and people so that at the balance temperature it rests at the set point. How fast it drifts
follows from the construction level "normal" of `planner.physics.thermal`.

The first stage switches on 1 degF behind the set point and off 1 degF beyond it. Stage k behind it
(k = 1, 2 ...) switches on when the room is 2·k degF behind the set point and off when it is
2·(k − 1) degF behind (common practice, no source). Behind means too warm where a room is cooled,
too cold where it is heated.

The room is kept in the row of its first stage, whose events name all stages; a further stage has a
row with its own heat and thresholds and never looks at itself.
"""

from __future__ import annotations

from planner.arrays import FloatRows, Floats
from planner.compiled import compiled
from planner.physics.comfort import COMFORT_DEGF, farthest_livable_degf
from planner.physics.drift import FURNISHED_AIR, STOREY_FT, USUAL_FLOOR_FT2
from planner.physics.thermal import (
    AIR_BTU_PER_FT3_DEGF,
    ENVELOPES,
    HOUSE_MASS_BTU_PER_FT2_DEGF,
    house_loss_btu_h_degf,
)
from planner.simulation.appliances.losing import average, lose
from planner.simulation.appliances.two_mass import TwoMass, relax, write_step
from planner.simulation.columns import (
    AIR,
    COLUMN,
    DISCOMFORT,
    DRAW,
    FARTHEST,
    GAIN,
    KW,
    LIMIT,
    MASS,
    NEXT,
    OFF_AT,
    ON_AT,
    OUTDOOR,
    POWER,
    RAN,
    SET,
    SIGN,
    SUN,
    SUNSHINE,
    TICK,
    UNLIVABLE_H,
    WANT,
    WORST,
)

PIPE_ABOVE_DEGF = 2.0  # set point of heat tape above its balance; common practice, no source
DIFFERENTIAL_DEGF = 2.0  # between switching on and off; common practice, no source
BEHIND_DEGF = 2.0  # each further stage comes on so much further behind; common practice, no source
SUN_SHARE = 0.3  # of what the sun and people give; common practice, no source
LARGEST_GAIN_DEGF = 8.0  # what sun and people lift a house by; common practice, no source
FILM_BTU_H_FT2_DEGF = 1.46  # interior film (residential model of GridLAB-D, PNNL, open source)
INNER_FT2_PER_FT2 = 2.7
"""Surfaces that face the air of a house over its floor: outer walls without windows and doors,
inner walls of one and a half times the outer ones, the ceiling; of 2,000 ft² on one storey (rule of
GridLAB-D, from memory)."""
TICK_S = 10.0


def _body(floor_ft2: float, loss_btu_h_degf: float) -> TwoMass:
    """Give air and mass of a room of usual construction, by the floor that stands for them."""
    return TwoMass(
        air_btu_degf=FURNISHED_AIR * STOREY_FT * AIR_BTU_PER_FT3_DEGF * floor_ft2,
        mass_btu_degf=HOUSE_MASS_BTU_PER_FT2_DEGF * floor_ft2,
        coupling_btu_h_degf=FILM_BTU_H_FT2_DEGF * INNER_FT2_PER_FT2 * floor_ft2,
        loss_btu_h_degf=loss_btu_h_degf,
    )


def floor_per_loss(time_constant_h: float) -> float:
    """Give the floor per loss at which air and mass together have a time constant.

    In ft²·h·degF/Btu: the time constant over the capacity per floor (derived).
    """
    of_floor = _body(1.0, 1.0)
    return time_constant_h / (of_floor.air_btu_degf + of_floor.mass_btu_degf)


def write_room(
    row: Floats, state: Floats, *, cooling: bool, loss_btu_h_degf: float, balance_degf: float,
    set_degf: float, floor_ft2: float, lived_in: bool = True, time_constant_h: float | None = None,
) -> None:
    """Set up a room at rest at its set point.

    Parameters
    ----------
    row, state : ndarray of float
        Parameters and state of its first stage; changed in place.
    cooling : bool
        Whether it is cooled or heated.
    loss_btu_h_degf : float
        What it loses or gains per degree [Btu/(h·degF)].
    balance_degf : float
        Outdoor temperature at which it rests at its set point [degF].
    set_degf : float
        Set point; where the balance is warmer, the room is held at the balance [degF].
    floor_ft2 : float
        Floor area of the home [ft²]; the drift depends on it only through the shape of a house.
    lived_in : bool
        Whether a person can find it too hot or too cold.
    time_constant_h : float, optional
        Capacity of air and mass over the loss; by construction and floor area if not given [h].
    """
    set_degf = max(set_degf, balance_degf)
    floor = floor_ft2 or USUAL_FLOOR_FT2
    scale = loss_btu_h_degf * floor / house_loss_btu_h_degf(floor, ENVELOPES["normal"])
    if time_constant_h is not None:
        scale = loss_btu_h_degf * floor_per_loss(time_constant_h)
    write_step(_body(scale, loss_btu_h_degf), row[TICK], row)
    lift_degf = set_degf - balance_degf
    row[SUN] = SUN_SHARE * loss_btu_h_degf * min(lift_degf, LARGEST_GAIN_DEGF)
    row[GAIN] = loss_btu_h_degf * lift_degf - row[SUN]
    row[SET], row[SIGN] = set_degf, 1.0 if cooling else -1.0
    row[LIMIT] = farthest_livable_degf(set_degf, cooling=cooling)
    row[FARTHEST] = row[LIMIT] if lived_in else float("inf")
    state[AIR] = state[MASS] = set_degf


def write_stage(
    row: Floats, place: int, heat_btu_h: float, *, behind_degf: float | None = None
) -> None:
    """Set up one stage of a room.

    Parameters
    ----------
    row : ndarray of float
        Its parameters; changed in place.
    place : int
        0 for the first stage.
    heat_btu_h : float
        What it brings into the room while it runs, below 0 if it cools [Btu/h].
    behind_degf : float, optional
        How far behind the set point it comes on, where that is not as usual [degF].
    """
    half = 0.5 * DIFFERENTIAL_DEGF
    row[POWER] = heat_btu_h
    row[ON_AT] = BEHIND_DEGF * place if place else half
    if behind_degf is not None:
        row[ON_AT] = max(half, behind_degf)
    row[OFF_AT] = row[ON_AT] - DIFFERENTIAL_DEGF


@compiled
def step_room(
    i: int, now: float, first: int, last: int, hot: FloatRows, state: FloatRows,
    parameters: FloatRows, minute: FloatRows, m: int, size: Floats, loss: FloatRows,
    depth: FloatRows,
) -> None:
    """Bring the room of load i up to `now` and let its thermostat decide.

    Events `first` to `last` name its stages. A stage with columns of its own has its heat and its
    draw there, which follow the outdoor temperature.
    """
    power_btu_h = 0.0
    for e in range(first, last):
        power_btu_h += brought_btu_h(int(size[e]), parameters[i, TICK], hot, parameters, minute, m)
    relax(i, state, parameters, minute[m, OUTDOOR], parameters[i, GAIN], power_btu_h,
          parameters[i, SUN] * minute[m, SUNSHINE])
    error = parameters[i, SIGN] * (state[i, AIR] - parameters[i, SET])
    for e in range(first, last):
        decide_stage(int(size[e]), error, hot, parameters, minute, m)
    state[i, WORST] = max(state[i, WORST], error)
    average(i, now, error * parameters[i, TICK], depth)
    if error > COMFORT_DEGF:
        state[i, DISCOMFORT] += (error - COMFORT_DEGF) * parameters[i, TICK] / 3600.0
        share = min(1.0, (error - COMFORT_DEGF) / (parameters[i, LIMIT] - COMFORT_DEGF))
        lose(i, now, share * parameters[i, TICK], loss)
    if error > parameters[i, FARTHEST]:
        state[i, UNLIVABLE_H] += parameters[i, TICK] / 3600.0
    hot[NEXT, i] = now + parameters[i, TICK]


@compiled
def brought_btu_h(
    k: int, tick_s: float, hot: FloatRows, parameters: FloatRows, minute: FloatRows, m: int
) -> float:
    """Give the mean heat that stage k has brought since the last look, and begin anew [Btu/h]."""
    column = int(parameters[k, COLUMN])
    heat_btu_h: float = minute[m, column] if column >= 0 else parameters[k, POWER]
    brought: float = heat_btu_h * hot[RAN, k] / tick_s
    hot[RAN, k] = 0.0
    return brought


@compiled
def decide_stage(
    k: int, error: float, hot: FloatRows, parameters: FloatRows, minute: FloatRows, m: int
) -> None:
    """Switch stage k by how far the room is behind [degF]; between its thresholds it stays."""
    if error >= parameters[k, ON_AT]:
        hot[WANT, k] = 1.0
    elif error <= parameters[k, OFF_AT]:
        hot[WANT, k] = 0.0
    column = int(parameters[k, COLUMN])
    if column >= 0:
        hot[DRAW, k] = minute[m, column + 1] * hot[WANT, k]
    else:
        hot[DRAW, k] = parameters[k, KW] * hot[WANT, k]
