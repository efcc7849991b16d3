"""The search over some sizes with as much patience as it takes, or as there is."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from planner.progress import OnProgress
from planner.search.desk import desk_of
from planner.search.ground import Ground
from planner.search.hard.polishing import polished
from planner.search.hard.seeding import leaf_of
from planner.search.hard.tightening import tighten
from planner.search.limits import USUAL_LIMITS, Stopped
from planner.search.points import Point
from planner.search.problem import Problem
from planner.search.rising import Rising

LONGEST = 2 * USUAL_LIMITS.all_nodes
"""Prefixes after which a search that found nothing is not repeated with more patience."""
POLISHED = 200
"""Prefixes that the limits allow for which one plan near what is shown is tried (measured)."""


def risen(
    problems: Sequence[Problem], tick: OnProgress, on_point: Callable[[Point], None],
    goal: float | None = None, below_usd: float = float("inf"),
) -> Rising:
    """Search some sizes, with more patience where nothing is found though something is open.

    Not after a search of more than `LONGEST` prefixes: what is not found by then stays open. Nor if
    less than a price is looked for: then there is something, at that price. Where the limits name a
    gap, patience grows until every point is within it. What is not proven then is polished.
    """
    rising = _patient(problems, tick, on_point, goal, below_usd)
    for point in _polished(rising, tick):
        on_point(point)
    return rising


def _polished(rising: Rising, tick: OnProgress) -> Iterator[Point]:
    """Better the points that are not proven by what is near them."""
    stop = rising.limits.stop
    waiting = [point for point in rising.points if rising.may_be_better(point)]
    if rising.limits.is_stopped:
        return
    heard = tick if stop is None else stop.watched(tick)
    try:
        for point in waiting:
            problem = point.problem
            found = polished(problem, (point.choice, point.coverage), rising.goal,
                             rising.limits.all_nodes // POLISHED // len(waiting), heard)
            if found != point.choice:
                ground = Ground(problem, desk_of(problem.house))
                better = rising.take_in(ground, leaf_of(ground, found))
                if better is not None:
                    yield better
    except Stopped:
        return


def _patient(
    problems: Sequence[Problem], tick: OnProgress, on_point: Callable[[Point], None],
    goal: float | None, below_usd: float,
) -> Rising:
    rising = Rising(problems[0].limits, goal, below_usd)
    while True:
        for point in rising.run(problems, tick):
            on_point(point)
        tighten(rising, tick)
        limits = rising.limits
        if limits.is_stopped or not rising.opened:
            return rising
        if limits.gap is None:
            if rising.points or below_usd < float("inf") or rising.spent > LONGEST:
                return rising
        elif rising.is_within:
            return rising
        rising = Rising(limits.longer(), goal, below_usd, points=rising.points,
                        earlier=rising.still_open, models=rising.models,
                        share=rising.share)
