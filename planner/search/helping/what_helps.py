"""What would help a home that nothing in the price book serves: every change named has been tried.

A change is tried by planning with it, until the first plan, with little patience: a change that
only works in a clever way may be missed; none is named that does not work. A fill of the tank
feeds the hardest hour of every plan that is found with it, or what else that asks is named.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations

from planner.errors import Finding, Severity
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.plan import Plan
from planner.plan.site.tank_findings import NO_FILL, SPARE, feeds_every_hour, hour_findings
from planner.progress import OnProgress, unheard
from planner.search.helping.changes import ladders
from planner.search.helping.help import Help, Ladder
from planner.search.helping.site_changes import FILL
from planner.search.limits import SearchLimits
from planner.search.problem import problems_of
from planner.search.rising import Rising
from planner.tolerances import floored, reaches

LIMITS = SearchLimits(nodes=5_000, probe=100, all_nodes=50_000)


def helping_findings(
    home: Home, book: PriceBook, tick: OnProgress = unheard
) -> tuple[Finding, ...]:
    """Say as notes what would help; a note that nothing was found if nothing does."""
    found = what_helps(home, book, tick)
    if not found:
        return (Finding(Severity.NOTE, home.label, "no change of one or two things was found with "
                        "which there is a plan."),)
    return tuple(Finding(
        Severity.NOTE, one.where, f"there is a plan{_keeping(one, home, book, tick)} {one.given}.",
        one.remedy) for one in found)


def _keeping(one: Help, home: Home, book: PriceBook, tick: OnProgress) -> str:
    """Say how much is kept with a change, where it is less than is usually asked for."""
    problems = problems_of(*one.change(home, book), LIMITS)
    most = max((plan.coverage for plan in Rising(LIMITS).run(problems, lambda _: tick(0.0))),
               default=0.0)
    if reaches(most, USUAL_COVERAGE):
        return ""
    percent = floored(100.0 * most, 0.1)
    return f", which keeps {percent:.1f} % (ask for no more)," if most > 0.0 else ""


def what_helps(home: Home, book: PriceBook, tick: OnProgress = unheard) -> tuple[Help, ...]:
    """Find changes with which there is a plan.

    Parameters
    ----------
    home, book : Home, PriceBook
        Together without a plan.
    tick : callable, optional
        Called while it goes on.

    Returns
    -------
    tuple of Help
        Each suffices alone, in its least degree: one degree less was tried and does not. Where
        none does, the first pair that suffices together; empty if there is none.
    """
    tried = list(ladders(home, book))
    alone = tuple(one for ladder in tried if (one := _least(ladder, home, book, tick)) is not None)
    if alone:
        return alone
    pairs = (_both(one[-1], other[-1]) for one, other in combinations(tried, 2))
    return next(((_and_its_hour(pair, home, book, tick),) for pair in pairs
                 if _helps(pair, home, book, tick)), ())


def _least(ladder: Ladder, home: Home, book: PriceBook, tick: OnProgress) -> Help | None:
    """The first rung that helps; None if not even the last one does."""
    if not _helps(ladder[-1], home, book, tick):
        return None
    low, high = -1, len(ladder) - 1
    while high - low > 1:
        middle = (low + high) // 2
        if _helps(ladder[middle], home, book, tick):
            high = middle
        else:
            low = middle
    if ladder[high].where != FILL:
        return ladder[high]
    return _least_fill(ladder, high, lambda one: _plans(one, home, book, tick))


def _least_fill(ladder: Ladder, first: int, plans_of: Callable[[Help], Sequence[Plan]]) -> Help:
    """The first fill from one on with which no plan that is found has an hour that is short.

    With something to spare where a fill has it, for a plan that stands what is assumed may draw
    more; where no fill feeds the hour, what else it asks is said.
    """
    plans = cache(lambda place: plans_of(ladder[place]))
    for times in (SPARE, 1.0):
        place = _feeding(ladder, first, plans, times)
        if _fed(plans(place), ladder[place], times):
            return ladder[place]
    return _with_the_hour(ladder[place], plans(place))


def _feeding(
    ladder: Ladder, first: int, plans: Callable[[int], Sequence[Plan]], times: float
) -> int:
    """The first rung from one on that feeds so many times the hardest hours of its own plans.

    Where none does, one whose plans have tanks that feed them at no fill.

    A higher fill may do with fewer tanks, which make less for an hour, so fills are not bisected:
    each step goes where the tanks of these plans would feed them.
    """
    place = first
    while not _fed(plans(place), ladder[place], times):
        higher = next((one for one in range(place + 1, len(ladder))
                       if _fed(plans(place), ladder[one], times)), None)
        if higher is None:
            return place
        place = higher
    while place > first and _fed(plans(place - 1), ladder[place - 1], times):
        place -= 1
    return place


def _fed(plans: Sequence[Plan], one: Help, times: float) -> bool:
    """Whether there are plans whose tanks would feed every hour at the fill of a rung."""
    return bool(plans) and all(
        plan.menu.works.tanks is None
        or feeds_every_hour(plan, plan.menu.works.tanks, _fill_of(plan, one), times)
        for plan in plans)


def _fill_of(plan: Plan, one: Help) -> float:
    """The fill at delivery of the home of a plan, with the change of a rung [share]."""
    site = one.change(plan.menu.house.home, plan.menu.book)[0].site
    return 0.0 if site is None or site.tank is None else site.tank.delivery_share


def _with_the_hour(one: Help, plans: Sequence[Plan]) -> Help:
    """Say beside a change what the hardest hour asks, too, where no fill feeds it."""
    for plan in plans:
        tanks, site = plan.menu.works.tanks, plan.menu.house.home.site
        if tanks is None or site is None or site.tank is None:
            continue
        for short in hour_findings(plan, tanks, site.tank.delivery_share):
            if short.remedy == NO_FILL:
                return replace(one, remedy=f"{one.remedy} But {short.sentence} {short.remedy}")
    return one


def _and_its_hour(one: Help, home: Home, book: PriceBook, tick: OnProgress) -> Help:
    """Give a pair of changes with what its hardest hour asks, where it fills the tank."""
    if FILL not in one.where.split("; "):
        return one
    return _with_the_hour(one, _plans(one, home, book, tick))


def _plans(one: Help, home: Home, book: PriceBook, tick: OnProgress) -> list[Plan]:
    """Give the plans that are found with a change."""
    rising = Rising(LIMITS)
    for _ in rising.run(problems_of(*one.change(home, book), LIMITS), lambda _: tick(0.0)):
        tick(0.0)
    return [point.problem.found(point.choice) for point in rising.points]


def _helps(one: Help, home: Home, book: PriceBook, tick: OnProgress) -> bool:
    return can_be_served(*one.change(home, book), tick)


def can_be_served(home: Home, book: PriceBook, tick: OnProgress = unheard) -> bool:
    """Whether there is a plan on some generator of the book; not if it is too hard to find."""
    problems = problems_of(home, book, LIMITS)
    tick(0.0)
    return next(Rising(LIMITS).run(problems, lambda _: tick(0.0)), None) is not None


def _both(one: Help, other: Help) -> Help:
    def change(home: Home, book: PriceBook) -> tuple[Home, PriceBook]:
        return other.change(*one.change(home, book))

    return Help(f"{one.where}; {other.where}", f"{one.given} and {other.given}",
                f"{one.remedy} {other.remedy}", change)
