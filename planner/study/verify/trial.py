"""What becomes of a plan on a changed home, and which plan that home would get instead."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.again import same_equipment
from planner.plan.judged import judged
from planner.plan.plan import Plan
from planner.progress import OnProgress, unheard
from planner.service.house import house_of
from planner.service.replay import Refusal
from planner.study.quick import quick_problems
from planner.study.reaching import cheapest_reaching
from planner.tolerances import reaches


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


def stand_of(plan: Plan, home: Home, book: PriceBook | None = None) -> Stand:
    """Replay a plan on a changed home with the same loads, or with a changed price book."""
    same = same_equipment(plan, house_of(home), book)
    if isinstance(same, str):
        return Stand(same)
    found = judged(*same, plan.choice)
    if isinstance(found.service, Refusal) or found.price is None or found.wrong:
        return Stand(found.wrong[0])
    return Stand("", found.service.coverage, found.price.usd)


def resolved(
    home: Home, book: PriceBook, coverage: float, stand: Stand, tick: OnProgress = unheard
) -> Plan | None:
    """Find the cheapest plan of a changed home for a coverage goal; None if there is none.

    Sizes that alone cost more than a plan that is known to do are left out.
    """
    does = stand.coverage is not None and reaches(stand.coverage, coverage)
    most_usd = stand.cost_usd if does and stand.cost_usd is not None else np.inf
    problems = quick_problems(home, book, most_usd=most_usd)
    return cheapest_reaching(problems, coverage, tick)
