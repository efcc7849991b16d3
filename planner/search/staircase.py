"""What is known while a frontier is looked for: the best coverage at or below each cost."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass, field

import numpy as np

from planner.arrays import Floats
from planner.service.choice import Choice
from planner.tolerances import SAME_USD


@dataclass(frozen=True)
class Point:
    """A choice that the search found, with its cost [USD] and its coverage (0-1)."""

    usd: float
    coverage: float
    choice: Choice


@dataclass
class Staircase:
    """Best coverage known at or below each cost, over all sizes looked at so far."""

    usd: list[float] = field(default_factory=list)
    coverage: list[float] = field(default_factory=list)

    def at(self, usd: float) -> float:
        """Best coverage known for plans of at most this cost; -1 if there is none."""
        place = bisect_right(self.usd, usd + SAME_USD)
        return self.coverage[place - 1] if place else -1.0

    def at_each(self, usd: Floats) -> Floats:
        """Best coverage known for plans of at most each cost."""
        steps = np.array([-1.0, *self.coverage])
        return steps[np.searchsorted(np.array(self.usd), usd + SAME_USD, side="right")]

    def add(self, usd: float, coverage: float) -> bool:
        """Take a point in if it beats what is known at its cost; True if it did."""
        if coverage <= self.at(usd):
            return False
        place = bisect_right(self.usd, usd + SAME_USD)
        end = place
        while end < len(self.usd) and self.coverage[end] <= coverage:
            end += 1
        if place and abs(self.usd[place - 1] - usd) < SAME_USD:
            place -= 1
        self.usd[place:end] = [usd]
        self.coverage[place:end] = [coverage]
        return True
