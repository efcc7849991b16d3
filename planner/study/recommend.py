"""The plan that is recommended: the same on the command line, in the pages and from Python."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.errors import NoPlanError
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.lines import can_be_wired
from planner.plan.plan import Plan
from planner.plan.starved import starved
from planner.progress import OnProgress, part_of, unheard
from planner.search.cheapest import cheapest_of
from planner.search.frontier import Frontier, frontier, frontier_of
from planner.search.problem import problems_of
from planner.study.candidates import Candidates
from planner.study.confidence import TO_QUOTE, Confidence, Houses, confidence_of, houses_like
from planner.tolerances import ceiled, floored, reaches

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
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.

    Raises
    ------
    NoPlanError
        If nothing covers that much, costs so little, or serves the home at all; says what can be
        had.
    """
    tell = on_progress or unheard
    alone = quickly and known is None and budget_usd is None
    later = part_of(tell, ALONE if alone else 0.0, 1.0)
    seen = known

    def whole() -> Frontier:
        nonlocal seen
        seen = seen or frontier(home, book, on_progress=later)
        return seen

    if budget_usd is not None:
        points = whole()
        bought = points.within(budget_usd) or _too_little(home, points, budget_usd)
        found = Recommendation(bought, bought.coverage)
        return found if share <= 0.0 else replace(
            found, confidence=confidence_of(bought, houses or houses_like(home),
                                            on_progress=part_of(later, 1.0, 1.0)))
    cheapest = (cheapest_of(problems_of(home, book), home, book, coverage,
                            part_of(tell, 0.0, ALONE)) if alone else whole().covering(coverage))
    plan = cheapest or _out_of_reach(home, whole(), coverage)
    found = Recommendation(plan, coverage)
    if none_starved and starved(plan):
        better = next((one for one in whole().points
                       if reaches(one.coverage, plan.coverage) and not starved(one)), None)
        found = Recommendation(better, better.coverage, plan) if better else found
    if share <= 0.0:
        return found
    drawn = houses or houses_like(home)
    heard = part_of(later, 0.0, 0.0)  # that it goes on
    found = replace(found, confidence=confidence_of(found.plan, drawn, on_progress=heard),
                    asked=share)
    if found.holds and can_be_wired(found.plan):
        return found
    search = Candidates(whole(), problems_of(home, book), found.coverage, later)
    best = _sturdier(found, search, drawn, part_of(later, 1.0, 1.0),
                     none_starved=none_starved and not starved(found.plan))
    bound = whole().bound_at(best.plan.cost_usd)
    return best if best.plan.bound is not None else replace(
        best, plan=replace(best.plan, bound=bound))


def _sturdier(
    found: Recommendation, search: Candidates, houses: Houses, heard: OnProgress, *,
    none_starved: bool,
) -> Recommendation:
    """The cheapest of the plans compared that holds in enough houses, else that holds in most."""
    first = found.confidence
    best, most = found.plan, first.share if first else 0.0
    for number, plan in enumerate(search):
        if number >= MOST_COMPARED:
            break
        if none_starved and starved(plan):
            continue
        played = confidence_of(plan, houses, least=found.asked, on_progress=heard)
        if played.share <= most and played.share < found.asked:
            continue
        if not can_be_wired(plan):
            search.strengthen(plan)
            continue
        if played.share >= found.asked and played.houses == houses.count:
            done = replace(found, plan=plan, confidence=played, frail=found.plan,
                           frail_confidence=first)
            if best is found.plan:
                return done
            near = confidence_of(best, houses, on_progress=heard)
            return replace(done, nearest=best, nearest_confidence=near)
        best, most = plan, played.share
        search.strengthen(plan)
    if best is found.plan:
        return found
    sure = confidence_of(best, houses, on_progress=heard)
    return replace(found, plan=best, confidence=sure, frail=found.plan, frail_confidence=first)


def smallest(
    home: Home, book: PriceBook, coverage: float = USUAL_COVERAGE, *, none_starved: bool = True,
    on_progress: OnProgress | None = None,
) -> Recommendation:
    """Recommend the smallest generator that reaches a coverage, and its cheapest plan that does.

    Sizes are tried by rising derated kW. Where all that reach it leave something that matters
    without power, the first of them is taken. `on_progress` is told the share done, 0-1.

    Raises
    ------
    NoPlanError
        If no size covers that much; says what can be covered and at what cost.
    """
    tell = on_progress or unheard
    problems = problems_of(home, book)
    sizes_kw = sorted({problem.supply.derated_kw for problem in problems})
    first: Plan | None = None
    for number, size_kw in enumerate(sizes_kw):
        mine = [p for p in problems if p.supply.derated_kw == size_kw]
        tick = part_of(tell, number / len(sizes_kw), (number + 1) / len(sizes_kw))
        try:
            found = recommend(home, book, coverage, none_starved=none_starved, share=0.0,
                              known=frontier_of(mine, home, book, on_progress=tick))
        except NoPlanError:
            continue
        if not none_starved or not starved(found.plan):
            return found
        first = first or found.plan
    if first is None:
        everything = frontier(home, book, on_progress=part_of(tell, 1.0, 1.0))
        first = _out_of_reach(home, everything, coverage)
    return Recommendation(first, coverage)


def _out_of_reach(home: Home, found: Frontier, coverage: float) -> Plan:
    most = found.points[-1]
    most_percent = floored(100.0 * most.coverage, 0.1)
    message = (f"No plan for {home.label} covers {100.0 * coverage:g} %. The most is "
               f"{most_percent:.1f} % ({most.supply.generator.label}, "
               f"{ceiled(most.cost_usd, 1.0):,.0f} USD). Ask for {most_percent:.1f} % or less.")
    raise NoPlanError(message)


def _too_little(home: Home, found: Frontier, budget_usd: float) -> Plan:
    least = found.points[0]
    least_usd = ceiled(least.cost_usd, 1.0)
    message = (f"No plan for {home.label} costs {budget_usd:,.0f} USD or less. The cheapest "
               f"that keeps what is promised and what must run costs {least_usd:,.0f} USD "
               f"({least.supply.generator.label}, coverage "
               f"{floored(100.0 * least.coverage, 0.1):.1f} %). Allow {least_usd:.0f} USD or "
               "more.")
    raise NoPlanError(message)
