"""The main breaker of the generator: it trips the sooner the larger the current."""

from __future__ import annotations

from math import inf, log

from numba import njit

TRIP_HEAT = 1.1025
"""Heat at which the breaker trips, in units of the heat of its rated current: 1.05², since it must
carry its rating for ever and trip somewhat above it (common practice, no source)."""


@njit(cache=True)
def warmer(heat: float, share: float, time_constant_s: float) -> float:
    """Give the heat of a breaker one second later.

    Parameters
    ----------
    heat : float
        In units of the final heat at rated current.
    share : float
        Current as a share of the rating.
    time_constant_s : float
        Thermal time constant [s].

    Notes
    -----
    First order towards share²: Δ = (share² − heat) / τ, for a step that is short against τ.
    """
    return heat + (share * share - heat) / time_constant_s


@njit(cache=True)
def cooled(heat: float, share: float, seconds: int, time_constant_s: float) -> float:
    """Heat of a breaker after seconds at one current: `warmer`, as often as that."""
    final = share * share
    return final + (heat - final) * (1.0 - 1.0 / time_constant_s) ** seconds


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
