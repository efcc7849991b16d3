"""What a house and its water lose and hold: levels of insulation, air, thermal mass.

Figures of the house are those of the residential model of GridLAB-D (PNNL, US Department of Energy,
open source), read in a secondary copy whose version was not noted.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import sqrt

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
