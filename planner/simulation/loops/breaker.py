"""The heat of the generator's breaker, second by second or many seconds at once."""

from __future__ import annotations

from planner.compiled import compiled


@compiled
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


@compiled
def cooled(heat: float, share: float, seconds: int, time_constant_s: float) -> float:
    """Heat of a breaker after seconds at one current: `warmer`, as often as that."""
    final = share * share
    return final + (heat - final) * power(1.0 - 1.0 / time_constant_s, seconds)


@compiled
def power(base: float, times: int) -> float:
    """Multiply a number with itself so many times, by squaring: the same on any machine."""
    found = 1.0
    while times > 0:
        if times % 2 == 1:
            found *= base
        base *= base
        times //= 2
    return found
