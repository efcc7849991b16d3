"""The outdoors, minute by minute: a design day with some weather in it."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from planner.arrays import Floats
from planner.facts.home import DesignDay
from planner.service.use import temperature_degf
from planner.simulation.seeds import wander

DAY_SPREAD_DEGF = 1.0  # standard deviation of a day around the design day; no source
MINUTE_SPREAD_DEGF = 1.0  # largest wander within a day; no source
CLOUD_SPREAD = 0.4  # clouds take or give this share of the sun's mean; no source
SUNRISE_H, SUNSET_H = 6.0, 18.0  # common practice, no source


@lru_cache(maxsize=64)
def _course_degf(day: DesignDay) -> Floats:
    """Mean course of a design day, by minute from midnight."""
    return np.array([temperature_degf(day, minute / 60.0) for minute in range(1440)])


def outdoor_degf(
    day: DesignDay, first_min: int, minutes: int, numbers: np.random.Generator
) -> Floats:
    """Give the outdoor temperature of every minute [degF].

    Parameters
    ----------
    day : DesignDay
        Its low and high; `planner.service.use.temperature_degf` is the mean course.
    first_min, minutes : int
        Minutes after a midnight at which the course begins (may be negative), and its length.
    numbers : Generator
        Source of randomness; the mean over seeds is the design day.
    """
    minute = first_min + np.arange(minutes)
    days, minutes_of_day = numbers.spawn(2)
    of_day = days.normal(0.0, DAY_SPREAD_DEGF, minutes // 1440 + 2)
    shift = np.interp(np.arange(minutes), np.arange(len(of_day)) * 1440, of_day)
    within = MINUTE_SPREAD_DEGF * (wander(minutes_of_day, minutes, 1.0, 30) - 1.0)
    return np.asarray(_course_degf(day)[minute % 1440] + shift + within)


def sunshine(first_min: int, minutes: int, numbers: np.random.Generator) -> Floats:
    """Give the sun of every minute relative to its mean over day and night.

    Notes
    -----
    Half a sine wave from sunrise to sunset: its mean over 24 hours is 2/π · (day length)/24 of
    its peak, so the peak is π for a day of 12 hours.
    """
    hour = ((first_min + np.arange(minutes)) % 1440) / 60.0
    length_h = SUNSET_H - SUNRISE_H
    peak = math.pi / 2.0 * 24.0 / length_h
    clear = peak * np.sin(np.pi * np.clip(hour - SUNRISE_H, 0.0, length_h) / length_h)
    return np.asarray(clear * wander(numbers, minutes, CLOUD_SPREAD, 120))
