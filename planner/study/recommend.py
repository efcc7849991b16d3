"""The plan that is recommended: the same on the command line, in the pages and from Python."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from planner.errors import NotFoundError
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.lines import can_be_wired
from planner.plan.plan import Plan
from planner.plan.starved import starved
from planner.progress import OnProgress, part_of, unheard
from planner.search.cheapest import cheapest_of
from planner.search.frontier import Frontier, frontier
from planner.search.limits import USUAL_LIMITS, SearchLimits, Stop, Stopped
from planner.search.problem import problems_of
from planner.study.candidates import Candidates
from planner.study.confidence import (
    TO_QUOTE,
    Comparing,
    Confidence,
    Houses,
    confidence_of,
    houses_like,
)
from planner.study.unreached import out_of_reach, too_little
from planner.tolerances import costs_at_most, reaches

ALONE = 0.5  # of the time, a guess, for the cheapest plan alone
MOST_COMPARED = 400
"""Plans among which one that holds in enough houses is looked for (a choice)."""


@dataclass(frozen=True)
class Recommendation:
    """The plan that is recommended.

    Attributes
    ----------
    plan : Plan
    coverage : float
        What it was made for, 0-1; everything that is asked about it is asked for the same.
    starving : Plan or None
        A cheaper plan that reaches the goal too, but leaves something that matters without power.
    confidence : Confidence or None
        In how many of the houses that fit the file the plan holds; None where that was not asked.
    asked : float
        The share of houses that was asked for, 0-1.
    frail : Plan or None
        A cheaper plan that reaches the goal in the house as it is assumed to be, but holds in fewer
        houses than were asked for.
    frail_confidence : Confidence or None
        In how many that one holds.
    nearest : Plan or None
        Of the plans that were compared and hold in too few houses, the cheaper one that holds in
        most, where it is another than `frail`.
    nearest_confidence : Confidence or None
        In how many that one holds.
    reached : bool
        Whether the plan covers as much; if not, the search was ended before one that does was
        found, and the plan is the one that covers most of those found.
    smaller_open : bool
        Where the smallest generator is asked for: whether a smaller one might do as well.
    """

    plan: Plan
    coverage: float
    starving: Plan | None = None
    confidence: Confidence | None = None
    asked: float = 0.0
    frail: Plan | None = None
    frail_confidence: Confidence | None = None
    nearest: Plan | None = None
    nearest_confidence: Confidence | None = None
    reached: bool = True
    smaller_open: bool = False

    @property
    def cheapest(self) -> Plan:
        """The cheapest plan for the goal in the house as it is assumed to be."""
        return self.frail or self.plan

    @property
    def holds(self) -> bool:
        """Whether it holds in as many houses as were asked for."""
        return self.confidence is None or self.confidence.share >= self.asked


def recommend(
    home: Home,
    book: PriceBook,
    coverage: float = USUAL_COVERAGE,
    *,
    budget_usd: float | None = None,
    none_starved: bool = True,
    known: Frontier | None = None,
    quickly: bool = False,
    share: float = TO_QUOTE,
    houses: Houses | None = None,
    limits: SearchLimits = USUAL_LIMITS,
    on_progress: OnProgress | None = None,
) -> Recommendation:
    """Recommend the cheapest plan that reaches a coverage, or the best that a budget buys.

    Every plan keeps all promises and must-haves, and it holds in enough of the houses that fit the
    file: it is the cheapest of those that are compared (`planner.study.candidates`). Where none of
    them holds in enough, the one that holds in most is taken.

    Parameters
    ----------
    home, book : Home, PriceBook
        The home and what can be bought.
    coverage : float
        The goal, 0-1; not read where there is a budget.
    budget_usd : float, optional
        Largest installed cost [USD]; the plan covers as much as it buys.
    none_starved : bool
        Whether a dearer plan is taken where the cheapest that reaches the coverage never serves
        something that matters, and one on the frontier does.
    known : Frontier, optional
        The frontier of the home, if it is known already.
    quickly : bool
        Whether to look for that plan alone instead of the whole frontier; nothing is then known of
        how good it is among plans of its cost.
    share : float
        Of the houses that fit the file, in which the plan has to hold, 0-1; 0: it is not asked. A
        budget buys what covers most whatever it holds in.
    houses : Houses, optional
        These houses, if they are drawn already.
    limits : SearchLimits, optional
        How long is searched; what stops the search stops the comparison of plans as well.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.

    Raises
    ------
    NoPlanError
        If nothing covers that much, costs so little, or serves the home at all; says what can be
        had.
    NotFoundError
        If none was found that does, and it is not proven that there is none.
    """
    tell = on_progress or unheard
    timed = limits.stop is not None and limits.stop.seconds is not None
    alone = (quickly or timed) and known is None and budget_usd is None
    later = part_of(tell, ALONE if alone else 0.0, 1.0)
    seen = known

    def whole() -> Frontier:
        nonlocal seen
        seen = seen or frontier(home, book, limits=limits, on_progress=later)
        return seen

    if budget_usd is not None:
        points = whole()
        bought = points.within(budget_usd) or too_little(home, points, budget_usd)
        return _with_confidence(Recommendation(bought, bought.coverage), home, houses, share,
                                limits, later)
    cheapest = _alone(home, book, coverage, limits, part_of(tell, 0.0, ALONE)) if alone else None
    if timed or not alone:
        seen = whole() if cheapest is None else _beside(cheapest, whole)
        cheapest = seen.covering(coverage)
    plan = cheapest or _looked_for(home, book, whole(), coverage, limits, later)
    if plan is None and not limits.is_stopped:
        plan = out_of_reach(home, whole(), coverage)
    if plan is None:
        return _with_confidence(Recommendation(whole().points[-1], coverage, reached=False), home,
                                houses, share, limits, later)
    found = Recommendation(plan, coverage)
    if none_starved and starved(plan):
        better = next((one for one in whole().points
                       if reaches(one.coverage, plan.coverage) and not starved(one)), None)
        found = Recommendation(better, better.coverage, plan) if better else found
    if share <= 0.0:
        return found
    drawn = houses or houses_like(home)
    found = replace(_with_confidence(found, home, drawn, share, limits, later), asked=share)
    if (found.holds and can_be_wired(found.plan)) or limits.is_stopped:
        return found
    stop = limits.stop or Stop()
    search = Candidates(whole(), problems_of(home, book, limits), found.coverage,
                        stop.watched(later))
    best = _sturdier(found, search, drawn, stop.watched(part_of(later, 1.0, 1.0)),
                     none_starved=none_starved and not starved(found.plan))
    return best if best.plan.bound is not None else replace(
        best, plan=_bounded(best.plan, whole()))


def _alone(
    home: Home, book: PriceBook, coverage: float, limits: SearchLimits, tick: OnProgress
) -> Plan | None:
    """The cheapest plan for the goal, looked for without the rest; in half of the time left."""
    stop = limits.stop.half() if limits.stop is not None else None
    return cheapest_of(problems_of(home, book, replace(limits, stop=stop)), home, book, coverage,
                       tick)


def _beside(plan: Plan, whole: Callable[[], Frontier]) -> Frontier:
    """The frontier as far as it is known, with a plan that was found before."""
    try:
        found = whole()
    except NotFoundError:  # the clock left no time for it
        return Frontier((replace(plan, bound=1.0),), ((0.0, 1.0),))
    better = [one for one in found.points if costs_at_most(one.cost_usd, plan.cost_usd)
              and reaches(one.coverage, plan.coverage)]
    if better:
        return found
    points = [one for one in found.points if one.cost_usd < plan.cost_usd
              or one.coverage > plan.coverage]
    added = (*points, replace(plan, bound=found.bound_at(plan.cost_usd) or 1.0))
    return replace(found, points=tuple(sorted(added, key=lambda one: one.cost_usd)))


def _bounded(plan: Plan, whole: Frontier) -> Plan:
    """A plan beside the frontier, with what the frontier says of its cost."""
    return replace(plan, bound=whole.bound_at(plan.cost_usd))


def _looked_for(
    home: Home, book: PriceBook, whole: Frontier, coverage: float, limits: SearchLimits,
    tick: OnProgress,
) -> Plan | None:
    """The cheapest plan for a goal that the frontier left open; None if it is not found alone."""
    if not whole.may_cover(coverage) or limits.is_stopped:
        return None
    found = cheapest_of(problems_of(home, book, limits), home, book, coverage,
                        part_of(tick, 1.0, 1.0))
    return None if found is None else _bounded(found, whole)


def _with_confidence(
    found: Recommendation, home: Home, houses: Houses | None, share: float, limits: SearchLimits,
    later: OnProgress,
) -> Recommendation:
    """Say in how many houses the plan holds, unless that is not asked, or somebody asks to end."""
    if share <= 0.0:
        return found
    heard = part_of(later, 0.0, 0.0)  # that it goes on
    if limits.stop is None:
        return replace(found, confidence=confidence_of(
            found.plan, houses or houses_like(home), on_progress=heard))
    try:
        watched = limits.stop.without_clock().watched(heard)
        watched(0.0)
        return replace(found, confidence=confidence_of(
            found.plan, houses or houses_like(home), on_progress=watched))
    except Stopped:
        return found


def _sturdier(
    found: Recommendation, search: Candidates, houses: Houses, heard: OnProgress, *,
    none_starved: bool,
) -> Recommendation:
    """The cheapest of the plans compared that holds in enough houses, else that holds in most."""
    best, most = found.plan, found.confidence.share if found.confidence else 0.0
    try:
        comparing = Comparing(found.plan, houses, found.asked, heard)
        for number, plan in enumerate(search):
            if number >= MOST_COMPARED:
                break
            if plan is found.plan or (none_starved and starved(plan)):
                continue
            share = comparing.share_of(plan)
            if share <= most and share < found.asked:
                continue
            if not can_be_wired(plan):
                search.strengthen(plan)
                continue
            if share >= found.asked:
                done = _instead_of(found, plan, confidence_of(plan, houses))
                return done if best is found.plan else replace(
                    done, nearest=best, nearest_confidence=confidence_of(best, houses))
            best, most = plan, share
            search.strengthen(plan)
    except Stopped:
        return found
    if best is found.plan:
        return found
    return _instead_of(found, best, confidence_of(best, houses))


def _instead_of(found: Recommendation, plan: Plan, sure: Confidence) -> Recommendation:
    """Recommend a sturdier plan; the one before stands beside it, if that costs less."""
    done = replace(found, plan=plan, confidence=sure)
    if found.plan.cost_usd > plan.cost_usd:  # the frontier was cut short, or left a gap
        return done
    return replace(done, frail=found.plan, frail_confidence=found.confidence)
