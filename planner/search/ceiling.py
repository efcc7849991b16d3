"""What no plan can cover, by cost: the upper side of a frontier."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.search.staircase import Point, Staircase
from planner.tolerances import costs_at_most


@dataclass(frozen=True)
class Ceiling:
    """For each cost, a coverage that no plan of at most this cost beats.

    Attributes
    ----------
    steps : tuple of (float, float)
        (cost up to which it holds [USD], coverage), by rising cost; below the first step's cost
        its coverage holds too. Beyond the last step nothing is known (coverage 1).
    """

    steps: tuple[tuple[float, float], ...]

    def at(self, usd: float) -> float:
        """Coverage that no plan of at most this cost beats; 1 where nothing is known."""
        return next((coverage for limit, coverage in self.steps if costs_at_most(usd, limit)), 1.0)


def lowest_sure(ceilings: Iterable[Ceiling], usd: float) -> float:
    """Coverage that no plan of at most this cost beats on any size: the highest of the ceilings."""
    return max((ceiling.at(usd) for ceiling in ceilings), default=0.0)


def ceiling_of(points: Sequence[Point], opened: Sequence[tuple[float, float]],
               known: Staircase) -> Ceiling:
    """What a walk proves: nothing beats its points and those known before at their cost.

    Where the search over orders was cut short, its open bound holds from that cost on.
    """
    events = [(p.usd, p.coverage) for p in points] + list(opened)
    events += list(zip(known.usd, known.coverage, strict=True))
    steps: list[tuple[float, float]] = []
    highest = -1.0
    for usd, coverage in sorted(events):
        if coverage > highest:
            steps.append((usd - 1e-5, highest))
            highest = coverage
    steps.append((float("inf"), highest))
    return Ceiling(tuple(steps))
