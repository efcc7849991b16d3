"""The cheapest plan of some sizes for one goal, without the rest of their frontier."""

from __future__ import annotations

from collections.abc import Sequence

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, unheard
from planner.search.problem import Problem
from planner.search.rising import risen


def cheapest_of(
    problems: Sequence[Problem], home: Home, book: PriceBook, coverage: float,
    tick: OnProgress = unheard, below_usd: float = float("inf"),
) -> Plan | None:
    """Find the cheapest plan that covers at least this much; None if there is none.

    All sizes are searched together by rising cost until the first plan that reaches the goal. Of
    plans of the same cost the one that covers most is taken, of equal ones the smaller generator,
    then fewer modules.

    Parameters
    ----------
    problems : sequence of Problem
        The home on some sizes.
    home, book : Home, PriceBook
        What they were made of.
    coverage : float
        The goal, 0-1.
    tick : callable, optional
        Told the share done; what it raises ends the search.
    below_usd : float
        Only a plan that costs less is looked for [USD].
    """
    del home, book
    if not problems:
        return None
    found = risen(problems, tick, lambda point: None, goal=coverage,
                  below_usd=below_usd).points
    return found[0].problem.found(found[0].choice) if found else None
