"""What is said where a frontier does not reach what is asked: impossible, or only not found."""

from __future__ import annotations

from typing import NoReturn

from planner.errors import NoPlanError, NotFoundError
from planner.facts.home import Home
from planner.search.frontier import Frontier
from planner.tolerances import ceiled, floored


def out_of_reach(home: Home, found: Frontier, coverage: float) -> NoReturn:
    """Refuse a coverage that no plan of a frontier reaches, or that none was found for."""
    most = found.points[-1]
    asked, most_percent = f"{100.0 * coverage:g} %", floored(100.0 * most.coverage, 0.1)
    known = (f"{most_percent:.1f} % ({most.supply.generator.label}, "
             f"{ceiled(most.cost_usd, 1.0):,.0f} USD). Ask for {most_percent:.1f} % or less.")
    if found.may_cover(coverage):
        raise NotFoundError(f"No plan for {home.label} that covers {asked} was found; whether "
                            f"there is one is not known. The most that was found is {known}")
    raise NoPlanError(f"No plan for {home.label} covers {asked}. The most is {known}")


def too_little(home: Home, found: Frontier, budget_usd: float) -> NoReturn:
    """Refuse a price for which a frontier has no plan, or for which none was found."""
    least = found.points[0]
    least_usd = ceiled(least.cost_usd, 1.0)
    known = (f"that keeps what is promised and what must run costs {least_usd:,.0f} USD "
             f"({least.supply.generator.label}, coverage "
             f"{floored(100.0 * least.coverage, 0.1):.1f} %). Allow {least_usd:.0f} USD or more.")
    if found.may_cost(budget_usd):
        raise NotFoundError(f"No plan for {home.label} that costs {budget_usd:,.0f} USD or less "
                            "was found; whether there is one is not known. The cheapest found "
                            f"{known}")
    raise NoPlanError(f"No plan for {home.label} costs {budget_usd:,.0f} USD or less. The cheapest "
                      f"{known}")
