"""The plan with the smallest generator that reaches a coverage."""

from __future__ import annotations

from dataclasses import replace

from planner.errors import NoPlanError, NotFoundError
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.plan import Plan
from planner.plan.starved import starved
from planner.progress import OnProgress, part_of, unheard
from planner.search.frontier import frontier, frontier_of
from planner.search.limits import USUAL_LIMITS, SearchLimits
from planner.search.problem import problems_of
from planner.study.recommend import Recommendation, recommend
from planner.study.unreached import out_of_reach


def smallest(
    home: Home, book: PriceBook, coverage: float = USUAL_COVERAGE, *, none_starved: bool = True,
    limits: SearchLimits = USUAL_LIMITS, on_progress: OnProgress | None = None,
) -> Recommendation:
    """Recommend the smallest generator that reaches a coverage, and its cheapest plan that does.

    Sizes are tried by rising derated kW. Where all that reach it leave something that matters
    without power, the first of them is taken. `on_progress` is told the share done, 0-1.

    Raises
    ------
    NoPlanError
        If no size covers that much; says what can be covered and at what cost.
    NotFoundError
        If none was found that does, and it is not proven that there is none.
    """
    tell = on_progress or unheard
    problems = problems_of(home, book, limits)
    sizes_kw = sorted({problem.supply.derated_kw for problem in problems})
    first: Plan | None = None
    nearest: Plan | None = None
    unsure = False
    for number, size_kw in enumerate(sizes_kw):
        mine = [p for p in problems if p.supply.derated_kw == size_kw]
        tick = part_of(tell, number / len(sizes_kw), (number + 1) / len(sizes_kw))
        try:
            own = frontier_of(mine, home, book, on_progress=tick)
        except NotFoundError:
            unsure = True
            continue
        except NoPlanError:
            continue
        if own.covering(coverage) is None:
            unsure = unsure or own.may_cover(coverage)
            nearest = max([*([nearest] if nearest else []), own.points[-1]],
                          key=lambda plan: plan.coverage)
            continue
        found = recommend(home, book, coverage, none_starved=none_starved, share=0.0, known=own)
        if not none_starved or not starved(found.plan):
            return replace(found, smaller_open=unsure)
        first = first or found.plan
    if first is None and nearest is not None and limits.is_stopped:
        return Recommendation(nearest, coverage, reached=False, smaller_open=unsure)
    if first is None:
        everything = frontier(home, book, limits=limits, on_progress=part_of(tell, 1.0, 1.0))
        first = everything.covering(coverage) or out_of_reach(home, everything, coverage)
    return Recommendation(first, coverage, smaller_open=unsure)
