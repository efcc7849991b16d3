"""The reference that options are held against: everything connected, nothing sheds."""

from __future__ import annotations

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, unheard
from planner.search.problem import Problem, problems_of
from planner.service.choice import DIRECT, Choice


def everything_direct(
    home: Home, book: PriceBook, tick: OnProgress = unheard
) -> Plan | None:
    """Find the cheapest plan without any shedding; None if no generator of the book carries it.

    The generator must carry the full calculated load, all direct loads of every slot, and all their
    starts at once when it takes over (NEC 702.4(B)(2)(a), 2011-2020). `tick` is told the share
    done, 0-1.
    """
    plans = []
    problems = problems_of(home, book)
    for number, problem in enumerate(problems):
        tick(number / len(problems))
        plan = _all_direct(problem)
        if plan is not None:
            plans.append(plan)
    return min(plans, key=lambda plan: (plan.cost_usd, plan.supply.derated_kw), default=None)


def _all_direct(problem: Problem) -> Plan | None:
    house, menu = problem.house, problem.menu
    if not menu.allowed[:, DIRECT].all():
        return None
    positions = int(menu.poles.sum())
    if positions and not any(t.positions >= positions for t in menu.transfers):
        return None
    choice = Choice((DIRECT,) * house.count, (0,) * house.count, ())
    if problem.coverage(choice) is None or not problem.passes_code(choice):
        return None
    return problem.plan(choice, bound=1.0)
