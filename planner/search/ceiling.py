"""What no plan can cover, by cost: the upper side of a frontier."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from planner.arrays import Floats
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


def ceiling_of(
    points: Sequence[Point], open_usd: Floats, open_bounds: Floats, known: Staircase
) -> Ceiling:
    """What a sweep proves: nothing beats its points and those known before at their cost.

    Where the search over orders was cut short, its open bound holds from that cost on: there are
    hundreds of thousands of these in a large home.
    """
    usd = np.concatenate([[p.usd for p in points], open_usd, known.usd])
    coverage = np.concatenate([[p.coverage for p in points], open_bounds, known.coverage])
    order = np.lexsort((coverage, usd))
    usd, coverage = usd[order], coverage[order]
    highest = np.maximum.accumulate(np.concatenate([[-1.0], coverage]))  # before each, then of all
    steps = np.flatnonzero(coverage > highest[:-1])
    limits = [*(usd[steps] - 1e-5).tolist(), float("inf")]
    return Ceiling(tuple(zip(limits, [*highest[steps].tolist(), float(highest[-1])], strict=True)))
