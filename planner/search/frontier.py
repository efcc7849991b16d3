"""Cost against coverage: every plan of a home that no other plan beats on both.

All sizes are searched together by rising cost (`rising.py`); the search proves what it finds, and
where it was cut short the gap is stated.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.errors import NoPlanError, NotFoundError
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.helping.no_plan import none_in_time, why_no_plan
from planner.search.helping.what_helps import helping_findings
from planner.search.limits import LEAST_GAIN, USUAL_LIMITS, Ended, SearchLimits, Stop, Stopped
from planner.search.patience import risen
from planner.search.problem import Problem, problems_of
from planner.search.rising import Rising
from planner.search.still_open import Steps, most_at, most_below
from planner.tolerances import costs_at_most, reaches

if TYPE_CHECKING:
    import pandas as pd

SEARCH, PLANS = 0.95, 1.0  # where the search ends and the plans are made, of the time, a guess

OnPoint = Callable[[Plan], None]


@dataclass(frozen=True, repr=False)
class Frontier:
    """Non-dominated plans by rising cost, each with its proof.

    Attributes
    ----------
    points : tuple of Plan
    still_open : tuple of (float, float)
        What the search did not decide: cost from which on [USD], coverage that might be had (0-1).
    ended
        What ended the search before it was done: ``clock``, ``asked``; empty if nothing did.
    """

    points: tuple[Plan, ...]
    still_open: Steps = ()
    ended: Ended = ""

    def __repr__(self) -> str:
        """Say in a line how many plans there are, from which to which."""
        ends = f", {self.points[0]!r} to {self.points[-1]!r}" if self.points else ""
        return f"<Frontier: {len(self.points)} plans{ends}>"

    def frame(self) -> pd.DataFrame:
        """Give the plans as a frame, one row each, by rising cost."""
        import pandas as pd  # noqa: PLC0415 - slow to import, and seldom needed

        return pd.DataFrame([plan.facts() for plan in self.points])

    @property
    def widest_gap(self) -> float:
        """Largest coverage that might still be won at any point."""
        return max((plan.proof.gap for plan in self.points), default=0.0)

    def bound_at(self, usd: float) -> float | None:
        """What no plan of at most this cost covers more than; None if that is not known.

        Dearer than a point a plan may cover up to `LEAST_GAIN` more without being one itself.
        """
        known = [(plan.bound, plan.cost_usd) for plan in self.points
                 if costs_at_most(plan.cost_usd, usd)]
        bounds = [bound if costs_at_most(usd, cost_usd) else min(1.0, bound + LEAST_GAIN)
                  for bound, cost_usd in known if bound is not None]
        return max(bounds) if known and len(bounds) == len(known) else None

    def may_cover(self, coverage: float, below_usd: float = float("inf")) -> bool:
        """Whether a plan that was not found might cover this much, for less than a price."""
        return reaches(most_below(self.still_open, below_usd), coverage)

    def may_cost(self, usd: float) -> bool:
        """Whether a plan that was not found might cost at most this much."""
        return most_at(self.still_open, usd) >= 0.0

    @property
    def may_be_cheaper(self) -> bool:
        """Whether a plan that was not found might cost less than the cheapest."""
        return bool(self.points) and most_below(self.still_open, self.points[0].cost_usd) >= 0.0

    def covering(self, coverage: float) -> Plan | None:
        """The cheapest plan that covers at least this much; None if none does."""
        return next((p for p in self.points if reaches(p.coverage, coverage)), None)

    def within(self, budget_usd: float) -> Plan | None:
        """The plan that covers most for at most this cost; None if none is that cheap."""
        return next((plan for plan in reversed(self.points)
                     if costs_at_most(plan.cost_usd, budget_usd)), None)


def frontier(
    home: Home,
    book: PriceBook,
    *,
    on_point: OnPoint | None = None,
    on_progress: OnProgress | None = None,
    limits: SearchLimits = USUAL_LIMITS,
) -> Frontier:
    """Find the frontier of a home over the whole price book.

    Parameters
    ----------
    home : Home
        A home whose wiring is free of contradictions.
    book : PriceBook
        What can be bought.
    on_point : callable, optional
        Told each plan as it is found; a later one may beat it, and its bound is not known yet.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the search.
    limits : SearchLimits, optional
        How long the search looks.

    Raises
    ------
    NoPlanError
        If no generator of the book can serve the home; says why, and what would help.
    NotFoundError
        If none was found before the search was stopped.
    """
    try:
        return frontier_of(problems_of(home, book, limits), home, book, on_point, on_progress)
    except NotFoundError:
        raise
    except NoPlanError as problem:
        at_end = (limits.stop or Stop()).without_clock().watched(
            part_of(on_progress or unheard, PLANS, PLANS))
        try:
            found = (*problem.findings, *helping_findings(home, book, at_end))
        except Stopped:
            raise problem from None
        raise NoPlanError(problem.message, found) from None


def frontier_by_size(
    home: Home, book: PriceBook, *, on_progress: OnProgress | None = None
) -> dict[str, Frontier]:
    """Find the frontier of each size by itself, by generator id; none for a size without a plan.

    `on_progress` is told the share done, 0-1, each size an equal part of it.
    """
    tell = on_progress or unheard
    problems = problems_of(home, book)
    sizes = list(dict.fromkeys(p.menu.generator.id for p in problems))
    found = {}
    for number, generator in enumerate(sizes):
        tick = part_of(tell, number / len(sizes), (number + 1) / len(sizes))
        mine = [p for p in problems if p.menu.generator.id == generator]
        points = plans_of(mine, tick)
        if points:
            found[generator] = Frontier(points)
    return found


def plans_of(
    problems: list[Problem], on_progress: OnProgress | None = None
) -> tuple[Plan, ...]:
    """Give the plans of the common frontier of some sizes; none where they cannot serve the home.

    Unlike `frontier_of` it does not look for the reason.
    """
    return _explore(problems, None, on_progress)[0]


def frontier_of(
    problems: Iterable[Problem], home: Home, book: PriceBook,
    on_point: OnPoint | None = None, on_progress: OnProgress | None = None,
) -> Frontier:
    """Find the common frontier of some sizes; `frontier` says the rest.

    Raises
    ------
    NoPlanError
        If none of these sizes can serve the home; says why.
    NotFoundError
        If none was found before the search was stopped.
    """
    mine = list(problems)
    points, rising = _explore(mine, on_point, on_progress)
    stop = mine[0].limits.stop if mine else None
    ended: Ended = stop.ended if stop is not None else ""
    if not points and rising is not None and rising.opened:
        raise none_in_time(home, book, stop)
    if not points:
        raise why_no_plan(home, book, mine, part_of(on_progress or unheard, PLANS, PLANS))
    return Frontier(points, rising.still_open if rising else (), ended)


def _explore(
    problems: list[Problem], on_point: OnPoint | None, on_progress: OnProgress | None
) -> tuple[tuple[Plan, ...], Rising | None]:
    tell = on_progress or unheard
    tell(0.0)
    if not problems:
        return (), None
    told = on_point or (lambda plan: None)
    rising = risen(problems, part_of(tell, 0.0, SEARCH),
                   lambda point: told(point.problem.found(point.choice)))
    plans, left = [], rising.still_open
    for number, point in enumerate(rising.points):
        tell(SEARCH + number / len(rising.points) * (PLANS - SEARCH))
        plans.append(point.problem.found(point.choice, rising.ceiling(point, left)))
    tell(PLANS)
    return tuple(plans), rising


__all__ = ["Frontier", "frontier", "frontier_by_size", "frontier_of", "plans_of"]
