"""From a pattern of use to calls: which of a day's 96 slots a load wants to run in.

Nothing here is random, so the same file gives the same calls on any machine.
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.home import SLOT_H, SLOTS_PER_DAY, DesignDay, Load, Use

WARMEST_HOUR = 16.0  # common practice, no source: mid-afternoon



def use_on(load: Load, day: DesignDay) -> Use:
    """Pick the use that holds on a day: its own, else its season's, else every day's, else never.

    Parameters
    ----------
    load : Load
        Its `use` is keyed by day id, season or ``every``.
    day : DesignDay
        The design day.
    """
    return load.use_on(day)


def temperature_degf(day: DesignDay, hour: float) -> float:
    """Outdoor temperature at an hour of a design day [degF].

    A cosine between the day's low and high with its peak at `WARMEST_HOUR` (common practice,
    no source).
    """
    mean = (day.high_degf + day.low_degf) / 2.0
    swing = (day.high_degf - day.low_degf) / 2.0
    return mean + swing * math.cos(2.0 * math.pi * (hour - WARMEST_HOUR) / 24.0)


def calls_of(use: Use, day: DesignDay) -> Bools:
    """Bools of one use on one day.

    Parameters
    ----------
    use : Use
        The pattern.
    day : DesignDay
        Its low and high drive ``cooling`` and ``heating``.

    Returns
    -------
    ndarray of bool, shape (96,)
    """
    match use.kind:
        case "never":
            return np.zeros(SLOTS_PER_DAY, dtype=np.bool_)
        case "always":
            return np.ones(SLOTS_PER_DAY, dtype=np.bool_)
        case "calls":
            return np.array([mark == "1" for mark in use.calls], dtype=np.bool_)
        case "events":
            return _events(use)
        case "duty":
            shares = [use.hours[int(slot * SLOT_H)] for slot in range(SLOTS_PER_DAY)]
        case "cooling" | "heating":
            shares = [_thermal_duty(use, day, slot) for slot in range(SLOTS_PER_DAY)]
    return _spread(shares, use.offset_slots)


@lru_cache(maxsize=512)
def cached_calls(use: Use, day: DesignDay) -> Bools:
    """Give `calls_of`, worked out once; not to be changed."""
    calls = calls_of(use, day)
    calls.flags.writeable = False
    return calls


@lru_cache(maxsize=512)
def shares_of(use: Use, day: DesignDay) -> Floats:
    """Give the share of each slot that a load wants to run in, shape (96,) [0-1].

    What `calls_of` makes whole slots of: a duty stays a duty. Not to be changed.
    """
    if use.kind == "duty":
        hours = [use.hours[int(slot * SLOT_H)] for slot in range(SLOTS_PER_DAY)]
        shares = np.roll(np.array(hours, dtype=np.float64), use.offset_slots)
    else:
        shares = cached_calls(use, day).astype(np.float64)
    shares.flags.writeable = False
    return shares


@lru_cache(maxsize=64)
def outdoor_degf(day: DesignDay) -> Floats:
    """Give the outdoor temperature in the middle of each slot [degF]; not to be changed."""
    found = np.array([temperature_degf(day, (slot + 0.5) * SLOT_H)
                      for slot in range(SLOTS_PER_DAY)])
    found.flags.writeable = False
    return found


def _events(use: Use) -> Bools:
    calls = np.zeros(SLOTS_PER_DAY, dtype=np.bool_)
    for start_h, length_h in use.events:
        first = round(start_h / SLOT_H)
        count = max(1, math.ceil(length_h / SLOT_H - 1e-9))
        calls[first : first + count] = True
    return calls


def _thermal_duty(use: Use, day: DesignDay, slot: int) -> float:
    outdoor_degf = temperature_degf(day, (slot + 0.5) * SLOT_H)
    share = (outdoor_degf - use.balance_degf) / (use.design_degf - use.balance_degf)
    return min(1.0, max(0.0, share) * use.full_duty)


def _spread(shares: list[float], offset_slots: int) -> Bools:
    """Turn shares of a slot into whole slots: call as soon as a whole slot of need is due."""
    calls = np.zeros(SLOTS_PER_DAY, dtype=np.bool_)
    due = 0.5
    for slot, share in enumerate(shares):
        due += share
        if due >= 1.0 - 1e-9:
            calls[slot] = True
            due -= 1.0
    return np.roll(calls, offset_slots)
