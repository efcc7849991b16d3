"""Everything that is asked of the recommended plan, in one answer."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.margin import Margin, margin_of
from planner.plan.plan import Plan
from planner.progress import OnProgress, unheard
from planner.search.limits import USUAL_LIMITS, SearchLimits
from planner.study.confidence import TO_QUOTE, houses_like
from planner.study.order_reasons import OrderReasons, order_reasons
from planner.study.recommend import Recommendation, recommend
from planner.study.verify import Doubt, to_verify
from planner.study.why_smaller import SmallerSize, why_not_smaller
from planner.study.wish_cost import WishCost, wish_costs

MOST_SIZES = 2
"""Smaller sizes that are explained, the largest first; each takes some seconds."""

MOST_ANEW = 4
"""Assumed values for which the home is planned anew; those first on which the replay shows most."""

Step = Callable[[str], AbstractContextManager[OnProgress]]


@dataclass(frozen=True)
class Explanation:
    """The recommended plan explained.

    Attributes
    ----------
    recommended : Recommendation
    smaller : tuple of SmallerSize
        Why not smaller, the largest of the smaller sizes first.
    order : OrderReasons
        Why this priority order.
    wishes : tuple of WishCost
        What each wish costs, the most expensive first.
    margin : Margin
        How much starts and draws may grow.
    verify : tuple of Doubt
        Assumed values, those first that matter most.
    """

    recommended: Recommendation
    smaller: tuple[SmallerSize, ...]
    order: OrderReasons
    wishes: tuple[WishCost, ...]
    margin: Margin
    verify: tuple[Doubt, ...]

    @property
    def plan(self) -> Plan:
        """The recommended plan."""
        return self.recommended.plan

    @property
    def coverage(self) -> float:
        """What it was made for, 0-1."""
        return self.recommended.coverage

    def __repr__(self) -> str:
        """Say in a line what is explained."""
        return (f"<Explanation of {self.plan!r}: {len(self.smaller)} smaller sizes, "
                f"{len(self.wishes)} wishes, {len(self.verify)} assumed values>")


def explain(
    home: Home, book: PriceBook, coverage: float = USUAL_COVERAGE, *, none_starved: bool = True,
    share: float = TO_QUOTE, limits: SearchLimits = USUAL_LIMITS, step: Step | None = None,
    on_plan: Callable[[Recommendation], object] = bool,
) -> Explanation:
    """Explain the recommended plan; every answer is found by planning with one thing changed.

    Parameters
    ----------
    home, book, coverage, none_starved, share
        As for `planner.study.recommend.recommend`.
    limits : SearchLimits, optional
        How long the plan is searched for; the questions about it have limits of their own.
    step : callable, optional
        From the name of a step to a context that yields the function to tell its progress (0-1).
    on_plan : callable, optional
        Told the recommended plan before anything is asked about it.

    Raises
    ------
    NoPlanError
        If nothing covers that much, or serves the home at all.
    """
    begin = step or _silent
    with begin("Looking for the plan") as tick:
        found = recommend(home, book, coverage, none_starved=none_starved, share=share,
                          limits=limits, on_progress=tick)
    on_plan(found)
    plan, goal = found.plan, found.coverage
    with begin("Trying smaller sizes") as tick:
        smaller = why_not_smaller(home, book, plan, goal, most_sizes=MOST_SIZES,
                                  houses=houses_like(home) if found.asked else None,
                                  on_progress=tick)
    with begin("Playing other orders") as tick:
        order = order_reasons(home, book, plan, goal, tick)
    with begin("Pricing wishes") as tick:
        wishes = wish_costs(home, book, found.cheapest, goal, on_progress=tick)
    with begin("Changing what is assumed") as tick:
        verify = to_verify(home, book, plan, goal, tick, most_anew=MOST_ANEW,
                           today=found.cheapest)
    return Explanation(found, smaller, order, wishes, margin_of(plan, coverage), verify)


def _silent(_name: str) -> AbstractContextManager[OnProgress]:
    return nullcontext(unheard)
