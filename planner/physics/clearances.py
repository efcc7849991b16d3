"""Distances that are kept around a generator and in front of panels."""

from __future__ import annotations

FROM_OPENINGS_FT, FROM_WALLS_FT = 5.0, 5.0
"""NFPA 37 4.1.4: an engine outdoors stands at least 5 ft from openings in walls and from walls that
burn [ft]; less where the wall resists fire for an hour, or where tests show that a fire in the
enclosure does not light what is outside (exceptions from memory)."""

WORKING_DEPTH_IN, WORKING_WIDTH_IN, WORKING_HEIGHT_IN = 36.0, 30.0, 78.0
"""NEC 110.26(A)(1) to (3) (2017 to 2023), from memory: free space in front of equipment that is
worked on alive, up to 150 V to ground: depth, width (or that of the equipment), height (6½ ft)
[in]."""

TANK_DISTANCES_FT = ((124.0, 0.0), (500.0, 10.0), (2000.0, 25.0))
"""NFPA 58 Table 6.4.1.1 (from memory): water capacity of a propane tank above ground up to [gal],
its distance from important buildings and from a line that can be built upon [ft]."""
FROM_RELIEF_FT = 10.0
"""NFPA 58 6.4 (from memory): from the relief valve and the filling connection of such a tank to a
source of ignition or an intake of air [ft]."""


def tank_distance_ft(gal: float) -> float:
    """Give how far a propane tank above ground stands from buildings and property lines [ft].

    Parameters
    ----------
    gal : float
        Water capacity, positive and up to 2000 [gal].

    Raises
    ------
    ValueError
        If it is larger than the table's 2000 gal.

    References
    ----------
    NFPA 58 Table 6.4.1.1 (from memory).
    """
    for most_gal, distance_ft in TANK_DISTANCES_FT:
        if gal <= most_gal:
            return distance_ft
    msg = f"The table ends at 2000 gal, below {gal:g} gal: ask the supplier."
    raise ValueError(msg)
