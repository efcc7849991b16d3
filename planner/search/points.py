"""What a search over sizes found and what it left open; what the next plan has to beat."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import NamedTuple

from planner.search.hard.relaxing import Relaxed
from planner.search.limits import LEAST_GAIN, SearchLimits
from planner.search.problem import Problem
from planner.search.still_open import Steps, lower_of, most_at, most_below, steps_of
from planner.search.ways import Rank
from planner.service.choice import Choice
from planner.tolerances import SAME_COVERAGE, SAME_USD, reaches

Plainness = tuple[int, float]  # of a plan: loads left off, calculated load [VA]


@dataclass(frozen=True)
class Point:
    """A choice that the search found, with its cost [USD] and its coverage (0-1)."""

    usd: float
    coverage: float
    choice: Choice
    problem: Problem
    rank: Rank
    plainness: Plainness = (0, 0.0)


class Open(NamedTuple):
    """What was not decided: cost from which on [USD], coverage that it might reach, its size."""

    usd: float
    hope: float
    problem: Problem


@dataclass
class Found:
    """Points and what is open beside them.

    Attributes
    ----------
    limits : SearchLimits
    goal : float or None
        Coverage that is looked for; None for the whole frontier.
    below_usd : float
        Plans are looked for that cost less [USD].
    points : list of Point
        The frontier so far, by rising cost.
    opened : list of Open
        What was not decided.
    earlier : tuple of (float, float) or None
        What searches before this one, for the same, left open; None if there were none.
    models : dict of int to Relaxed
        The relaxed models that were asked for, by the id of their problem.
    """

    limits: SearchLimits
    goal: float | None = None
    below_usd: float = float("inf")
    points: list[Point] = field(default_factory=list)
    opened: list[Open] = field(default_factory=list)
    earlier: Steps | None = None
    models: dict[int, Relaxed] = field(default_factory=dict)

    def bar(self, usd: float, rank: Rank, plainness: Plainness | None = None) -> float:
        """Coverage that a plan of this cost has to beat to be a point, or to win a tie.

        A plan that is there already wins a tie of rank by leaving less off, and counting less.
        """
        bar = -1.0 if self.goal is None else self.goal - 2.0 * SAME_COVERAGE
        for point in self.points:
            if point.usd < usd - SAME_USD:
                bar = max(bar, point.coverage + LEAST_GAIN - 2.0 * SAME_COVERAGE)
            elif point.usd < usd + SAME_USD:
                wins = rank < point.rank or (
                    rank == point.rank and plainness is not None and plainness < point.plainness)
                bar = max(bar, point.coverage - (2.0 * SAME_COVERAGE if wins else 0.0))
        return bar

    def enough(self, usd: float, bar: float) -> float:
        """Coverage that has to be beaten by what is looked at: the bar, or more by the gap.

        What could only win by less is left open at its cost, as high as this.
        """
        if not self.limits.gap:
            return bar
        return max([bar, *(point.coverage + self.limits.gap - SAME_COVERAGE
                           for point in self.points if point.usd < usd + SAME_USD)])

    def may_be_better(self, point: Point) -> bool:
        """Whether more for no more money is open, or as much as is looked for, for less."""
        left = self.still_open
        if self.goal is None:
            return most_at(left, point.usd) > point.coverage + SAME_COVERAGE
        return reaches(most_below(left, point.usd), self.goal)

    def keep(self, point: Point) -> None:
        """Take a point in, and out what it leaves no gain to."""
        kept = [one for one in self.points if one.usd < point.usd - SAME_USD
                or (one.usd > point.usd + SAME_USD
                    and one.coverage >= point.coverage + LEAST_GAIN - 2.0 * SAME_COVERAGE)]
        self.points = sorted([*kept, point], key=lambda one: one.usd)

    @property
    def still_open(self) -> Steps:
        """What neither this search nor one before it decided."""
        mine = steps_of((one.usd, one.hope) for one in self.opened)
        return mine if self.earlier is None else lower_of(self.earlier, mine)

    def ceiling(self, point: Point, left: Steps) -> float:
        """Coverage that no plan beats which is cheaper than the next point; `left` is open."""
        next_usd = min((one.usd for one in self.points if one.usd > point.usd),
                       default=float("inf"))
        return max(point.coverage, min(1.0, most_below(left, next_usd)))

    @property
    def is_within(self) -> bool:
        """Whether every point is within the gap, and nothing cheaper than the first is open."""
        left, gap = self.still_open, self.limits.gap or 0.0
        return not left if not self.points else most_below(left, self.points[0].usd) < 0.0 and all(
            self.ceiling(point, left) <= point.coverage + gap + SAME_COVERAGE
            for point in self.points)

    def relaxed(self, problem: Problem) -> Relaxed:
        """The relaxed model of a size, made once."""
        if id(problem) not in self.models:
            self.models[id(problem)] = Relaxed(problem)
        return self.models[id(problem)]
