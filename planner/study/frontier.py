"""Cost against coverage: every plan of a home that no other plan beats on both.

Where all combinations of a size can be walked through, the walk proves its frontier; where there
are too many, the model bounds it and proposes, and the gap is stated.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from planner.case.book import PriceBook
from planner.case.home import Home
from planner.plan.plan import Plan
from planner.study.ceiling import Ceiling, lowest_sure
from planner.study.options import combinations_of, options_of
from planner.study.orders import with_best_order
from planner.study.problem import Problem, problems_of
from planner.study.reasons import why_no_plan
from planner.study.stepped import stepped
from planner.study.sweep import Point, Staircase, sweep

MOST_COMBINATIONS = 1_000_000
MANY_NODES = 200_000  # enough to end the search over orders of a handful of turns
SLACK = 0.01  # coverage left to win where there are many turns
FEW_NODES = 100  # with many turns the search seldom ends; the bound then states the gap

OnPoint = Callable[[Plan], None]
OnProgress = Callable[[float], None]


@dataclass(frozen=True)
class Frontier:
    """Non-dominated plans by rising cost, each with its proof."""

    points: tuple[Plan, ...]

    @property
    def widest_gap(self) -> float:
        """Largest coverage that might still be won at any point."""
        return max((plan.proof.gap for plan in self.points), default=0.0)

    def covering(self, coverage: float) -> Plan | None:
        """The cheapest plan that covers at least this much; None if none does."""
        return next((p for p in self.points if p.coverage >= coverage - 1e-9), None)

    def within(self, budget_usd: float) -> Plan | None:
        """The plan that covers most for at most this cost; None if none is that cheap."""
        return next((p for p in reversed(self.points) if p.cost_usd <= budget_usd + 1e-6), None)


def frontier(
    home: Home,
    book: PriceBook,
    *,
    on_point: OnPoint | None = None,
    on_progress: OnProgress | None = None,
) -> Frontier:
    """Find the frontier of a home over the whole price book.

    Parameters
    ----------
    home : Home
        A home whose wiring is free of contradictions.
    book : PriceBook
        What can be bought.
    on_point : callable, optional
        Told each plan as it is found; a later one may beat it, and its bound is not known yet.
    on_progress : callable, optional
        Told the share done, 0-1.

    Raises
    ------
    NoPlanError
        If no generator of the book can serve the home; says why, and the nearest remedy.
    """
    return frontier_of(problems_of(home, book), home, book, on_point, on_progress)


def frontier_by_size(home: Home, book: PriceBook) -> dict[str, Frontier]:
    """Find the frontier of each size by itself, by generator id; none for a size without a plan."""
    problems = problems_of(home, book)
    found = {}
    for generator in dict.fromkeys(p.menu.generator.id for p in problems):
        mine = [p for p in problems if p.menu.generator.id == generator]
        points = _explore(mine, None, None)
        if points:
            found[generator] = Frontier(points)
    return found


def frontier_of(
    problems: Iterable[Problem], home: Home, book: PriceBook,
    on_point: OnPoint | None = None, on_progress: OnProgress | None = None,
) -> Frontier:
    """Find the common frontier of some sizes; `frontier` says the rest."""
    mine = list(problems)
    points = _explore(mine, on_point, on_progress)
    if not points:
        raise why_no_plan(home, book, mine)
    return Frontier(points)


def _explore(
    problems: list[Problem], on_point: OnPoint | None, on_progress: OnProgress | None
) -> tuple[Plan, ...]:
    stairs = Staircase()
    best: list[tuple[Problem, Point]] = []
    ceilings: list[Ceiling] = []
    for number, problem in enumerate(problems):
        def tick(share: float, number: int = number) -> None:
            if on_progress:
                on_progress((number + share) / len(problems))

        points, ceiling = _one_size(problem, stairs, tick)
        ceilings.append(ceiling)
        for point in sorted(points, key=lambda p: p.usd):
            if stairs.add(point.usd, point.coverage):
                best.append((problem, point))
                if on_point:
                    on_point(problem.plan(point.choice))
        tick(1.0)
    return tuple(
        problem.plan(point.choice, lowest_sure(ceilings, point.usd))
        for problem, point in _not_dominated(best)
    )


def _one_size(
    problem: Problem, stairs: Staircase, tick: OnProgress
) -> tuple[tuple[Point, ...], Ceiling]:
    options = options_of(problem)
    if not all(options):
        return (), Ceiling(((float("inf"), -1.0),))
    combinations = combinations_of(problem, options, MOST_COMBINATIONS)
    if combinations is None:
        return stepped(problem, stairs, tick=tick)
    nodes, slack = (FEW_NODES, SLACK) if problem.many_turns else (MANY_NODES, 0.0)
    found = sweep(problem, combinations, stairs, node_limit=nodes, slack=slack, tick=tick)
    if found.opened and not found.points and not stairs.usd:
        found = sweep(problem, combinations, stairs, node_limit=MANY_NODES, tick=tick)
    points = found.points
    if found.opened:
        points = tuple(_polished(problem, point) for point in points)
    return points, _ceiling_of_walk(points, found.opened, stairs)


def _polished(problem: Problem, point: Point) -> Point:
    """Search longer for the order of a plan whose search was cut short."""
    better = with_best_order(problem, point.choice)
    coverage = problem.coverage(better) if better is not None else None
    if better is None or coverage is None or coverage <= point.coverage:
        return point
    return replace(point, coverage=coverage, choice=better)


def _ceiling_of_walk(
    points: tuple[Point, ...], opened: tuple[tuple[float, float], ...], stairs: Staircase
) -> Ceiling:
    """What a completed walk proves: nothing beats its points and those known before at their cost.

    Where the search over orders was cut short, its open bound holds from that cost on.
    """
    events = [(p.usd, p.coverage) for p in points] + list(opened)
    events += list(zip(stairs.usd, stairs.coverage, strict=True))
    steps: list[tuple[float, float]] = []
    highest = -1.0
    for usd, coverage in sorted(events):
        if coverage > highest:
            steps.append((usd - 1e-5, highest))
            highest = coverage
    steps.append((float("inf"), highest))
    return Ceiling(tuple(steps))


def _not_dominated(found: list[tuple[Problem, Point]]) -> list[tuple[Problem, Point]]:
    kept: list[tuple[Problem, Point]] = []
    for problem, point in sorted(found, key=lambda pair: (pair[1].usd, -pair[1].coverage)):
        if not kept or point.coverage > kept[-1][1].coverage + 1e-9:
            kept.append((problem, point))
    return kept


__all__ = ["Frontier", "frontier", "frontier_by_size", "frontier_of"]
