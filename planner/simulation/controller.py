"""The controller: closes modules in priority order where there is room, opens them in reverse.

It knows what the plan says of each load, measures the total on each leg, and is told by each
module whether its load calls and draws. It knows nothing of slots, calls to come or the weather.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.simulation.circuits import Circuits
from planner.simulation.settings import Settings

FITS = -1
NEVER = -10**9
NEXT_SHED_S = 2


class Habits(NamedTuple):
    """Settings of the controller, compiled; whole seconds."""

    spacing_s: int
    averaging_s: float
    overload_s: int
    slight_share: float
    slight_s: int
    shed_frequency: float
    short_cycle_s: int
    minimum_run_s: int
    retry_s: int
    sees_calls: bool


class Memory(NamedTuple):
    """What the controller remembers, changed in place.

    Attributes
    ----------
    closed, on, said : ndarray of bool, shape (n,)
        Module closed (always, for a direct load); the load draws; its waiting is in the log.
    began, stopped, shed : ndarray of int, shape (n,)
        Seconds in which it last began or stopped to draw, was shed.
    now, mean, used : ndarray of float, shape (R,)
        Measured rows, smoothed rows, and what a closing has to be added to.
    counted : ndarray of bool, shape (n,)
        Loads that are part of `used`.
    clock : ndarray of int, shape (4,)
        Second of the last closing, load then closed, seconds of overload, of slight overload.
    """

    closed: Bools
    on: Bools
    said: Bools
    began: Ints
    stopped: Ints
    shed: Ints
    now: Floats
    mean: Floats
    used: Floats
    counted: Bools
    clock: Ints


def habits_of(settings: Settings) -> Habits:
    """Take the controller's part of the settings."""
    return Habits(
        spacing_s=round(settings.spacing_s), averaging_s=settings.averaging_s,
        overload_s=round(settings.overload_s), slight_share=settings.slight_share,
        slight_s=round(settings.slight_s), shed_frequency=settings.shed_frequency,
        short_cycle_s=round(settings.short_cycle_s), minimum_run_s=round(settings.minimum_run_s),
        retry_s=round(settings.retry_s), sees_calls=settings.sees_calls,
    )


def blank_memory(circuits: Circuits) -> Memory:
    """Make the memory of a controller at the loss of the utility: compressors stop at second 0."""
    rows, n = circuits.rated.shape
    return Memory(
        closed=np.ones(n, dtype=np.bool_), on=np.zeros(n, dtype=np.bool_),
        said=np.zeros(n, dtype=np.bool_), began=np.full(n, NEVER), stopped=np.zeros(n, np.int64),
        shed=np.full(n, NEVER), now=np.zeros(rows), mean=np.zeros(rows), used=np.zeros(rows),
        counted=np.zeros(n, dtype=np.bool_), clock=np.array([NEVER, -1, 0, 0], dtype=np.int64),
    )
