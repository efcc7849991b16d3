"""What would help a home that nothing in the price book serves: every change named has been tried.

A change is tried by planning with it, until the first plan, with little patience: a change that
only works in a clever way may be missed; none is named that does not work.
"""

from __future__ import annotations

from itertools import combinations

from planner.errors import Finding, Severity
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.progress import OnProgress, unheard
from planner.search.changes import ladders
from planner.search.help import Help, Ladder
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
    return next(((pair,) for pair in pairs if _helps(pair, home, book, tick)), ())


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
    return ladder[high]


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
