"""The search over some sizes with as much patience as it takes, or as there is."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from planner.progress import OnProgress
from planner.search.limits import USUAL_LIMITS
from planner.search.problem import Problem
from planner.search.rising import Point, Rising

LONGEST = 2 * USUAL_LIMITS.all_nodes
"""Prefixes after which a search that found nothing is not repeated with more patience."""


def risen(
    problems: Sequence[Problem], tick: OnProgress, on_point: Callable[[Point], None],
    goal: float | None = None, below_usd: float = float("inf"),
) -> Rising:
    """Search some sizes, with more patience where nothing is found though something is open.

    Not after a search of more than `LONGEST` prefixes: what is not found by then stays open. Nor if
    less than a price is looked for: then there is something, at that price. Where the limits name a
    gap, patience grows until every point is within it.
    """
    rising = Rising(problems[0].limits, goal, below_usd)
    while True:
        for point in rising.run(problems, tick):
            on_point(point)
        limits = rising.limits
        if limits.is_stopped or not rising.opened:
            return rising
        if limits.gap is None:
            if rising.points or below_usd < float("inf") or rising.spent > LONGEST:
                return rising
        elif rising.is_within:
            return rising
        rising = Rising(limits.longer(), goal, below_usd, points=rising.points,
                        earlier=rising.still_open, share=rising.share)
