"""One plan for one goal, picked from the frontier."""

from __future__ import annotations

from planner.errors import NoPlanError
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.search.frontier import Frontier, frontier, frontier_of
from planner.search.problem import problems_of


def cheapest(home: Home, book: PriceBook, coverage: float) -> Plan:
    """Find the cheapest plan that covers at least this much.

    Raises
    ------
    NoPlanError
        If nothing covers that much; says what can be covered and at what cost.
    """
    found = frontier(home, book)
    return found.covering(coverage) or _out_of_reach(home, found, coverage)


def best(home: Home, book: PriceBook, budget_usd: float) -> Plan:
    """Find the plan that covers most for at most this installed cost.

    Raises
    ------
    NoPlanError
        If even the cheapest plan costs more; says what it costs.
    """
    found = frontier(home, book)
    plan = found.within(budget_usd)
    if plan is None:
        least = found.points[0]
        message = (f"No plan for {home.label} costs {budget_usd:.0f} USD or less. The cheapest "
                   f"that keeps what must run costs {least.cost_usd:.0f} USD "
                   f"({least.supply.generator.label}, coverage {100 * least.coverage:.0f} %).")
        raise NoPlanError(message)
    return plan


def smallest(home: Home, book: PriceBook, coverage: float) -> Plan:
    """Find the smallest generator that covers at least this much, and its cheapest plan that does.

    Sizes are tried by rising derated kW; the first that reaches the coverage is the smallest.

    Raises
    ------
    NoPlanError
        If no size covers that much; says what can be covered and at what cost.
    """
    problems = problems_of(home, book)
    for size_kw in sorted({problem.supply.derated_kw for problem in problems}):
        mine = [p for p in problems if p.supply.derated_kw == size_kw]
        try:
            plan = frontier_of(mine, home, book).covering(coverage)
        except NoPlanError:
            continue
        if plan is not None:
            return plan
    return _out_of_reach(home, frontier(home, book), coverage)


def _out_of_reach(home: Home, found: Frontier, coverage: float) -> Plan:
    most = found.points[-1]
    message = (f"No plan for {home.label} covers {100 * coverage:.1f} %. The most is "
               f"{100 * most.coverage:.1f} % ({most.supply.generator.label}, "
               f"{most.cost_usd:.0f} USD). Ask for less, lengthen a wait, or offer a larger set.")
    raise NoPlanError(message)
