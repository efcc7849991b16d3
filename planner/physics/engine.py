"""What an engine gives beyond its rating: nothing but the energy in its turning parts.

A naturally aspirated engine holds torque, so its power falls with its speed. A load above its
torque pulls it down within tenths of a second, and only what turns can help until a module opens.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from planner.arrays import Bools, Floats

NOMINAL_HZ = 60.0
KNEE_HZ = 57.0
"""Below it the regulator lets the voltage follow the frequency (common practice, no source)."""
ALLOWED_FALL = 0.20
"""How far a start may pull the speed down, as a share: 48 Hz, for which the under-frequency
protection must be slow enough (chosen)."""
HALVINGS = 14
"""Of the interval in which a start room lies: to a ten thousandth of the rating (a choice)."""
LEAST_SHARE = 0.30
"""Least share of the rating that a stretch counts in an average of power (ISO 8528-1, edition not
noted, as commonly quoted)."""


@lru_cache(maxsize=8192)
def start_room_kw(
    start_kw: float, start_s: float, derated_kw: float, kva: float, *, inertia_s: float,
    governor_s: float, allowed_fall: float = ALLOWED_FALL,
) -> float:
    """Give the other load on which a motor may be started [kW]; below 0 it cannot be.

    Parameters
    ----------
    start_kw, start_s : float
        What the start takes from the engine [kW], above 0, and how long [s].
    derated_kw, kva : float
        Of the generator at its site [kW, kVA]; positive.
    inertia_s, governor_s : float
        Its H, and the lag of governor and intake [s]; positive.
    allowed_fall : float
        Share of its speed that the engine may lose, 0 to below 1.

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    The start takes p·t from what turns, and the engine gives what torque it has left beside the
    others, (1 − x/2)·K at the mean speed, with the lag of the throttle:
    p·t − ((1 − x/2)·K − others)·(t − T_g·(1 − exp(−t / T_g))) ≤ (1 − (1 − x)²)·H·S, where t is the
    start, or ends when the engine gives as much as it takes; x is the allowed fall, but no more
    than to the point from which the others alone would pull the engine down, 1 − others / K. All
    derived from the swing equation; that the load falls with the voltage below the knee, and that
    the speed begins above 60 Hz, is left as margin. The left side grows with the others and the
    right side falls, so they are found by halving an interval. Confirmed on simulated engines by
    `tests/benchmarks/engine.py`.
    """
    found = start_rooms_kw(np.array([start_kw]), np.array([start_s]), derated_kw, kva,
                           inertia_s=inertia_s, governor_s=governor_s, allowed_fall=allowed_fall)
    return float(found[0])


def start_rooms_kw(
    start_kw: Floats, start_s: Floats, derated_kw: float, kva: float, *,
    inertia_s: float | Floats, governor_s: float | Floats, allowed_fall: float = ALLOWED_FALL,
) -> Floats:
    """Give the other load on which each of many starts succeeds [kW]; below 0 none does.

    As `start_room_kw`, and for engines whose H or lag is not the same in all.

    Parameters
    ----------
    start_kw, start_s : ndarray of float
        Of one shape, each above 0 [kW, s].
    derated_kw, kva : float
        As there.
    inertia_s, governor_s : float or ndarray of float
        As there; of a shape that fits those of the starts.
    allowed_fall : float
        As there.

    Raises
    ------
    ValueError
        If an argument is out of range.
    """
    _need(bool(np.all(start_kw > 0.0) and np.all(start_s > 0.0) and np.all(inertia_s > 0.0)
               and np.all(governor_s > 0.0)) and derated_kw > 0.0 and kva > 0.0
          and 0.0 <= allowed_fall < 1.0,
          "a start, a rating, H and the lag are positive, the fall from 0 to below 1")

    def fits(others_kw: Floats) -> Bools:
        fall = np.minimum(allowed_fall, 1.0 - others_kw / derated_kw)
        stored_kws = (1.0 - (1.0 - fall) ** 2) * inertia_s * kva
        left_kw = (1.0 - 0.5 * fall) * derated_kw - others_kw
        return np.asarray(_drawn_kws(start_kw, start_s, left_kw, governor_s) <= stored_kws)

    shape = np.broadcast_shapes(start_kw.shape, np.shape(inertia_s), np.shape(governor_s))
    low_kw, high_kw = np.zeros(shape), np.full(shape, derated_kw)
    for _ in range(HALVINGS):
        middle_kw = 0.5 * (low_kw + high_kw)
        here = fits(middle_kw)
        low_kw, high_kw = np.where(here, middle_kw, low_kw), np.where(here, high_kw, middle_kw)
    return np.where(fits(np.zeros(shape)), low_kw, -start_kw)


def _drawn_kws(
    start_kw: Floats, start_s: Floats, left_kw: Floats, governor_s: float | Floats
) -> Floats:
    """Energy that a start takes from what turns before the engine gives as much [kW·s]."""
    enough = start_kw < left_kw
    part = np.where(enough, start_kw / np.where(enough, left_kw, 1.0), 0.0)
    seconds = np.where(enough, np.minimum(start_s, -governor_s * np.log1p(-part)), start_s)
    given_s = seconds - governor_s * -np.expm1(-seconds / governor_s)
    return np.asarray(start_kw * seconds - left_kw * given_s)


_RELIEF = 0.30  # of the rating, by heating elements and motors; fitted, see `pick_up_kw`


def pick_up_kw(
    derated_kw: float, kva: float, *, inertia_s: float, shed_s: float, electronic_share: float = 1.0
) -> float:
    """Give the load that an engine stands until modules open, if nobody announced it [kW].

    Parameters
    ----------
    derated_kw, kva : float
        Of the generator at its site [kW, kVA]; positive.
    inertia_s : float
        Its H [s]; positive.
    shed_s : float
        From the limit of the starts, 48 Hz, until all modules have opened [s]; positive.
    electronic_share : float
        Share of the load that is electronics, 0 to 1; what is not known is.

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    K·min(1.5, 0.65 + 0.30·H·S / (K·t) + 0.30·(1 − electronics)): between 48 and 30 Hz the engine
    gives 0.65·K in the mean and what turns (0.8² − 0.5²)·H·S (derived); what the lag of the
    throttle takes of it, and the relief by heating elements and motors, are fitted.

    References
    ----------
    Fitted to simulated engines, `tests/benchmarks/engine.py`; common practice, no source.
    """
    _need(derated_kw > 0.0 and kva > 0.0 and inertia_s > 0.0 and shed_s > 0.0
          and 0.0 <= electronic_share <= 1.0,
          "a rating, H and the seconds are positive, a share from 0 to 1")
    turns = 0.30 * inertia_s * kva / (derated_kw * shed_s)
    return derated_kw * min(1.5, 0.65 + turns + _RELIEF * (1.0 - electronic_share))


ELECTRONIC_MORE = 1.0 / 3.0
"""By so much more than it draws counts what gives no relief when voltage falls (derived, see
`weighed_pick_up_kw`)."""


def weighed_pick_up_kw(derated_kw: float, kva: float, *, inertia_s: float, shed_s: float) -> float:
    """Give the pick-up limit as one on a sum in which electronics count by a third more [kW].

    Parameters
    ----------
    derated_kw, kva, inertia_s, shed_s : float
        As in `pick_up_kw`.

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    With x the load and y its electronics, both over the derated rating, `pick_up_kw` asks for
    x + 0.3·y/x ≤ c, where c is the limit without electronics. x + y/3 ≤ min(c, 4/3·(c − 0.3)) is
    never looser (derived): from x = 0.9 on y/3 is the larger of the two; below, the left side is
    convex in x between all electronics, x = 3/4 of the limit, and 0.9, and holds at both ends.
    Unlike the share, the sum only grows with what is on.
    """
    most = pick_up_kw(derated_kw, kva, inertia_s=inertia_s, shed_s=shed_s, electronic_share=0.0)
    return min(most, (most - _RELIEF * derated_kw) * (1.0 + ELECTRONIC_MORE))


def settled_hz(overload: float) -> float:
    """Give the frequency at which heating elements alone settle an engine beyond its torque [Hz].

    Parameters
    ----------
    overload : float
        Load at rated voltage over the derated rating; positive. Up to 1 nothing is pulled down.

    Raises
    ------
    ValueError
        If it is not positive.

    Notes
    -----
    Shaft power K·f/60 meets L·(f/57)² at f = 57² / (60·L/K) (derived). Motors and electronics give
    less relief, or none: then nothing settles.
    """
    _need(overload > 0.0, "an overload is positive")
    return NOMINAL_HZ if overload <= 1.0 else KNEE_HZ * KNEE_HZ / (NOMINAL_HZ * overload)


def no_return_hz(load_kw: float, derated_kw: float) -> float:
    """Give the frequency below which a load that gives no relief stalls an engine [Hz].

    Parameters
    ----------
    load_kw, derated_kw : float
        Load, not negative, and rating at the site, positive [kW].

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    Full torque gives K·f/60, so below f = 60·load/K the speed only falls (derived).
    """
    _need(load_kw >= 0.0 and derated_kw > 0.0, "a load is not negative, a rating positive")
    return NOMINAL_HZ * load_kw / derated_kw


def load_factor(kw: Sequence[float], rating_kw: float) -> float:
    """Give the average power over a running time, by the rule for a standby rating [0-1].

    Parameters
    ----------
    kw : sequence of float
        Power of stretches of equal length while the engine runs [kW]; not empty.
    rating_kw : float
        Rating at the site [kW]; positive.

    Raises
    ------
    ValueError
        If an argument is out of range.

    References
    ----------
    ISO 8528-1 (edition not noted, as commonly quoted): a stretch below 30 % of the rating counts as
    30 %, and times at standstill do not count.
    """
    _need(len(kw) > 0 and rating_kw > 0.0, "there is power to average, and a rating is positive")
    return sum(max(one / rating_kw, LEAST_SHARE) for one in kw) / len(kw)


def _need(holds: bool, what: str) -> None:
    if not holds:
        msg = f"Out of range: {what}."
        raise ValueError(msg)
