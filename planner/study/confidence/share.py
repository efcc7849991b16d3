"""The share of drawn houses in which a plan holds, and what knowing a value would do to it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools
from planner.plan.plan import Plan
from planner.progress import OnProgress
from planner.remembered import Itself
from planner.study.confidence.guesses import Guess
from planner.study.confidence.houses import Houses, houses_like
from planner.study.confidence.playing import held_in, places_of, ranges_of

TO_QUOTE, TO_ORDER = 0.75, 0.90
"""Shares from which on a plan is quoted, and ordered after the site was seen (a choice)."""
NEAR = 0.4  # of its range around what is assumed: there a value counts as known


@dataclass(frozen=True, slots=True)
class Matter:
    """What is not known, and the share of houses in which the plan holds where it is as assumed."""

    guess: Guess
    share_if_known: float


@dataclass(frozen=True)
class Confidence:
    """How well a plan stands what is not known.

    Attributes
    ----------
    share : float
        Of the drawn houses in which it holds, 0-1.
    houses : int
        How many were drawn; 1 if nothing is assumed.
    matters : tuple of Matter
        What to verify first: what raises the share most if it turns out as assumed.
    """

    share: float
    houses: int
    matters: tuple[Matter, ...]

    @property
    def of_100(self) -> int:
        """In how many of 100 houses it holds, rounded down."""
        return int(100.0 * self.share + 1e-9)


def confidence_of(
    plan: Plan, houses: Houses | None = None, on_progress: OnProgress | None = None,
) -> Confidence:
    """Play a plan in houses that fit the file.

    It holds where all that is always connected fits, unannounced starts are picked up and the
    average is permitted, at the whole derated rating (what is kept back is a margin for planning),
    the fuel of the site suffices, and every promise is kept within 1 degF or 5 % of the miles,
    relaxed to what unlimited power keeps in that house. A module load that has no room is shed,
    must-run or not; it is let in up to the planned share of the rating, as the controller does.

    Parameters
    ----------
    plan : Plan
    houses : Houses, optional
        Of the home that the plan is for; drawn if they are not given. Whoever asks about several
        plans of a home draws them once.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.
    """
    drawn = houses or houses_like(plan.menu.house.home)
    known = _known(plan)
    if Itself(drawn) not in known:
        of_book = ranges_of(plan)
        if not drawn.guesses and not of_book:
            return Confidence(1.0, 1, ())
        at = places_of(drawn, of_book)
        remember(plan, drawn, held_in(plan, drawn, of_book, at, on_progress))
    return known[Itself(drawn)][0]


def held_by(plan: Plan, houses: Houses) -> Bools:
    """Tell for each house whether a plan holds in it, shape (H,)."""
    confidence_of(plan, houses)
    known = _known(plan).get(Itself(houses))
    return np.ones(houses.count, dtype=np.bool_) if known is None else known[1]


def remember(plan: Plan, houses: Houses, held: Bools) -> Confidence:
    """Keep with a plan, which never changes, in which of the houses it holds, shape (H,)."""
    of_book = ranges_of(plan)
    matters = [Matter(guess, _share(held, np.abs(column) <= NEAR))
               for guess, column in (
                   *zip(houses.guesses, houses.places.T, strict=True),
                   *zip((one.guess for one in of_book), places_of(houses, of_book).T,
                        strict=True))]
    found = Confidence(float(held.mean()), len(held),
                       tuple(sorted(matters, key=lambda one: -one.share_if_known)))
    _known(plan)[Itself(houses)] = found, held
    return found


def _known(plan: Plan) -> dict[Itself[Houses], tuple[Confidence, Bools]]:
    found: dict[Itself[Houses], tuple[Confidence, Bools]] = vars(plan).setdefault(
        "_confidences", {})
    return found


def _share(held: Bools, among: Bools) -> float:
    return float(held[among].mean()) if among.any() else float(held.mean())
