"""What would help a home that nothing in the price book serves: every change named has been tried.

A change is tried by the most that can be done for a home (`planner.search.no_plan.most_helped`):
if the replay and the code accept that on some generator, there is a plan. A change that only works
in a cleverer way may be missed; none is named that does not work.
"""

from __future__ import annotations

from itertools import combinations

from planner.errors import Finding, Severity
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.price import price_of
from planner.search.changes import Help, Ladder, ladders
from planner.search.no_plan import made_direct, most_helped, too_loose
from planner.search.orders import with_best_order
from planner.search.problem import Problem, problems_of
from planner.service.choice import DIRECT, Choice
from planner.service.replay import Refusal, replay


def helping_findings(home: Home, book: PriceBook) -> tuple[Finding, ...]:
    """Say as notes what would help; a note that nothing was found if nothing does."""
    found = what_helps(home, book)
    if not found:
        return (Finding(Severity.NOTE, home.label, "no change of one or two things was found with "
                        "which there is a plan."),)
    return tuple(Finding(Severity.NOTE, one.where, f"there is a plan {one.given}.", one.remedy)
                 for one in found)


def what_helps(home: Home, book: PriceBook) -> tuple[Help, ...]:
    """Find changes with which there is a plan.

    Parameters
    ----------
    home, book : Home, PriceBook
        Together without a plan.

    Returns
    -------
    tuple of Help
        Each suffices alone, in its least degree: one degree less was tried and does not. Where
        none does, the first pair that suffices together; empty if there is none.
    """
    tried = list(ladders(home, book))
    alone = tuple(one for ladder in tried if (one := _least(ladder, home, book)) is not None)
    if alone:
        return alone
    pairs = (_both(one[-1], other[-1]) for one, other in combinations(tried, 2))
    return next(((pair,) for pair in pairs if _helps(pair, home, book)), ())


def _least(ladder: Ladder, home: Home, book: PriceBook) -> Help | None:
    """The first rung that helps; None if not even the last one does."""
    if not _helps(ladder[-1], home, book):
        return None
    low, high = -1, len(ladder) - 1
    while high - low > 1:
        middle = (low + high) // 2
        if _helps(ladder[middle], home, book):
            high = middle
        else:
            low = middle
    return ladder[high]


def _helps(one: Help, home: Home, book: PriceBook) -> bool:
    return can_be_served(*one.change(home, book))


def can_be_served(home: Home, book: PriceBook) -> bool:
    """Whether the most that can be done for a home is accepted on some generator of the book."""
    return any(_accepted(problem) for problem in problems_of(home, book))


def _accepted(problem: Problem) -> bool:
    if not problem.menu.allowed.any(axis=1).all():
        return False
    choice = most_helped(problem)
    if too_loose(problem, choice.connection):
        return False
    if _is_plan(problem, choice):
        return True
    outcome = replay(problem.house, problem.supply, choice)
    if isinstance(outcome, Refusal):
        return False
    late = [problem.house.index(load_id) for load_id in outcome.unmet]
    late = [i for i in late if problem.menu.allowed[i, DIRECT]]
    firm = made_direct(problem, choice, late)
    return firm != choice and not too_loose(problem, firm.connection) and _is_plan(problem, firm)


def _is_plan(problem: Problem, choice: Choice) -> bool:
    ordered = with_best_order(problem, choice)
    return (ordered is not None and problem.passes_code(ordered)
            and price_of(problem.menu, ordered) is not None)


def _both(one: Help, other: Help) -> Help:
    def change(home: Home, book: PriceBook) -> tuple[Home, PriceBook]:
        return other.change(*one.change(home, book))

    return Help(f"{one.where}; {other.where}", f"{one.given} and {other.given}",
                f"{one.remedy} {other.remedy}", change)
