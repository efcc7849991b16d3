"""A plan's equipment and order on a home with other wishes."""

from __future__ import annotations

from planner.errors import VerificationError
from planner.facts.home import Home
from planner.plan.again import same_equipment
from planner.plan.plan import Plan
from planner.service.house import house_of
from planner.tolerances import reaches


def same_choice(plan: Plan, changed: Home, coverage: float) -> Plan | None:
    """Make the same plan of a home with other wishes.

    Parameters
    ----------
    plan : Plan
    changed : Home
        With the same loads and design days.
    coverage : float
        What it has to cover there, 0-1.

    Returns
    -------
    Plan or None
        None where it breaks a wish, or covers less.
    """
    same = same_equipment(plan, house_of(changed))
    if isinstance(same, str):
        return None
    try:
        found = Plan(*same, plan.choice)
    except VerificationError:
        return None
    return found if reaches(found.coverage, coverage) else None
