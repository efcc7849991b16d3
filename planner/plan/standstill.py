"""How long a load goes without power while it calls, calls that are given up included."""

from __future__ import annotations

import numpy as np

from planner.facts.home import SLOT_H, SLOTS_PER_DAY
from planner.plan.plan import Plan
from planner.service.loops import DROPPED, WAITING


def longest_standstill_h(plan: Plan, load_id: str) -> float:
    """Find the longest stretch of a design day in which a load calls and does not run [h].

    A wait ends when the call is served; this goes on where one call is given up after the other.
    It does not go on over midnight: calls are dropped at the end of a day.
    """
    i = plan.menu.house.index(load_id)
    marks, calls = plan.service.marks[i], plan.menu.house.calls[i]
    given_up = (marks == DROPPED) & calls  # the slot behind the last call bears the mark, too
    still = ((marks == WAITING) | given_up).reshape(-1, SLOTS_PER_DAY)
    longest = 0
    for day in still:
        edges = np.flatnonzero(np.diff(np.concatenate([[False], day, [False]]).astype(np.int8)))
        lengths = edges[1::2] - edges[::2]
        longest = max(longest, int(lengths.max(initial=0)))
    return longest * SLOT_H
