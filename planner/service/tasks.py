"""From a pattern of use to tasks: pieces of work with a start, a length, a wait and pauses."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import NamedTuple

from planner.facts.home import SLOT_H, SLOTS_PER_DAY, DesignDay, Load
from planner.service.use import cached_calls, use_on


class Task(NamedTuple):
    """A piece of work: first slot of the day, slots that it takes, may start late, may pause."""

    start: int
    length: int
    wait: int
    pauses: int

    @property
    def window(self) -> int:
        """Slots from its start to its deadline."""
        return self.length + max(self.wait, self.pauses)


def tasks_of(load: Load, day: DesignDay) -> tuple[Task, ...]:
    """Give the tasks of a load on a design day, by their start.

    Parameters
    ----------
    load : Load
        Each run of its calls is one; its `wait_h` and `pause_slots` hold for all.
    day : DesignDay
        The day.

    Notes
    -----
    Windows of one load do not overlap, and length and wait are a day at most: where the next one
    begins before, wait and pauses are cut (a choice).
    """
    runs = _runs(load, day)
    wait = int(load.wait_h / SLOT_H + 1e-9)
    found = []
    for place, (start, length) in enumerate(runs):
        following = runs[(place + 1) % len(runs)][0] + (
            SLOTS_PER_DAY if place + 1 == len(runs) else 0)
        spare = max(0, min(following - start, SLOTS_PER_DAY) - length)
        found.append(Task(start, length, min(wait, spare), min(load.pause_slots, spare)))
    return tuple(found)


def _runs(load: Load, day: DesignDay) -> list[tuple[int, int]]:
    """Start and length of every run of slots in which a load calls."""
    use = use_on(load, day)
    if use.kind == "events":
        calls = sorted((round(start_h / SLOT_H), max(1, math.ceil(length_h / SLOT_H - 1e-9)))
                       for start_h, length_h in use.events)
        apart = all(one[0] + one[1] <= other[0] for one, other in pairwise(calls))
        if calls and apart and calls[-1][0] < SLOTS_PER_DAY:
            last, length = calls[-1]
            calls[-1] = (last, min(length, SLOTS_PER_DAY - last))
            return calls
    marks = [*cached_calls(use, day).tolist(), False]
    runs, first = [], -1
    for slot, mark in enumerate(marks):
        if mark and first < 0:
            first = slot
        elif not mark and first >= 0:
            runs.append((first, slot - first))
            first = -1
    return runs
