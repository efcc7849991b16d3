"""House and water tank as first-order bodies, in closed form: how long comfort outlasts power.

Figures of the house are those of the residential model of GridLAB-D (PNNL, US Department of Energy,
open source), read in a secondary copy whose version was not noted.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import exp, inf, log, sqrt

from planner.physics.fuel import BTU_PER_KWH

WATER_BTU_PER_GAL_DEGF = 8.33
"""Heat capacity of water [Btu/(gal·degF)]: 8.33 lb/gal at room temperature, 1 Btu/(lb·degF) (common
practice, no source; half a percent above water at 90 degF)."""

HOUSE_MASS_BTU_PER_FT2_DEGF = 2.0
"""Thermal mass of a house per floor area [Btu/(ft²·degF)] (GridLAB-D)."""

AIR_BTU_PER_FT3_DEGF = 0.0735 * 0.2402
"""Density times specific heat of air at room temperature [Btu/(ft³·degF)] (GridLAB-D)."""


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
"""Insulation levels of GridLAB-D; the floor of "normal" as in an older version (a newer has 11)."""

_DOOR_FT2 = 19.5
"""Area of a door in GridLAB-D [ft²] (from memory)."""


def tank_capacity_btu_degf(tank_gal: float) -> float:
    """Give the heat that warms a full tank by one degree [Btu/degF].

    Parameters
    ----------
    tank_gal : float
        Contents [gal].

    Notes
    -----
    8.33·V (definition of the heat capacity).
    """
    return WATER_BTU_PER_GAL_DEGF * tank_gal


def tank_recovery_gal_h(kw: float, rise_degf: float, efficiency: float = 0.98) -> float:
    """Give the water that an element heats by a rise in an hour [gal/h].

    Parameters
    ----------
    kw : float
        Draw of the element [kW].
    rise_degf : float
        From the inlet to the tap, positive [degF].
    efficiency : float
        Heat into the water per electricity, 0 to 1; 0.98 is common practice, no source.

    Raises
    ------
    ValueError
        If the rise is not positive.

    Notes
    -----
    3412.142·P·η / (8.33·ΔT) (derived from the balance of heat).
    """
    if rise_degf <= 0.0:
        msg = f"Water is heated by a positive rise, not {rise_degf:g} degF."
        raise ValueError(msg)
    return kw * BTU_PER_KWH * efficiency / (WATER_BTU_PER_GAL_DEGF * rise_degf)


def time_constant_h(capacity_btu_degf: float, loss_btu_h_degf: float) -> float:
    """Give the time in which a body comes closer to its surroundings by 63 % [h].

    Parameters
    ----------
    capacity_btu_degf : float
        Heat that warms it by one degree [Btu/degF].
    loss_btu_h_degf : float
        Heat that it loses per degree [Btu/(h·degF)]; without any it takes for ever.

    Notes
    -----
    τ = C / UA (derived: first-order body).
    """
    return capacity_btu_degf / loss_btu_h_degf if loss_btu_h_degf else inf


def equilibrium_degf(ambient_degf: float, heat_btu_h: float, loss_btu_h_degf: float) -> float:
    """Give the temperature at which a body rests under constant heat [degF].

    Parameters
    ----------
    ambient_degf : float
        Of its surroundings [degF].
    heat_btu_h : float
        Into it; negative where it is cooled [Btu/h].
    loss_btu_h_degf : float
        Heat that it loses per degree, positive [Btu/(h·degF)].

    Raises
    ------
    ValueError
        If it loses no heat.

    Notes
    -----
    T∞ = Ta + Q / UA (derived from the balance of heat).
    """
    if loss_btu_h_degf <= 0.0:
        msg = "A body that loses no heat does not come to rest."
        raise ValueError(msg)
    return ambient_degf + heat_btu_h / loss_btu_h_degf


def relaxed_degf(start_degf: float, rest_degf: float, hours: float, constant_h: float) -> float:
    """Give the temperature of a first-order body after a time [degF].

    Parameters
    ----------
    start_degf, rest_degf : float
        At the beginning, and where it would come to rest [degF].
    hours, constant_h : float
        Time that passes, not negative; time constant, positive [h].

    Notes
    -----
    T(t) = T∞ + (T0 − T∞)·exp(−t/τ) (derived: first-order body).
    """
    return rest_degf + (start_degf - rest_degf) * exp(-hours / constant_h)


def hours_until(
    start_degf: float, target_degf: float, rest_degf: float, constant_h: float
) -> float:
    """Give the time until a first-order body reaches a temperature [h]; infinite if it never does.

    Parameters
    ----------
    start_degf, target_degf, rest_degf : float
        At the beginning, to be reached, and where it would come to rest [degF].
    constant_h : float
        Time constant, positive [h].

    Notes
    -----
    t = τ·ln((T0 − T∞) / (T − T∞)) (derived: the inverse of `relaxed_degf`).
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
        Floor area over all storeys, positive [ft²].
    envelope : Envelope
        Level of insulation.
    storeys : int
        At least 1.
    height_ft : float
        Of a storey [ft].
    glazing_share : float
        Share of the walls that is window, 0 to 1.
    doors : int
        Of the whole house.
    aspect : float
        Length over width, positive.

    Notes
    -----
    Σ A/R over roof, wall, floor and doors + windows·U + air changes·volume·ρc, for a rectangular
    house (derived); the usual shape is that of GridLAB-D.
    """
    footprint_ft2 = floor_ft2 / storeys
    perimeter_ft = 2.0 * (1.0 + aspect) * sqrt(footprint_ft2 / aspect)
    gross_ft2 = perimeter_ft * height_ft * storeys
    windows_ft2, doors_ft2 = glazing_share * gross_ft2, doors * _DOOR_FT2
    shell = (footprint_ft2 / envelope.roof_r + footprint_ft2 / envelope.floor_r
             + (gross_ft2 - windows_ft2 - doors_ft2) / envelope.wall_r
             + windows_ft2 * envelope.window_u + doors_ft2 / envelope.door_r)
    return shell + envelope.air_changes_h * floor_ft2 * height_ft * AIR_BTU_PER_FT3_DEGF
