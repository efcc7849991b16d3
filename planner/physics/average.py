"""The average load of a standby generator over a day, as its rating counts it."""

from __future__ import annotations

from collections.abc import Sequence

PERMITTED_AVERAGE = 0.70
"""ISO 8528-1 (2005), as commonly quoted, from memory: average over 24 h of an emergency standby
power rating, share of it, unless the maker agrees to more."""

LEAST_COUNTED = 0.30
"""ISO 8528-1 (2005), as commonly quoted, from memory: less than 30 % of it counts as 30 %."""


def counted_average(load_kw: Sequence[float], rated_kw: float) -> float:
    """Give the average load of equal stretches of a day as a share of the rating [1].

    Parameters
    ----------
    load_kw : sequence of float, shape (n,)
        Mean load in each stretch, none negative [kW]. Shorter stretches never count less, since
        what lies below 30 % is raised.
    rated_kw : float
        Rating at the site, positive [kW].

    Raises
    ------
    ValueError
        If there is no stretch, a negative load or no rating.

    Notes
    -----
    average = Σ max(P_i, 0.30 · P_rated) / (n · P_rated).

    References
    ----------
    ISO 8528-1 (2005), as commonly quoted, from memory.
    """
    if not len(load_kw) or rated_kw <= 0.0 or min(load_kw) < 0.0:
        msg = f"An average asks for loads of 0 kW or more and a positive rating, not {rated_kw:g}."
        raise ValueError(msg)
    return sum(max(float(kw), LEAST_COUNTED * rated_kw) for kw in load_kw) / (
        len(load_kw) * rated_kw)
