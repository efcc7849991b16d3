"""The main breaker of the generator: it trips the sooner the larger the current."""

from __future__ import annotations

from math import inf, log

TRIP_HEAT = 1.1025
"""Heat at which the breaker trips, in units of the heat of its rated current: 1.05², since it must
carry its rating for ever and trip somewhat above it (common practice, no source)."""


def trip_time_s(share: float, time_constant_s: float, heat: float = 0.0) -> float:
    """Give the time to a trip at a steady current [s]; infinite if it never trips.

    Parameters
    ----------
    share : float
        Current as a share of the rating.
    time_constant_s : float
        Thermal time constant [s].
    heat : float
        At the beginning; 1 after long service at rated current.

    Notes
    -----
    t = τ ln((share² − heat) / (share² − trip heat)), the solution of `warmer` (derived).
    """
    if heat >= TRIP_HEAT:
        return 0.0
    final = share * share
    return time_constant_s * log((final - heat) / (final - TRIP_HEAT)) if final > TRIP_HEAT else inf
