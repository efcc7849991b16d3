"""The exact frontier of one size: every combination in order of cost, each with its best order.

A combination is looked at only if it can beat what cheaper plans already cover; the search over its
orders stops as soon as its bound falls to that floor. So a completed sweep proves every point of
its frontier.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Floats, Ints
from planner.search.beside import Side
from planner.search.combinations import Combinations
from planner.search.loops.next_better import next_better
from planner.search.loops.workspace import workspace_for
from planner.search.problem import Problem
from planner.search.staircase import Point, Staircase
from planner.service.choice import Choice
from planner.tolerances import SAME_USD

PAUSE = 20_000  # nodes after which the share done is told


@dataclass(frozen=True)
class Swept:
    """What a sweep found: its points by rising cost, and what it could not decide.

    Attributes
    ----------
    rows : ndarray of int
        Combinations for which the search over orders was cut short.
    usd, bounds : ndarray of float
        Their cost, and the coverage that might still be reached.
    """

    points: tuple[Point, ...]
    rows: Ints
    usd: Floats
    bounds: Floats
    nodes: int


def sweep(
    problem: Problem,
    combinations: Combinations,
    known: Staircase | None = None,
    *,
    node_limit: int = 200_000,
    slack: float = 0.0,
    side: Side | None = None,
) -> Swept:
    """Find every non-dominated plan of one size that beats what is known.

    It is deaf while it runs: `planner.search.beside` lets it be ended.

    Parameters
    ----------
    problem : Problem
        The home on one generator.
    combinations : Combinations
        All of them, cheapest first.
    known : Staircase, optional
        Points of other sizes: what is no better than they are at its cost is not looked for.
    node_limit : int
        Where the search over the orders of one combination gives up.
    slack : float
        Coverage (0-1) that a combination may fail to win; it shows in `Swept.bounds`.
    side : Side, optional
        Gets the share of combinations done; may end the sweep.

    Raises
    ------
    Ended
        If it was told to end.
    """
    mine = side or Side()
    stairs = known or Staircase()
    inputs = problem.inputs
    space = workspace_for(inputs, mine.ended)
    base = stairs.at_each(combinations.usd)
    opened = np.full(len(base), -1.0)
    own, row, stamp, nodes = -1.0, 0, 0, 0
    nothing_counts = not problem.value.any()  # then every valid plan covers 1, the search knows 0
    points: list[Point] = []
    while True:
        floors = np.maximum(base, own)
        row, coverage, order, stamp, used = next_better(
            row, stamp, combinations.connection, combinations.soft, floors, slack, node_limit,
            PAUSE, inputs, space, opened,
        )
        nodes += used
        if row == len(base):
            break
        mine.look()
        mine.share = (row + 1) / len(base)
        if coverage < 0.0:
            row += 1
            continue
        choice = Choice(
            tuple(int(x) for x in combinations.connection[row]),
            tuple(int(x) for x in combinations.soft[row]),
            tuple(int(x) for x in order),
        )
        row += 1
        if not problem.passes_code(choice):
            continue
        own = 1.0 if nothing_counts else coverage
        points.append(Point(float(combinations.usd[row - 1]), own, choice))
    undecided = np.flatnonzero(opened > -1.0)
    if nothing_counts:
        opened[undecided] = 1.0
    return Swept(
        points=_best_per_cost(points),
        rows=undecided, usd=combinations.usd[undecided], bounds=opened[undecided],
        nodes=nodes,
    )


def _best_per_cost(points: list[Point]) -> tuple[Point, ...]:
    """Points found at the same cost: the last covers most."""
    kept: list[Point] = []
    for point in points:
        if kept and kept[-1].usd > point.usd - SAME_USD:
            kept.pop()
        kept.append(point)
    return tuple(kept)
