"""The controller: closes modules in priority order where there is room, opens them in reverse.

It knows what the plan says of each load, measures the total on each leg and the frequency, and is
told by each module what that senses: the call of its load, or the current of its circuit while it
is closed, or nothing. It knows nothing of slots, calls to come or the weather.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.simulation.circuits import Circuits
from planner.simulation.generator import STEPS
from planner.simulation.settings import Settings

FITS = -1

# places of `Memory.clock` that others look at
CLOSED_AT, LOW_AT = 0, 4
NEVER = -10**9
NEXT_SHED_S = 2

# places of `Memory.ticks`, in hundredths of a second
SLOW_FOR, FAST_FOR, OPEN_AT = range(3)


class Habits(NamedTuple):
    """Settings of the controller, compiled; whole seconds, and hundredths (`_ticks`, `_tick`)."""

    spacing_s: int
    averaging_s: float
    overload_s: int
    slight_share: float
    slight_s: int
    slow_frequency: float
    slow_ticks: int
    slow_next_ticks: int
    recovering_tick: float
    fast_frequency: float
    fast_after_ticks: int
    fast_act_ticks: int
    short_cycle_s: int
    minimum_run_s: int
    retry_s: int
    equal_s: int
    protector_s: int
    protector_off_s: int
    steady_s: int
    trial_s: int
    idle_s: int
    by_hand_s: int


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
    counted, yields : ndarray of bool, shape (n,)
        Loads that are part of `used`; that are to make room for another.
    clock : ndarray of int, shape (5,)
        Second of the last closing, load then closed, seconds of overload, of slight overload,
        second in which the supply was last not steady.
    open_since, closed_since, tried : ndarray of int, shape (n,)
        Seconds in which a module was last opened, was last closed, last got room for a trial.
    spread : ndarray of int, shape (m,)
        Seconds added to the spacing, by chance.
    pressed : ndarray of bool, shape (n,)
        Compressors that stand against their pressure.
    equal_at, hot_until : ndarray of int, shape (n,)
        Second in which a compressor's pressures are equal, in which its protector has cooled.
    ticks : ndarray of int, shape (3,)
        Hundredths of a second below the frequency of either level; when all modules open, 0 never.
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
    open_since: Ints
    closed_since: Ints
    tried: Ints
    spread: Ints
    pressed: Bools
    equal_at: Ints
    hot_until: Ints
    ticks: Ints
    yields: Bools


def habits_of(settings: Settings) -> Habits:
    """Take the controller's part of the settings."""
    return Habits(
        spacing_s=round(settings.spacing_s), averaging_s=settings.averaging_s,
        overload_s=round(settings.overload_s), slight_share=settings.slight_share,
        slight_s=round(settings.slight_s), slow_frequency=settings.slow_frequency,
        slow_ticks=round(settings.slow_s * STEPS),
        slow_next_ticks=round(settings.slow_next_s * STEPS),
        recovering_tick=settings.recovering / STEPS,
        fast_frequency=settings.fast_frequency,
        fast_after_ticks=round(settings.fast_after_s * STEPS),
        fast_act_ticks=round((settings.fast_s - settings.fast_after_s) * STEPS),
        short_cycle_s=round(settings.short_cycle_s), minimum_run_s=round(settings.minimum_run_s),
        retry_s=round(settings.retry_s), equal_s=round(settings.equal_s),
        protector_s=round(settings.protector_s),
        protector_off_s=round(settings.protector_off_s), steady_s=round(settings.steady_s),
        trial_s=round(settings.trial_s), idle_s=round(settings.idle_s),
        by_hand_s=round(3600.0 * settings.by_hand_h),
    )


def blank_memory(circuits: Circuits, spread: Ints | None = None) -> Memory:
    """Make the memory of a controller at the loss of the utility: compressors stop at second 0."""
    rows, n = circuits.rated.shape
    return Memory(
        closed=np.ones(n, dtype=np.bool_), on=np.zeros(n, dtype=np.bool_),
        said=np.zeros(n, dtype=np.bool_), began=np.full(n, NEVER), stopped=np.zeros(n, np.int64),
        shed=np.full(n, NEVER), now=np.zeros(rows), mean=np.zeros(rows), used=np.zeros(rows),
        counted=np.zeros(n, dtype=np.bool_),
        clock=np.array([NEVER, -1, 0, 0, NEVER], dtype=np.int64),
        open_since=np.zeros(n, np.int64), closed_since=np.zeros(n, np.int64),
        tried=np.zeros(n, np.int64),
        spread=np.zeros(1, np.int64) if spread is None else spread,
        pressed=np.zeros(n, dtype=np.bool_), equal_at=np.full(n, NEVER),
        hot_until=np.full(n, NEVER), ticks=np.zeros(3, dtype=np.int64),
        yields=np.zeros(n, dtype=np.bool_),
    )
