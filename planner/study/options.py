"""What is put before the family: three plans to choose from, and two sizes to hold them against."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.again import same_equipment
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.frontier import Frontier, frontier
from planner.search.problem import problems_of
from planner.service.kept import Kept
from planner.study.cheaper import cheaper_of
from planner.study.confidence import (
    TO_QUOTE,
    Confidence,
    Houses,
    confidence_of,
    houses_like,
)
from planner.study.reaching import cheapest_reaching
from planner.study.recommend import Recommendation, recommend
from planner.study.reference import ShedsNothing, sheds_nothing
from planner.study.wishes import Wish
from planner.tolerances import reaches

OptionName = Literal["cheaper", "recommended", "everything", "air-cooled"]

MODULE_USD = 1e5
"""Added to each module where as few as possible are looked for [USD]."""
LESS = 0.1  # of the price that a cheaper option saves at least (design, section 8)
WHOLE, CHEAPER, EVERYTHING, REFERENCE = 0.4, 0.7, 0.85, 1.0  # of the time, a guess


@dataclass(frozen=True)
class Option:
    """One plan to choose, and what is given up for it.

    Attributes
    ----------
    name
        ``recommended``: the cheapest that reaches the goal, the nearest where none does;
        ``cheaper``: at least a tenth less; ``everything``: the cheapest in which nothing at all is
        missed; ``air-cooled``: the largest air-cooled size with the fewest modules that reaches
        the goal.
    home : Home
        What it was planned for: the family's home, without what is given up.
    plan : Plan
    given_up : tuple of Wish
        Must-haves and promises, the most important first; empty but for a cheaper option.
    confidence : Confidence or None
        In how many houses that fit the file it holds; None where that was not asked.
    """

    name: OptionName
    home: Home
    plan: Plan
    given_up: tuple[Wish, ...] = ()
    confidence: Confidence | None = None

    @property
    def missing(self) -> tuple[Kept, ...]:
        """Comforts that count and are not fully kept, the one that lacks most first."""
        lacking = [one for one in self.plan.comforts if one.counts and not reaches(one.kept, 1.0)]
        return tuple(sorted(
            lacking, key=lambda one: -one.comfort.importance * (1.0 - one.kept)))


@dataclass(frozen=True)
class Options:
    """Plans to choose from, cheapest first, and the references.

    Attributes
    ----------
    choices : tuple of Option
        The cheaper one, the recommended one, everything; an option that is the same plan as
        another, or does not exist, is missing.
    reaches_goal : bool
        Whether the recommended one reaches the goal; if not it is the nearest.
    sheds_nothing : ShedsNothing or None
        The size without load shedding; None if the book has none.
    air_cooled : Option or None
        The largest air-cooled size with the fewest modules; None if none reaches the goal.
    """

    choices: tuple[Option, ...]
    reaches_goal: bool
    sheds_nothing: ShedsNothing | None
    air_cooled: Option | None

    def named(self, name: OptionName) -> Option | None:
        """Find an option by its name; None if there is none."""
        return next((one for one in self.choices if one.name == name), None)


def options(
    home: Home, book: PriceBook, coverage: float = USUAL_COVERAGE, *,
    known: Frontier | None = None, none_starved: bool = True, share: float = TO_QUOTE,
    best: Recommendation | None = None, on_progress: OnProgress | None = None,
) -> Options:
    """Plan the options of a home.

    Parameters
    ----------
    home, book : Home, PriceBook
        The home and what can be bought.
    coverage : float
        The goal, 0-1.
    known : Frontier, optional
        The frontier of the home, if it is known already.
    none_starved, share
        As for `planner.study.recommend.recommend`.
    best : Recommendation, optional
        What that recommends for this goal, if it is known already.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.

    Raises
    ------
    NoPlanError
        If nothing serves the home at all.
    """
    tell = on_progress or unheard
    whole = known or frontier(home, book, on_progress=part_of(tell, 0.0, WHOLE))
    at_start = part_of(tell, WHOLE, WHOLE)
    reached = whole.covering(coverage) is not None
    houses = houses_like(home)
    best = best or recommend(
        home, book, coverage if reached else whole.points[-1].coverage, houses=houses,
        none_starved=none_starved, known=whole, share=share, on_progress=at_start)
    plan = best.plan
    found = [Option("recommended", home, plan, (), best.confidence)]
    cheaper = cheaper_of(home, book, whole, (1.0 - LESS) * plan.cost_usd,
                         part_of(tell, WHOLE, CHEAPER))
    if cheaper is not None:
        found.insert(0, _with_confidence(Option("cheaper", *cheaper), share,
                                         part_of(tell, CHEAPER, CHEAPER)))
    everything = None if reaches(plan.coverage, 1.0) else _everything(
        home, book, whole, houses, share, part_of(tell, CHEAPER, EVERYTHING))
    if everything is not None:
        found.append(Option("everything", home, everything.plan, (), everything.confidence))
    at_end = part_of(tell, EVERYTHING, REFERENCE)
    return Options(tuple(found), reached, sheds_nothing(home, book, at_end),
                   _air_cooled(home, book, coverage, at_end))


def _everything(
    home: Home, book: PriceBook, whole: Frontier, houses: Houses, share: float, tick: OnProgress
) -> Recommendation | None:
    """The cheapest plan in which nothing is missed, which may stand within a step of the last."""
    first = whole.covering(1.0) or cheapest_reaching(problems_of(home, book), 1.0, tick)
    if first is None:
        return None
    known = Frontier((*(one for one in whole.points if one.cost_usd < first.cost_usd), first))
    return recommend(home, book, 1.0, known=known, none_starved=False, share=share, houses=houses,
                     on_progress=tick)


def _with_confidence(option: Option, share: float, tick: OnProgress) -> Option:
    return option if share <= 0.0 else replace(option, confidence=confidence_of(
        option.plan, houses_like(option.home), on_progress=tick))


def _air_cooled(
    home: Home, book: PriceBook, coverage: float, tick: OnProgress
) -> Option | None:
    """The plan with the fewest modules of the largest air-cooled size; None if it misses the goal.

    Every module is priced so much higher that one less always pays, and what it really costs only
    decides where the numbers are equal.
    """
    dear = replace(book, modules=tuple(replace(one, price=one.price + MODULE_USD)
                                       for one in book.modules))
    air = [one for one in problems_of(home, dear) if one.menu.generator.cooling == "air"]
    if not air:
        return None
    largest_kw = max(one.supply.derated_kw for one in air)
    largest = [one for one in air if one.supply.derated_kw == largest_kw]
    fewest = cheapest_reaching(largest, coverage, tick)
    if fewest is None:
        return None
    same = same_equipment(fewest, fewest.menu.house, book)
    return None if isinstance(same, str) else Option(
        "air-cooled", home, Plan(*same, fewest.choice))
