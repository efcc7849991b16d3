"""Area that is lit beyond the floor area of the dwelling: a yard, a barn, a building apart."""

from __future__ import annotations

from planner.facts.home import Home, Load

SAME_FT2 = 1.0
"""Areas that are no further apart are the same, as they are given in whole square feet [ft²]."""


def area_beyond_ft2(home: Home) -> float:
    """Give the area that is lit beyond the floor area of a home [ft²].

    Parameters
    ----------
    home : Home
        Its floor area, and the areas that its loads light.

    Returns
    -------
    float
        0 where the lighting covers no more than the floor. All loads whose area is assumed light
        the floor of the home together.

    Notes
    -----
    The areas of all loads less the floor area (derived).
    """
    given_ft2 = sum(load.code.area_ft2 for load in home.loads if not _is_assumed(load))
    floor_ft2 = max((load.code.area_ft2 for load in home.loads if _is_assumed(load)), default=0.0)
    beyond_ft2 = given_ft2 + floor_ft2 - home.floor_area_ft2
    return beyond_ft2 if beyond_ft2 >= SAME_FT2 else 0.0


def _is_assumed(load: Load) -> bool:
    return any(one.key == "size" for one in load.assumed)
