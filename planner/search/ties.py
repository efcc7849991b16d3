"""Ties: of plans equal in cost and coverage the smaller generator wins, then fewer modules.

Sizes are looked at by rising base price, and a later one is kept only if it beats those before it.
A smaller generator that costs more to buy could so lose to a larger one at the same price of the
whole plan; what may tie with a plan that is kept is therefore looked at once more.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from planner.progress import OnProgress, unheard
from planner.search.beside import Side, beside
from planner.search.combinations import Combinations
from planner.search.loops.next_better import LEAST_GAIN
from planner.search.problem import Problem
from planner.search.staircase import Point, Staircase
from planner.search.sweep import sweep
from planner.service.choice import MODULE
from planner.tolerances import LIMIT, SAME_COVERAGE, SAME_USD

Found = tuple[Problem, Point]

REACH = 3 * SAME_COVERAGE  # below a coverage, where the search still finds what equals it


@dataclass(frozen=True)
class Rival:
    """One size whose combinations may tie with a plan; `nodes` per search over orders."""

    problem: Problem
    combinations: Combinations
    nodes: int


def smaller(one: Problem, other: Problem) -> bool:
    """Whether the rating of one generator at this site is below that of another."""
    return one.supply.derated_kw < other.supply.derated_kw - LIMIT


def wins_tie(one: Found, other: Found) -> bool:
    """Whether a plan comes before an equal one: smaller generator, then fewer modules, then ids."""
    if smaller(one[0], other[0]) or smaller(other[0], one[0]):
        return smaller(one[0], other[0])
    return _after_size(one) < _after_size(other)


def unbeaten(found: Iterable[Found]) -> list[Found]:
    """Plans that no other beats on both cost and coverage, by rising cost; one of equal ones.

    Parameters
    ----------
    found : iterable of (Problem, Point)
        Plans of any sizes, in any order.
    """
    kept: list[Found] = []
    for one in sorted(found, key=lambda one: (one[1].usd, -one[1].coverage)):
        same_usd = bool(kept) and one[1].usd - kept[-1][1].usd < SAME_USD
        if not kept or one[1].coverage > kept[-1][1].coverage + SAME_COVERAGE:
            kept[len(kept) - same_usd:] = [one]
        elif (same_usd and one[1].coverage >= kept[-1][1].coverage - SAME_COVERAGE
              and wins_tie(one, kept[-1])):
            kept[-1] = one
    return kept


def settled(winner: Found, rivals: Iterable[Rival], tick: OnProgress = unheard) -> Found:
    """Give a plan, or the one that wins the tie with it among the rivals.

    Parameters
    ----------
    winner : (Problem, Point)
        A plan that nothing beats.
    rivals : iterable of Rival
        Sizes of which not all was looked at that equals the plan.
    tick : callable, optional
        Told now and then; what it raises ends the search.
    """
    for rival in rivals:
        winner = _against(winner, rival, tick)
    return winner


def _against(winner: Found, rival: Rival, tick: OnProgress) -> Found:
    usd, modules = rival.combinations.usd, rival.combinations.connection == MODULE
    rows = np.flatnonzero(np.abs(usd - winner[1].usd) < SAME_USD)
    if not smaller(rival.problem, winner[0]):
        most = winner[1].choice.connection.count(MODULE) - (rival.problem is winner[0])
        rows = rows[modules[rows].sum(axis=1) <= most]
    if not rows.size:
        return winner
    counts = bool(rival.problem.value.any())  # where nothing counts, all plans cover 1
    floor = winner[1].coverage - REACH - LEAST_GAIN if counts else -1.0

    def sweep_rows(side: Side) -> tuple[Point, ...]:
        return sweep(rival.problem, rival.combinations.take(rows), Staircase([0.0], [floor]),
                     node_limit=rival.nodes, side=side).points

    points, = beside([sweep_rows], tick)
    for point in points:
        if (point.coverage >= winner[1].coverage - SAME_COVERAGE
                and wins_tie((rival.problem, point), winner)):
            winner = rival.problem, point
    return winner


def _after_size(found: Found) -> tuple[int, str, str]:
    problem, point = found
    return point.choice.connection.count(MODULE), problem.menu.generator.id, problem.menu.kind
