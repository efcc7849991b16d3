"""What becomes of a plan on a changed home, and which plan that home would get instead."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.menu import menu_of
from planner.plan.plan import CONNECTIONS, Plan
from planner.plan.price import price_of
from planner.search.cheapest import cheapest_of
from planner.search.problem import Problem, problems_of
from planner.service.choice import Choice
from planner.service.house import house_of
from planner.service.replay import Refusal, replay
from planner.service.supply import supply_of
from planner.tolerances import costs_at_most, reaches


@dataclass(frozen=True, slots=True)
class Stand:
    """A plan replayed, unchanged, on a changed home.

    Attributes
    ----------
    refusal : str
        Why it cannot be carried out there; empty if it can.
    coverage : float or None
        Coverage there (0-1); None if it is refused.
    cost_usd : float or None
        What it costs there [USD]: another draw may need another module; None if it is refused.
    """

    refusal: str
    coverage: float | None = None
    cost_usd: float | None = None


def stand_of(plan: Plan, home: Home) -> Stand:
    """Replay a plan on a changed home with the same loads."""
    house = house_of(home)
    generator, book = plan.supply.generator, plan.menu.book
    menu = menu_of(house, book, generator, plan.menu.kind)
    if menu is None:
        return Stand("no transfer equipment of the price book suits")
    problem = Problem(menu, supply_of(house, generator, book))
    outcome = replay(house, problem.supply, plan.choice)
    if isinstance(outcome, Refusal):
        return Stand(str(outcome))
    refusal = _objection(problem, plan.choice, outcome.unmet)
    price = None if refusal else price_of(menu, plan.choice)
    if price is None:
        return Stand(refusal or "no controller or transfer equipment is large enough")
    return Stand("", outcome.coverage, price.usd)


def _objection(problem: Problem, choice: Choice, unmet: tuple[str, ...]) -> str:
    if unmet:
        late = ", ".join(problem.house.home.load(load_id).label for load_id in unmet)
        return f"{late} must run, but would wait or miss a call"
    if not problem.passes_code(choice):
        return "the calculated load of what is always on is more than the generator gives"
    return _unfit(problem, choice)


def _unfit(problem: Problem, choice: Choice) -> str:
    menu, loads = problem.menu, problem.house.home.loads
    for i, load in enumerate(loads):
        if not menu.allowed[i, choice.connection[i]]:
            how = CONNECTIONS[choice.connection[i]]
            part = "no module of the price book fits" if how == "module" else f"cannot be {how}"
            return f"{part}: {load.label}"
        if menu.soft_cost[i, choice.soft_start[i]] == np.inf:
            return f"the soft starter does not fit: {load.label}"
    return ""


def resolved(home: Home, book: PriceBook, coverage: float, stand: Stand) -> Plan | None:
    """Find the cheapest plan of a changed home for a coverage goal; None if there is none.

    Sizes that alone cost more than a plan that is known to do are left out.
    """
    does = stand.coverage is not None and reaches(stand.coverage, coverage)
    most_usd = stand.cost_usd if does and stand.cost_usd is not None else np.inf
    problems = [one for one in problems_of(home, book) if costs_at_most(one.menu.base, most_usd)]
    return cheapest_of(problems, home, book, coverage)
