"""The cheapest plan of some sizes for one goal, without the rest of their frontier."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, unheard
from planner.search.patience import risen
from planner.search.problem import Problem
from planner.search.still_open import most_below
from planner.tolerances import reaches


@dataclass(frozen=True)
class Cheapest:
    """What a search for the cheapest plan found.

    Attributes
    ----------
    plan : Plan or None
        None if none was found.
    proven : bool
        Whether there is none that is cheaper, or none at all where none was found; if not,
        something that might be was left open.
    """

    plan: Plan | None
    proven: bool


NONE_AT_ALL = Cheapest(None, proven=True)


def cheapest_of(
    problems: Sequence[Problem], home: Home, book: PriceBook, coverage: float,
    tick: OnProgress = unheard, below_usd: float = float("inf"),
) -> Plan | None:
    """Find the cheapest plan that covers at least this much; None if none was found.

    `look_for` says how sure that is, and the rest.
    """
    del home, book
    return look_for(problems, coverage, tick, below_usd).plan


def look_for(
    problems: Sequence[Problem], coverage: float, tick: OnProgress = unheard,
    below_usd: float = float("inf"),
) -> Cheapest:
    """Find the cheapest plan that covers at least this much, and say whether that is proven.

    All sizes are searched together by rising cost until the first plan that reaches the goal. Of
    plans of the same cost the one that covers most is taken, of equal ones the smaller generator,
    then fewer modules.

    Parameters
    ----------
    problems : sequence of Problem
        The home on some sizes.
    coverage : float
        The goal, 0-1.
    tick : callable, optional
        Told the share done; what it raises ends the search.
    below_usd : float
        Only a plan that costs less is looked for [USD].
    """
    if not problems:
        return NONE_AT_ALL
    rising = risen(problems, tick, lambda point: None, goal=coverage, below_usd=below_usd)
    left = tuple(step for step in rising.still_open if reaches(step[1], coverage))
    if not rising.points:
        return Cheapest(None, not most_below(left, below_usd) >= 0.0)
    first = rising.points[0]
    return Cheapest(first.problem.found(first.choice), not most_below(left, first.usd) >= 0.0)
