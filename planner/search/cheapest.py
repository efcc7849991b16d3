"""The cheapest plan of some sizes for one goal, without the rest of their frontier."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from planner.errors import NoPlanError
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.beside import Side, beside
from planner.search.combinations import Combinations, combinations_of
from planner.search.frontier import frontier_of
from planner.search.options import Option, options_of
from planner.search.problem import Problem
from planner.search.staircase import Point, Staircase
from planner.search.sweep import sweep
from planner.service.choice import OFF
from planner.tolerances import SAME_COVERAGE, SAME_USD, reaches

FIRST_ROWS = 8  # combinations looked at together at first; the walk ends with the first plan


def cheapest_of(
    problems: Sequence[Problem], home: Home, book: PriceBook, coverage: float,
    tick: OnProgress = unheard,
) -> Plan | None:
    """Find the cheapest plan that covers at least this much; None if there is none.

    Each size is walked by rising cost until its first plan that reaches the goal; what another size
    already beats is not looked for. Of plans of the same cost the one that covers most is taken.
    Where many loads take turns not every order is tried, as in the frontier; the answer is then a
    plan that reaches the goal, though a slightly cheaper one might be found with more time.

    Parameters
    ----------
    problems : sequence of Problem
        The home on some sizes.
    home, book : Home, PriceBook
        What they were made of.
    coverage : float
        The goal, 0-1.
    tick : callable, optional
        Told the share done; what it raises ends the search.
    """
    best: Plan | None = None
    for number, problem in enumerate(sorted(problems, key=lambda p: p.menu.base)):
        mine = part_of(tick, number / len(problems), (number + 1) / len(problems))
        mine(0.0)
        found = _cheapest_of_size(problem, home, book, coverage, best, mine)
        if found is not None and (best is None or found.cost_usd < best.cost_usd - SAME_USD or
                                  found.coverage > best.coverage + SAME_COVERAGE):
            best = found
    return best


def _cheapest_of_size(
    problem: Problem, home: Home, book: PriceBook, coverage: float, best: Plan | None,
    tick: OnProgress,
) -> Plan | None:
    limit_usd = best.cost_usd if best else float("inf")
    options = _within(problem, options_of(problem), coverage, limit_usd)
    if not all(options):
        return None
    limits = problem.limits
    combinations, = beside(
        [lambda side: combinations_of(problem, options, limits.most_combinations, side)],
        part_of(tick, 0.0, 0.0))
    if combinations is None:
        try:
            return frontier_of([problem], home, book, on_progress=tick).covering(coverage)
        except NoPlanError:
            return None
    counts = coverage > 0.0 and bool(problem.value.any())  # where nothing counts, all plans cover 1
    known = Staircase([0.0], [coverage - 2e-6 if counts else -1.0])
    if best is not None:
        known.add(best.cost_usd, best.coverage)
    nodes = limits.patience[1] if problem.many_turns else limits.nodes

    def walk(side: Side) -> Point | None:
        walks = (sweep(problem, rows, known, node_limit=nodes, side=side)
                 for rows in _by_rising_cost(combinations, limit_usd))
        firsts = (_first(walk.points, coverage) for walk in walks)
        return next((point for point in firsts if point is not None), None)

    point, = beside([walk], tick)
    return problem.found(point.choice) if point is not None else None


def _first(points: Sequence[Point], coverage: float) -> Point | None:
    return next((point for point in points if reaches(point.coverage, coverage)), None)


def _by_rising_cost(combinations: Combinations, limit_usd: float) -> Iterator[Combinations]:
    """Slices of rising cost, none of which parts combinations of the same cost."""
    usd = combinations.usd
    end = int(np.searchsorted(usd, limit_usd + SAME_USD, side="right"))
    start, size = 0, FIRST_ROWS
    while start < end:
        last = usd[min(start + size, end) - 1]
        stop = min(end, int(np.searchsorted(usd, last + SAME_USD, side="right")))
        yield combinations.take(np.arange(start, stop))
        start, size = stop, 2 * size


def _within(
    problem: Problem, options: list[list[Option]], coverage: float, limit_usd: float
) -> list[list[Option]]:
    """Options without those that by themselves miss the goal or cost too much."""
    if not all(options):
        return options
    weight = problem.value * problem.house.called
    total = float(weight.sum())
    least = [min(option.usd for option in mine) for mine in options]
    spare_usd = limit_usd - problem.menu.base - sum(least) - min(
        transfer.installed_usd for transfer in problem.menu.transfers)
    return [
        [option for option in mine if option.usd - least[i] <= spare_usd + SAME_USD
         and (option.connection != OFF or total == 0.0
              or reaches(1.0 - weight[i] / total, coverage))]
        for i, mine in enumerate(options)]
