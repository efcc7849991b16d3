"""What is put before the family: up to four plans to choose from, and what stands beside."""

from __future__ import annotations

from collections.abc import Callable
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
from planner.study.reference import ShedsNothing, everything_direct, sheds_nothing
from planner.study.wishes import Wish
from planner.tolerances import DOLLAR, reaches

OptionName = Literal["cheaper", "recommended", "everything", "nothing waits", "air-cooled"]

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
        missed; ``nothing waits``: the cheapest in which everything is always connected;
        ``air-cooled``: the largest air-cooled size with the fewest modules that reaches the goal.
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

    def is_same(self, other: Option) -> bool:
        """Whether it is the same plan: the same equipment, worked in the same way."""
        one, two = self.plan, other.plan
        return (one.supply.generator.id == two.supply.generator.id and one.choice == two.choice
                and abs(one.cost_usd - two.cost_usd) < DOLLAR)


OnOption = Callable[[Option], object]
"""Told of an option as soon as it is known, again when more is known of it."""


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
    nothing_waits : Option or None
        The cheapest in which everything is always connected; None if the book has none.
    """

    choices: tuple[Option, ...]
    reaches_goal: bool
    sheds_nothing: ShedsNothing | None
    air_cooled: Option | None
    nothing_waits: Option | None = None

    @property
    def cards(self) -> tuple[Option, ...]:
        """What is put side by side: the choices, then where it is another plan, nothing waits."""
        last = self.nothing_waits
        if last is None or any(one.is_same(last) for one in self.choices):
            return self.choices
        return (*self.choices, last)

    @property
    def recommended(self) -> Option:
        """The recommended one."""
        return next((one for one in self.choices if one.name == "recommended"), self.choices[0])

    @property
    def next_up(self) -> Option | None:
        """The next step up from the recommended one; None if nothing here is dearer."""
        above_usd = self.recommended.plan.cost_usd + DOLLAR
        dearer = [one for one in (self.named("everything"), self.air_cooled, self.nothing_waits)
                  if one is not None and one.plan.cost_usd > above_usd]
        return min(dearer, key=lambda one: one.plan.cost_usd, default=None)

    def named(self, name: OptionName) -> Option | None:
        """Find an option by its name; None if there is none."""
        return next((one for one in self.choices if one.name == name), None)


def options(
    home: Home, book: PriceBook, coverage: float = USUAL_COVERAGE, *,
    known: Frontier | None = None, none_starved: bool = True, share: float = TO_QUOTE,
    best: Recommendation | None = None, on_progress: OnProgress | None = None,
    on_option: OnOption = bool,
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
    on_option : callable, optional
        Told of every option before the others are known.

    Raises
    ------
    NoPlanError
        If nothing serves the home at all.
    """
    tell = on_progress or unheard
    direct = everything_direct(home, book, part_of(tell, 0.0, 0.0))
    last = None if direct is None else Option("nothing waits", home, direct)
    if last is not None:
        on_option(last)
    whole = known or frontier(home, book, on_progress=part_of(tell, 0.0, WHOLE))
    at_start = part_of(tell, WHOLE, WHOLE)
    reached = whole.covering(coverage) is not None
    houses = houses_like(home)
    best = best or recommend(
        home, book, coverage if reached else whole.points[-1].coverage, houses=houses,
        none_starved=none_starved, known=whole, share=share, on_progress=at_start)
    plan = best.plan
    found = [Option("recommended", home, plan, (), best.confidence)]
    on_option(found[0])
    cheaper = cheaper_of(home, book, whole, (1.0 - LESS) * plan.cost_usd,
                         part_of(tell, WHOLE, CHEAPER))
    if cheaper is not None:
        found.insert(0, _with_confidence(Option("cheaper", *cheaper), share,
                                         part_of(tell, CHEAPER, CHEAPER)))
        on_option(found[0])
    everything = None if reaches(plan.coverage, 1.0) else _everything(
        home, book, whole, houses, share, part_of(tell, CHEAPER, EVERYTHING))
    if everything is not None:
        found.append(Option("everything", home, everything.plan, (), everything.confidence))
        on_option(found[-1])
    at_end = part_of(tell, EVERYTHING, REFERENCE)
    if last is not None:
        last = _with_confidence(last, share, part_of(tell, EVERYTHING, EVERYTHING))
    return Options(tuple(found), reached, sheds_nothing(home, book, at_end),
                   _air_cooled(home, book, coverage, at_end), last)


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
