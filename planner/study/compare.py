"""Several sizes side by side, with the reference in which no load is shed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import TYPE_CHECKING

from planner.errors import NoPlanError, NotFoundError
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.quoting import some
from planner.search.frontier import Frontier, frontier, frontier_of
from planner.search.limits import USUAL_LIMITS, SearchLimits, Stop, Stopped
from planner.search.problem import sized
from planner.study.comfort_changes import ComfortChange, comfort_changes
from planner.study.confidence import TO_QUOTE, Confidence, confidence_of, houses_like
from planner.study.reaching import cheapest_reaching
from planner.study.recommend import recommend
from planner.study.reference import everything_direct

if TYPE_CHECKING:
    import pandas as pd

SIZES_BELOW, SIZES_ABOVE = 1, 2  # shown around the recommended size
SHARE_OF_ALL = 0.6  # of the time, a guess, for the frontier of all sizes


@dataclass(frozen=True)
class Step:
    """From one plan of a comparison to the next: what it costs, and what it does for the comforts.

    Attributes
    ----------
    smaller, larger : str
        Generator ids.
    more_usd : float
        What the larger costs more, installed [USD]; below 0 where it costs less.
    changes : tuple of ComfortChange
        The comforts that differ, those that differ most first.
    """

    smaller: str
    larger: str
    more_usd: float
    changes: tuple[ComfortChange, ...]


@dataclass(frozen=True)
class Comparison:
    """Plans by generator id, smallest size first, and the reference (None if there is none).

    `missing` lists generators that were asked for and have no plan, `not_found` those of which none
    was found and it is not known whether there is one; `confidence` says in how many houses that
    fit the file each plan holds, `recommended` which one is, where that was asked. Of sizes in
    `maybe_more` a plan that keeps as much as is asked for, or that for less, may exist, though it
    was not found. Where
    the end was asked for early the reference is not known.
    """

    plans: dict[str, Plan]
    reference: Plan | None
    missing: tuple[str, ...]
    confidence: dict[str, Confidence] = field(default_factory=dict)
    recommended: str | None = None
    not_found: tuple[str, ...] = ()
    maybe_more: tuple[str, ...] = ()
    reference_known: bool = True

    def __repr__(self) -> str:
        """Say in a line which sizes are compared."""
        reference = "" if self.reference is None else ", and without load shedding"
        return f"<Comparison of {some(list(self.plans))}{reference}>"

    def steps(self) -> tuple[Step, ...]:
        """What changes from each size to the next larger one, comfort by comfort."""
        return tuple(
            Step(one, other, self.plans[other].cost_usd - self.plans[one].cost_usd,
                 comfort_changes(self.plans[one], self.plans[other]))
            for one, other in pairwise(self.plans))

    def frame(self) -> pd.DataFrame:
        """Give the plans as a frame, one row each, the reference last."""
        import pandas as pd  # noqa: PLC0415 - slow to import, and seldom needed

        rows = {name: plan.facts() for name, plan in self.plans.items()}
        if self.reference is not None:
            rows["no load shedding"] = self.reference.facts()
        return pd.DataFrame.from_dict(rows, orient="index")


def compare(
    home: Home, book: PriceBook, generators: Sequence[str] = (), *,
    coverage: float = USUAL_COVERAGE, none_starved: bool = True,
    limits: SearchLimits = USUAL_LIMITS, on_progress: OnProgress | None = None,
) -> Comparison:
    """Put the best plan of several sizes side by side.

    Parameters
    ----------
    home, book : Home, PriceBook
        The home and what can be bought.
    generators : sequence of str
        Ids to compare; if empty, the recommended size and its neighbours on the frontier, four at
        most.
    coverage : float
        Of each size the plan is shown that would be recommended if there were no other, else the
        one that covers most.
    none_starved : bool
        As for `planner.study.recommend.recommend`.
    limits : SearchLimits, optional
        How long is searched. Where the search is stopped, sizes are shown with the best that was
        found of them.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.

    Raises
    ------
    NoPlanError
        If no size has a plan, or an id is not in the book.
    NotFoundError
        If no plan was found, and it is not known whether there is one.
    """
    known = [generator.id for generator in book.generators]
    unknown = [name for name in generators if name not in known]
    if unknown:
        missing = some([str(name) for name in unknown])
        message = f"{book.label} has no generator {missing}; it has {some(known)}."
        raise NoPlanError(message)
    tell = on_progress or unheard
    plans: dict[str, Plan] = {}
    wanted, recommended = list(generators), None
    begun = 0.0 if wanted else SHARE_OF_ALL
    whole = Frontier(())
    if not wanted:
        whole = frontier(home, book, limits=limits, on_progress=part_of(tell, 0.0, SHARE_OF_ALL))
        chosen = _recommended(home, book, coverage, whole, none_starved=none_starved,
                              share=TO_QUOTE, limits=limits,
                              tick=part_of(tell, SHARE_OF_ALL, SHARE_OF_ALL))
        wanted = _around(whole, chosen)
        recommended = chosen.supply.generator.id
        plans[recommended] = chosen
    unknown, more = [], []
    for number, name in enumerate(wanted):
        if name not in plans:
            mine = part_of(part_of(tell, begun, 1.0), number / len(wanted),
                           (number + 1) / len(wanted))
            try:
                own = _of_size(home, book, name, whole, limits, mine)
            except NotFoundError:
                unknown.append(name)
                continue
            except NoPlanError:
                continue
            enough = own.covering(coverage)
            if own.may_cover(coverage, enough.cost_usd if enough else float("inf")):
                more.append(name)
            plans[name] = _recommended(home, book, coverage, own, none_starved=none_starved)
    if not plans and unknown:
        raise NotFoundError(f"No plan for {home.label} with {', '.join(unknown)} was found; "
                            "whether there is one is not known. Let it look longer.")
    if not plans:
        message = f"None of {', '.join(wanted)} has a plan for {home.label}."
        raise NoPlanError(message)
    smallest_first = sorted(plans, key=lambda name: plans[name].supply.derated_kw)
    shown = {name: plans[name] for name in smallest_first}
    is_known, reference, confidence = _beside(home, book, shown, limits, part_of(tell, 1.0, 1.0))
    return Comparison(
        shown, reference, tuple(name for name in wanted if name not in (*plans, *unknown)),
        confidence, recommended, tuple(unknown), tuple(more), is_known)


def _beside(
    home: Home, book: PriceBook, plans: dict[str, Plan], limits: SearchLimits, tick: OnProgress
) -> tuple[bool, Plan | None, dict[str, Confidence]]:
    """The reference, if it is known, and in how many houses each plan holds.

    What somebody does not wait for is left out.
    """
    known, reference, found = False, None, {}
    heard = (limits.stop or Stop()).without_clock().watched(tick)
    try:
        heard(0.0)
        reference = everything_direct(home, book, heard)
        known = True
        houses = houses_like(home)
        for name, plan in plans.items():
            found[name] = confidence_of(plan, houses, on_progress=part_of(heard, 0.0, 0.0))
    except Stopped:
        pass
    return known, reference, found


def _of_size(
    home: Home, book: PriceBook, name: str, whole: Frontier, limits: SearchLimits, tick: OnProgress
) -> Frontier:
    """The frontier of one size; if the search was stopped, what the common one has of it."""
    known = tuple(plan for plan in whole.points if plan.supply.generator.id == name)
    if known and limits.is_stopped:
        return replace(whole, points=known)
    try:
        return frontier_of(sized(home, book, name, limits), home, book, on_progress=tick)
    except NotFoundError:
        if not known:
            raise
        return replace(whole, points=known)


def plan_of_size(
    home: Home, book: PriceBook, generator: str, coverage: float,
    on_progress: OnProgress | None = None,
) -> Plan | None:
    """Find the cheapest plan of one size that covers this much, else the one that covers most.

    None if the size has no plan, or is not in the book. `on_progress` is told the share done, 0-1.
    """
    tell = on_progress or unheard
    problems = sized(home, book, generator)
    plan = cheapest_reaching(problems, coverage, part_of(tell, 0.0, 0.5))
    if plan is not None:
        return plan
    try:
        return frontier_of(problems, home, book, on_progress=part_of(tell, 0.5, 1.0)).points[-1]
    except NoPlanError:
        return None


def _recommended(
    home: Home, book: PriceBook, coverage: float, known: Frontier, *, none_starved: bool,
    share: float = 0.0, limits: SearchLimits = USUAL_LIMITS, tick: OnProgress = unheard,
) -> Plan:
    """What would be recommended of these plans; what covers most where none reaches the goal.

    Where a `share` is asked for, it may be one that stands beside them.
    """
    if known.covering(coverage) is None:
        return known.points[-1]
    return recommend(home, book, coverage, none_starved=none_starved, known=known, share=share,
                     limits=limits, on_progress=tick).plan


def _around(whole: Frontier, chosen: Plan) -> list[str]:
    """Ids of the size of a plan and of its neighbours on the frontier, by rising cost."""
    on_frontier = list(dict.fromkeys(plan.supply.generator.id for plan in whole.points))
    mine = chosen.supply.generator.id
    if mine not in on_frontier:
        cheaper = {plan.supply.generator.id for plan in whole.points
                   if plan.cost_usd < chosen.cost_usd}
        on_frontier.insert(len([one for one in on_frontier if one in cheaper]), mine)
    place = on_frontier.index(mine)
    return on_frontier[max(0, place - SIZES_BELOW) : place + 1 + SIZES_ABOVE]
