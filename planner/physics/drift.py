"""How fast a house drifts without heating or cooling.

Figures are those of the residential model of GridLAB-D (PNNL, US Department of Energy, open
source), read in a secondary copy whose version was not noted.
"""

from __future__ import annotations

from planner.physics.thermal import (
    AIR_BTU_PER_FT3_DEGF,
    HOUSE_MASS_BTU_PER_FT2_DEGF,
    Envelope,
    house_loss_btu_h_degf,
)

FURNISHED_AIR = 3.0
"""Air of a house with its furnishings, over its air alone (GridLAB-D)."""

STOREY_FT = 8.0
"""Height of a storey [ft] (GridLAB-D)."""

USUAL_FLOOR_FT2 = 2000.0
"""Floor of a house that is not said [ft²] (a choice)."""


def house_time_constant_h(floor_ft2: float, envelope: Envelope) -> float:
    """Give how fast a house drifts without heating or cooling, as one mass [h].

    Parameters
    ----------
    floor_ft2 : float
        Floor area, 0 where it is not known: then `USUAL_FLOOR_FT2` [ft²].
    envelope : Envelope
        Level of insulation.

    Notes
    -----
    tau = C / UA (derived), C = floor · (`FURNISHED_AIR` · height · air + mass of the house), UA =
    `house_loss_btu_h_degf`. After tau hours 1/e of a difference to the outdoor temperature remains.
    """
    floor_ft2 = floor_ft2 or USUAL_FLOOR_FT2
    mass = floor_ft2 * (FURNISHED_AIR * STOREY_FT * AIR_BTU_PER_FT3_DEGF
                        + HOUSE_MASS_BTU_PER_FT2_DEGF)
    return mass / house_loss_btu_h_degf(floor_ft2, envelope, height_ft=STOREY_FT)
