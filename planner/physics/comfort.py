"""What air temperatures people can live with while the power is out.

The livable band, 54 to 86 degF, is one of standard effective temperature (pilot credit IPpc100 for
passive survivability, from memory). Here it is held against the air: at 50 % humidity, in still air
and the clothing of the season, air of 86 degF feels like 85 and air of 54 degF like 61, so that
errs on the safe side (`tests/reference/test_comfort.py`).
"""

from __future__ import annotations

COLDEST_LIVABLE_DEGF, WARMEST_LIVABLE_DEGF = 54.0, 86.0
"""The livable band of standard effective temperature [degF]."""

COMFORT_DEGF = 3.0
"""Degrees behind the set point that nobody minds (a choice, no source) [degF]."""

LEAST_BAND_DEGF = 7.0
"""A room is livable at least so far from its set point (a choice, no source) [degF]."""


def farthest_livable_degf(set_degf: float, *, cooling: bool) -> float:
    """Give how far a room may be behind its set point and still be livable [degF].

    Parameters
    ----------
    set_degf : float
        Set point of the thermostat [degF].
    cooling : bool
        Behind means too warm where a room is cooled, too cold where it is heated.

    Notes
    -----
    A choice, no source: to the end of the livable band, or `LEAST_BAND_DEGF`, whichever is farther:
    who keeps a room at 56 degF does not find 53 degF unlivable.
    """
    band_degf = WARMEST_LIVABLE_DEGF - set_degf if cooling else set_degf - COLDEST_LIVABLE_DEGF
    return max(band_degf, LEAST_BAND_DEGF)
