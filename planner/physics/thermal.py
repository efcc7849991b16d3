"""House and water tank as first-order bodies, in closed form: how long comfort outlasts power."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, inf, log, sqrt

from planner.physics.fuel import BTU_PER_KWH

WATER_BTU_PER_GAL_DEGF = 8.33
"""Heat capacity of water [Btu/(gal·degF)]."""

HOUSE_MASS_BTU_PER_FT2_DEGF = 2.0
"""Thermal mass of a house per floor area (residential model of an open-source feeder simulator of
a national laboratory)."""

AIR_BTU_PER_FT3_DEGF = 0.0735 * 0.2402
"""Density times specific heat of air at room temperature [Btu/(ft³·degF)] (same source)."""


@dataclass(frozen=True, slots=True)
class Envelope:
    """Thermal resistances [degF·ft²·h/Btu], window transmittance and air changes of a house."""

    roof_r: float
    wall_r: float
    floor_r: float
    door_r: float
    window_u: float
    air_changes_h: float


ENVELOPES: Mapping[str, Envelope] = {
    "very little": Envelope(11.0, 4.0, 4.0, 3.0, 1.27, 1.5),
    "little": Envelope(19.0, 11.0, 4.0, 3.0, 0.81, 1.5),
    "below normal": Envelope(19.0, 11.0, 11.0, 3.0, 0.81, 1.0),
    "normal": Envelope(30.0, 11.0, 19.0, 3.0, 0.60, 1.0),
    "above normal": Envelope(30.0, 19.0, 11.0, 3.0, 0.60, 1.0),
    "good": Envelope(30.0, 19.0, 22.0, 5.0, 0.47, 0.5),
}
"""Insulation levels of the same residential model; the floor of "normal" as in its older form."""

_DOOR_FT2 = 19.5
"""Area of a door in the same residential model (from memory)."""


def tank_capacity_btu_degf(tank_gal: float) -> float:
    """Give the heat that warms a full tank by one degree [Btu/degF]."""
    return WATER_BTU_PER_GAL_DEGF * tank_gal


def tank_recovery_gal_h(kw: float, rise_degf: float, efficiency: float = 0.98) -> float:
    """Give the water that an element heats by a rise in an hour [gal/h].

    Raises
    ------
    ValueError
        If the rise is not positive.
    """
    if rise_degf <= 0.0:
        msg = f"Water is heated by a positive rise, not {rise_degf:g} degF."
        raise ValueError(msg)
    return kw * BTU_PER_KWH * efficiency / (WATER_BTU_PER_GAL_DEGF * rise_degf)


def time_constant_h(capacity_btu_degf: float, loss_btu_h_degf: float) -> float:
    """Give the time in which a body comes closer to its surroundings by 63 % [h]."""
    return capacity_btu_degf / loss_btu_h_degf if loss_btu_h_degf else inf


def equilibrium_degf(ambient_degf: float, heat_btu_h: float, loss_btu_h_degf: float) -> float:
    """Give the temperature at which a body rests under constant heat [degF].

    Raises
    ------
    ValueError
        If it loses no heat.
    """
    if loss_btu_h_degf <= 0.0:
        msg = "A body that loses no heat does not come to rest."
        raise ValueError(msg)
    return ambient_degf + heat_btu_h / loss_btu_h_degf


def relaxed_degf(start_degf: float, rest_degf: float, hours: float, constant_h: float) -> float:
    """Give the temperature of a first-order body after a time [degF].

    Notes
    -----
    T(t) = T∞ + (T0 − T∞)·exp(−t/τ).
    """
    return rest_degf + (start_degf - rest_degf) * exp(-hours / constant_h)


def hours_until(
    start_degf: float, target_degf: float, rest_degf: float, constant_h: float
) -> float:
    """Give the time until a first-order body reaches a temperature [h]; infinite if it never does.

    Notes
    -----
    t = τ·ln((T0 − T∞) / (T − T∞)).
    """
    if target_degf == start_degf:
        return 0.0
    if target_degf == rest_degf or (start_degf - rest_degf) * (target_degf - rest_degf) <= 0.0:
        return inf
    ratio = (start_degf - rest_degf) / (target_degf - rest_degf)
    return constant_h * log(ratio) if ratio > 1.0 else inf


def house_loss_btu_h_degf(
    floor_ft2: float,
    envelope: Envelope,
    *,
    storeys: int = 1,
    height_ft: float = 8.0,
    glazing_share: float = 0.15,
    doors: int = 4,
    aspect: float = 1.5,
) -> float:
    """Give the heat that a house loses per degree, envelope and infiltration [Btu/(h·degF)].

    Parameters
    ----------
    floor_ft2 : float
        Floor area over all storeys [ft²].
    envelope : Envelope
        Level of insulation.
    storeys, height_ft, glazing_share, doors, aspect
        Storeys and their height [ft], share of the wall that is window, doors, length over width.

    Notes
    -----
    Σ A/R over roof, wall, floor and doors + windows·U + air changes·volume·ρc, for a rectangular
    house.
    """
    footprint_ft2 = floor_ft2 / storeys
    perimeter_ft = 2.0 * (1.0 + aspect) * sqrt(footprint_ft2 / aspect)
    gross_ft2 = perimeter_ft * height_ft * storeys
    windows_ft2, doors_ft2 = glazing_share * gross_ft2, doors * _DOOR_FT2
    shell = (footprint_ft2 / envelope.roof_r + footprint_ft2 / envelope.floor_r
             + (gross_ft2 - windows_ft2 - doors_ft2) / envelope.wall_r
             + windows_ft2 * envelope.window_u + doors_ft2 / envelope.door_r)
    return shell + envelope.air_changes_h * floor_ft2 * height_ft * AIR_BTU_PER_FT3_DEGF
