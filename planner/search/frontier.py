"""Cost against coverage: every plan of a home that no other plan beats on both.

Where all combinations of a size can be walked through with every order, the walk proves its
frontier; where many loads take turns it goes in rounds, up to a small slack; where there are too
many combinations, the model bounds the frontier and proposes, and the gap is stated.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import NoPlanError
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.beside import Side, beside
from planner.search.ceiling import Ceiling, ceiling_of, lowest_sure
from planner.search.combinations import combinations_of
from planner.search.limits import USUAL_LIMITS, SearchLimits
from planner.search.no_plan import why_no_plan
from planner.search.options import options_of
from planner.search.problem import Problem, problems_of
from planner.search.rounds import Ground, first_round, ground_of, later_rounds
from planner.search.staircase import Point, Staircase
from planner.search.stepped import stepped
from planner.search.sweep import Swept, sweep
from planner.search.what_helps import helping_findings
from planner.tolerances import SAME_COVERAGE, costs_at_most, reaches

if TYPE_CHECKING:
    import pandas as pd

SHARE_OF_FIRST_ROUND = 0.2  # of the time, a guess, where many loads take turns
SEARCH, PLANS = 0.95, 1.0  # where the search ends and the plans are made, of the time, a guess

OnPoint = Callable[[Plan], None]


@dataclass(frozen=True, repr=False)
class Frontier:
    """Non-dominated plans by rising cost, each with its proof."""

    points: tuple[Plan, ...]

    def __repr__(self) -> str:
        """Say in a line how many plans there are, from which to which."""
        ends = f", {self.points[0]!r} to {self.points[-1]!r}" if self.points else ""
        return f"<Frontier: {len(self.points)} plans{ends}>"

    def frame(self) -> pd.DataFrame:
        """Give the plans as a frame, one row each, by rising cost."""
        import pandas as pd  # noqa: PLC0415 - slow to import, and seldom needed

        return pd.DataFrame([plan.facts() for plan in self.points])

    @property
    def widest_gap(self) -> float:
        """Largest coverage that might still be won at any point."""
        return max((plan.proof.gap for plan in self.points), default=0.0)

    def covering(self, coverage: float) -> Plan | None:
        """The cheapest plan that covers at least this much; None if none does."""
        return next((p for p in self.points if reaches(p.coverage, coverage)), None)

    def within(self, budget_usd: float) -> Plan | None:
        """The plan that covers most for at most this cost; None if none is that cheap."""
        return next((plan for plan in reversed(self.points)
                     if costs_at_most(plan.cost_usd, budget_usd)), None)


def frontier(
    home: Home,
    book: PriceBook,
    *,
    on_point: OnPoint | None = None,
    on_progress: OnProgress | None = None,
    limits: SearchLimits = USUAL_LIMITS,
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
        Told the share done, 0-1; what it raises ends the search.
    limits : SearchLimits, optional
        How long the search looks.

    Raises
    ------
    NoPlanError
        If no generator of the book can serve the home; says why, and what would help.
    """
    try:
        return frontier_of(problems_of(home, book, limits), home, book, on_point, on_progress)
    except NoPlanError as problem:
        at_end = part_of(on_progress or unheard, PLANS, PLANS)
        found = (*problem.findings, *helping_findings(home, book, at_end))
        raise NoPlanError(problem.message, found) from None


def frontier_by_size(
    home: Home, book: PriceBook, *, on_progress: OnProgress | None = None
) -> dict[str, Frontier]:
    """Find the frontier of each size by itself, by generator id; none for a size without a plan.

    `on_progress` is told the share done, 0-1, each size an equal part of it.
    """
    tell = on_progress or unheard
    problems = problems_of(home, book)
    sizes = list(dict.fromkeys(p.menu.generator.id for p in problems))
    found = {}
    for number, generator in enumerate(sizes):
        tick = part_of(tell, number / len(sizes), (number + 1) / len(sizes))
        mine = [p for p in problems if p.menu.generator.id == generator]
        points = _explore(mine, None, tick)
        if points:
            found[generator] = Frontier(points)
    return found


def frontier_of(
    problems: Iterable[Problem], home: Home, book: PriceBook,
    on_point: OnPoint | None = None, on_progress: OnProgress | None = None,
) -> Frontier:
    """Find the common frontier of some sizes; `frontier` says the rest.

    Raises
    ------
    NoPlanError
        If none of these sizes can serve the home; says why.
    """
    mine = list(problems)
    points = _explore(mine, on_point, on_progress)
    if not points:
        raise why_no_plan(home, book, mine, part_of(on_progress or unheard, PLANS, PLANS))
    return Frontier(points)


def _explore(
    problems: list[Problem], on_point: OnPoint | None, on_progress: OnProgress | None
) -> tuple[Plan, ...]:
    tell = on_progress or unheard
    way = _Exploration(on_point or (lambda plan: None))
    later = SHARE_OF_FIRST_ROUND if any(p.many_turns for p in problems) else SEARCH
    for number, problem in enumerate(problems):
        tick = part_of(tell, later * number / len(problems), later * (number + 1) / len(problems))
        tick(0.0)
        way.look_at(problem, tick)
    way.end(part_of(tell, later, SEARCH))
    plans = []
    kept = _not_dominated(way.found)
    for number, (problem, point) in enumerate(kept):
        part_of(tell, SEARCH, PLANS)(number / len(kept))
        plans.append(problem.found(point.choice, lowest_sure(way.ceilings, point.usd)))
    tell(PLANS)
    return tuple(plans)


@dataclass
class _Exploration:
    """What is known while the sizes are looked at, cheapest first."""

    on_point: OnPoint
    stairs: Staircase = field(default_factory=Staircase)
    found: list[tuple[Problem, Point]] = field(default_factory=list)
    ceilings: list[Ceiling] = field(default_factory=list)
    grounds: list[Ground] = field(default_factory=list)

    def look_at(self, problem: Problem, tick: OnProgress) -> None:
        """Walk or step through one size; what stays open there is taken up in `end`."""
        options = options_of(problem)
        if not all(options):
            return
        if problem.many_turns and self.stairs.at(problem.menu.base) + problem.limits.slack >= 1.0:
            self.ceilings.append(ceiling_of(
                (), np.array([problem.menu.base]), np.array([1.0]), self.stairs))
            return
        most = problem.limits.most_combinations
        combinations, = beside(
            [lambda side: combinations_of(problem, options, most, side)],
            part_of(tick, 0.0, 0.0))
        if combinations is None:
            points, ceiling = stepped(problem, self.stairs, tick=tick)
            self.ceilings.append(ceiling)
            self._take(problem, points, tick)
        elif problem.many_turns:
            self.grounds.append(ground_of(problem, combinations))
            for point in first_round(self.grounds[-1], self.stairs, tick):
                self._keep(problem, point)
        else:
            def walk(side: Side) -> Swept:
                return sweep(problem, combinations, self.stairs, node_limit=problem.limits.nodes,
                             side=side)

            walked, = beside([walk], tick)
            self.ceilings.append(ceiling_of(
                walked.points, walked.usd, walked.bounds, self.stairs))
            self._take(problem, walked.points, tick)

    def end(self, tick: OnProgress) -> None:
        """Go on where many loads take turns, until little is left to win or patience ends."""
        if self.grounds:
            for problem, point in later_rounds(self.grounds, self.stairs, tick):
                self._keep(problem, point)
        for ground in self.grounds:
            tick(1.0)
            self.ceilings.append(ceiling_of(ground.points, *ground.opened(), self.stairs))

    def _take(self, problem: Problem, points: Iterable[Point], tick: OnProgress) -> None:
        for point in sorted(points, key=lambda p: p.usd):
            tick(1.0)
            if self.stairs.add(point.usd, point.coverage):
                self._keep(problem, point)

    def _keep(self, problem: Problem, point: Point) -> None:
        self.found.append((problem, point))
        self.on_point(problem.found(point.choice))


def _not_dominated(found: list[tuple[Problem, Point]]) -> list[tuple[Problem, Point]]:
    kept: list[tuple[Problem, Point]] = []
    for problem, point in sorted(found, key=lambda pair: (pair[1].usd, -pair[1].coverage)):
        if not kept or point.coverage > kept[-1][1].coverage + SAME_COVERAGE:
            kept.append((problem, point))
    return kept


__all__ = ["Frontier", "frontier", "frontier_by_size", "frontier_of"]
