"""Plans compared with one that was played: what is sturdier is told after a few houses.

A plan with one part more holds in most of the houses in which the first one does, and the question
is in how many of the others. So both kinds of houses are drawn from by themselves: what helps
nothing is told from a few dozen of those in which the first plan fails.
"""

from __future__ import annotations

import numpy as np

from planner.arrays import Bools, Ints
from planner.plan.plan import Plan
from planner.progress import OnProgress
from planner.study.confidence.houses import Houses
from planner.study.confidence.playing import Playing, places_of, ranges_of
from planner.study.confidence.share import held_by, remember

STEP = 50  # houses of each kind between two looks at what they say (a choice)
SPREADS = 3.5
"""A plan is given up that is so many standard errors below what is asked: of plans that hold often
enough it would give up one in four thousand (derived)."""


class Comparing:
    """Plans of a home held against a first one, in the same houses.

    Parameters
    ----------
    first : Plan
        Played in all of the houses.
    houses : Houses
    asked : float
        Share of them in which a plan has to hold, 0-1.
    tell : callable
        Told 0 now and then; what it raises ends the work.
    """

    def __init__(self, first: Plan, houses: Houses, asked: float, tell: OnProgress) -> None:
        self.houses, self.asked, self.tell = houses, asked, tell
        held = held_by(first, houses)
        self.kinds = np.flatnonzero(~held), np.flatnonzero(held)

    def share_of(self, plan: Plan) -> float:
        """Share of the houses in which a plan holds, 0-1.

        It is exact where it is as much as was asked for, since it was played in all of them;
        else it may be what the houses say in which it was played before it was given up.
        """
        of_book = ranges_of(plan)
        if not self.houses.guesses and not of_book:
            return 1.0
        playing = Playing(plan, self.houses, of_book, places_of(self.houses, of_book))
        failed, kept = (_Kind(numbers, playing) for numbers in self.kinds)
        while True:
            self.tell(0.0)
            failed.go_on(STEP)
            if not failed.held.any() and self._is_short(failed.most() + len(kept.numbers)):
                return len(kept.numbers) / self.houses.count
            kept.go_on(STEP)
            share = (failed.about + kept.about) / self.houses.count
            if failed.is_over and kept.is_over:
                held = np.zeros(self.houses.count, dtype=np.bool_)
                held[failed.numbers], held[kept.numbers] = failed.held, kept.held
                remember(plan, self.houses, held)
                return share
            error = float(np.hypot(failed.error, kept.error))
            if self._is_short(failed.about + kept.about + SPREADS * error):
                return share

    def _is_short(self, most: float) -> bool:
        """Whether so many houses are fewer than were asked for."""
        return most < self.asked * self.houses.count


class _Kind:
    """Houses of one kind, and in which of the first of them a plan holds."""

    def __init__(self, numbers: Ints, playing: Playing) -> None:
        self.numbers, self.playing = numbers, playing
        self.held: Bools = np.zeros(0, dtype=np.bool_)

    def go_on(self, count: int) -> None:
        """Play the plan in so many more."""
        done = len(self.held)
        if not self.is_over:
            more = self.playing.holds(self.numbers[done:done + count])
            self.held = np.concatenate([self.held, more])

    @property
    def is_over(self) -> bool:
        """Whether it was played in all of them."""
        return len(self.held) == len(self.numbers)

    @property
    def about(self) -> float:
        """In how many of all of them it holds, by those in which it was played."""
        return float(self.held.mean()) * len(self.numbers) if self.held.size else 0.0

    @property
    def error(self) -> float:
        """Standard error of that: none of all of them, one more of each verdict thought of."""
        if self.is_over:
            return 0.0
        share = (self.held.sum() + 1.0) / (len(self.held) + 2.0)
        return float(np.sqrt(share * (1.0 - share) / len(self.held))) * len(self.numbers)

    def most(self) -> float:
        """Most in which it may hold, by those in which it was played."""
        return self.about + SPREADS * self.error
