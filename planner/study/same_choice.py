"""A plan's equipment on a home with other wishes, in the same order or another."""

from __future__ import annotations

from planner.errors import VerificationError
from planner.facts.home import Home
from planner.plan.again import same_equipment
from planner.plan.menu import Menu
from planner.plan.plan import Plan
from planner.progress import OnProgress, unheard
from planner.search.orders import with_best_order
from planner.search.problem import Problem
from planner.service.choice import Choice
from planner.service.house import house_of
from planner.service.supply import Supply
from planner.tolerances import reaches


def same_choice(
    plan: Plan, changed: Home, coverage: float, tick: OnProgress = unheard
) -> Plan | None:
    """Make the same plan of a home with other wishes, in another order if the same does not do.

    Parameters
    ----------
    plan : Plan
    changed : Home
        With the same loads and design days.
    coverage : float
        What it has to cover there, 0-1.
    tick : callable, optional
        Called while another order is looked for; what it raises ends the work.

    Returns
    -------
    Plan or None
        None where it breaks a wish, or covers less, in the best order that is soon found too.
    """
    same = same_equipment(plan, house_of(changed))
    if isinstance(same, str):
        return None
    found = _made(*same, plan.choice, coverage)
    if found is None and len(plan.choice.order) > 1:
        choice = with_best_order(Problem(*same), plan.choice, tick=tick)
        found = None if choice is None else _made(*same, choice, coverage)
    return found


def _made(menu: Menu, supply: Supply, choice: Choice, coverage: float) -> Plan | None:
    try:
        found = Plan(menu, supply, choice)
    except VerificationError:
        return None
    return found if reaches(found.coverage, coverage) else None
