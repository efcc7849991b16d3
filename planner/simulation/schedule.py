"""From a design day's calls to events with a start and a length, a little different every day."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.arrays import Floats
from planner.facts.home import SLOT_H, SLOTS_PER_DAY

DAY_S = 86400.0
SLOT_S = 3600.0 * SLOT_H
START_JITTER_S = 600.0  # standard deviation; common practice, no source
LENGTH_JITTER = 0.2  # an event is up to a fifth shorter or longer; common practice, no source


@dataclass(frozen=True, slots=True)
class Run:
    """A row of calls without a break: when it starts, how long it is, what follows it [s]."""

    start_s: float
    length_s: float
    gap_s: float


@dataclass(frozen=True, slots=True)
class Events:
    """What happens behind one load: start [s], length [s] and a size the machine knows."""

    start_s: Floats
    length_s: Floats
    size: Floats

    def since(self, first_s: float) -> Events:
        """Leave out what starts before a second."""
        kept = self.start_s >= first_s
        return Events(self.start_s[kept], self.length_s[kept], self.size[kept])


NOTHING = Events(np.empty(0), np.empty(0), np.empty(0))


def runs_of(calls: NDArray[np.bool_]) -> tuple[Run, ...]:
    """Find the rows of calls of a day that repeats, so that one may go on past midnight.

    Parameters
    ----------
    calls : ndarray of bool, shape (96,)
        The slots in which the load calls.
    """
    if calls.all():
        return (Run(0.0, DAY_S, 0.0),)
    firsts = [slot for slot in range(SLOTS_PER_DAY) if calls[slot] and not calls[slot - 1]]
    runs = []
    for place, first in enumerate(firsts):
        count = 1
        while calls[(first + count) % SLOTS_PER_DAY]:
            count += 1
        following = firsts[(place + 1) % len(firsts)]
        until_next = (following - first - 1) % SLOTS_PER_DAY + 1
        runs.append(Run(first * SLOT_S, count * SLOT_S, (until_next - count) * SLOT_S))
    return tuple(runs)


def events_of(
    runs: tuple[Run, ...], numbers: np.random.Generator, first_s: float, until_s: float
) -> Events:
    """Repeat a day's rows of calls as events whose start and length vary around them.

    Parameters
    ----------
    runs : tuple of Run
        The day.
    numbers : Generator
        Source of randomness.
    first_s, until_s : float
        Midnights between which the days lie [s].

    Returns
    -------
    Events
        In order, none overlapping the one before; `size` is 1. Neither start nor length has a
        bias, so the mean run time is that of the calls.
    """
    days = np.arange(first_s, until_s, DAY_S)
    if not runs or not len(days):
        return NOTHING
    gap = np.array([run.gap_s for run in runs])
    before = np.roll(gap, 1)
    length = np.array([run.length_s for run in runs])
    scatter = np.minimum(START_JITTER_S, np.minimum(gap, before) / 6.0)
    stretch = np.minimum(LENGTH_JITTER, gap / 4.0 / length)
    shape = (len(days), len(runs))
    starts, lengths = numbers.spawn(2)  # apart, so that more days do not change the first ones
    start_s = (days[:, None] + np.array([run.start_s for run in runs])
               + scatter * np.clip(starts.standard_normal(shape), -2.0, 2.0)).ravel()
    length_s = np.round(length * (1.0 + stretch * lengths.uniform(-1.0, 1.0, shape))).ravel()
    return in_order(np.round(start_s), length_s, np.ones(len(start_s)))


def in_order(start_s: Floats, length_s: Floats, size: Floats) -> Events:
    """Sort events and put off each that would start before the one ahead of it has ended."""
    order = np.argsort(start_s, kind="stable")
    start_s, length_s, size = start_s[order], length_s[order], size[order]
    before = np.concatenate(([0.0], np.cumsum(length_s)[:-1]))
    return Events(np.maximum.accumulate(start_s - before) + before, length_s, size)
