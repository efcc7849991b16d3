"""The frontier of sizes where so many loads take turns that not every order can be tried at once.

A walk with little patience finds good plans on every size; what it could not decide is walked again
with more, against the better plans that are known by then, until no combination is left that might
beat them by more than the slack, or patience ends.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

import numpy as np

from planner.arrays import Floats, Ints
from planner.progress import OnProgress, part_of, unheard
from planner.search.beside import WORKERS, Side, beside
from planner.search.combinations import Combinations
from planner.search.orders import with_best_order
from planner.search.problem import Problem
from planner.search.staircase import Point, Staircase
from planner.search.sweep import Swept, sweep
from planner.tolerances import SAME_COVERAGE

WALK = 0.9  # of a round's time, a guess; the rest goes to the orders of what was found


@dataclass
class Ground:
    """What is known of one size: the combinations not decided yet, and what they might reach."""

    problem: Problem
    combinations: Combinations
    rows: Ints
    bounds: Floats = field(init=False)  # (C,) coverage that might still be reached; -1: none
    points: list[Point] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.bounds = np.full(len(self.combinations.usd), -1.0)

    def still(self, known: Staircase) -> Ints:
        """Rows that might beat what is known at their cost by more than the slack."""
        rows = np.flatnonzero(self.bounds > -1.0)
        floors = known.at_each(self.combinations.usd[rows])
        return rows[self.bounds[rows] > floors + self.problem.limits.slack + SAME_COVERAGE]

    def opened(self) -> tuple[Floats, Floats]:
        """Cost of what stays undecided, and the coverage that it might still reach."""
        rows = np.flatnonzero(self.bounds > -1.0)
        return self.combinations.usd[rows], self.bounds[rows]


def ground_of(problem: Problem, combinations: Combinations) -> Ground:
    """Nothing of a size decided yet."""
    return Ground(problem, combinations, np.arange(len(combinations.usd)))


def first_round(
    ground: Ground, known: Staircase, tick: OnProgress = unheard
) -> Iterator[Point]:
    """Walk one size with little patience; yields the points that beat what is known."""
    for _, point in _walked([ground], known, ground.problem.limits.patience[0], tick):
        yield point


def later_rounds(
    grounds: Sequence[Ground], known: Staircase, tick: OnProgress
) -> Iterator[tuple[Problem, Point]]:
    """Walk what is undecided on all sizes with growing patience; yields points as they are found.

    Parameters
    ----------
    grounds : sequence of Ground
        At least one; gets points and bounds.
    known : Staircase
        Points of all sizes; grows.
    tick : callable
        Told the share done, a guess.
    """
    limits = grounds[0].problem.limits
    rounds = len(limits.patience[1:])
    for number, nodes in enumerate(limits.patience[1:]):
        mine = part_of(tick, number / rounds, (number + 1) / rounds)
        yield from _walked_on(grounds, known, nodes, mine)
    if not known.usd:
        yield from _walked_on(grounds, known, limits.last_resort, part_of(tick, 1.0, 1.0))


def _walked_on(
    grounds: Sequence[Ground], known: Staircase, nodes: int, tick: OnProgress
) -> Iterator[tuple[Problem, Point]]:
    for ground in grounds:
        ground.rows = ground.still(known)
    yield from _walked([ground for ground in grounds if ground.rows.size], known, nodes, tick)


def _walked(
    grounds: Sequence[Ground], known: Staircase, nodes: int, tick: OnProgress
) -> Iterator[tuple[Problem, Point]]:
    """Walk the rows of some sizes, dealt out to the workers, each against what was known before."""
    dealt = [(ground, ground.rows[first::WORKERS]) for ground in grounds
             for first in range(WORKERS)]

    def walk(ground: Ground, rows: Ints, side: Side) -> Swept:
        return sweep(ground.problem, ground.combinations.take(rows), known, node_limit=nodes,
                     slack=ground.problem.limits.slack, side=side)

    walks = beside([partial(walk, ground, rows) for ground, rows in dealt],
                   part_of(tick, 0.0, WALK))
    for (ground, rows), found in zip(dealt, walks, strict=True):
        ground.bounds[rows] = -1.0
        ground.bounds[rows[found.rows]] = found.bounds
        for point in found.points:
            better = _polished(ground.problem, point, part_of(tick, WALK, WALK))
            ground.points.append(better)
            if known.add(better.usd, better.coverage):
                yield ground.problem, better


def _polished(problem: Problem, point: Point, tick: OnProgress) -> Point:
    """Search longer for the order of a plan whose search was cut short."""
    better = with_best_order(problem, point.choice, tick=tick)
    coverage = problem.coverage(better) if better is not None else None
    if better is None or coverage is None or coverage <= point.coverage:
        return point
    return replace(point, coverage=coverage, choice=better)
