"""Several sizes side by side, with the reference that sheds nothing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.errors import NoPlanError
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.search.frontier import frontier, frontier_by_size
from planner.study.reference import everything_direct
from planner.tolerances import reaches


@dataclass(frozen=True)
class Comparison:
    """Plans by generator id, smallest size first, and the no-shedding reference (None if none).

    `missing` lists generators that were asked for and have no plan.
    """

    plans: dict[str, Plan]
    reference: Plan | None
    missing: tuple[str, ...]


def compare(
    home: Home, book: PriceBook, generators: Sequence[str] = (), *, coverage: float = 0.9
) -> Comparison:
    """Put the best plan of several sizes side by side.

    Parameters
    ----------
    home, book : Home, PriceBook
        The home and what can be bought.
    generators : sequence of str
        Ids to compare; if empty, the sizes on the frontier around the coverage asked for: the
        recommended one and its neighbours, four at most.
    coverage : float
        Of each size the cheapest plan that covers this much is shown, else the one that covers
        most.

    Raises
    ------
    NoPlanError
        If no size has a plan, or an id is not in the book.
    """
    known = [generator.id for generator in book.generators]
    unknown = [name for name in generators if name not in known]
    if unknown:
        message = f"{book.label} has no generator {', '.join(unknown)}; it has {', '.join(known)}."
        raise NoPlanError(message)
    sizes = frontier_by_size(home, book)
    wanted = list(generators) or _around(home, book, coverage)
    plans = {
        name: sizes[name].covering(coverage) or sizes[name].points[-1]
        for name in sorted((n for n in wanted if n in sizes),
                           key=lambda n: sizes[n].points[0].supply.derated_kw)
    }
    if not plans:
        message = f"None of {', '.join(wanted)} has a plan for {home.label}."
        raise NoPlanError(message)
    missing = tuple(name for name in wanted if name not in sizes)
    return Comparison(plans, everything_direct(home, book), missing)


def _around(home: Home, book: PriceBook, coverage: float) -> list[str]:
    points = frontier(home, book).points
    on_frontier = list(dict.fromkeys(plan.supply.generator.id for plan in points))
    chosen = next((p for p in points if reaches(p.coverage, coverage)), points[-1])
    place = on_frontier.index(chosen.supply.generator.id)
    return on_frontier[max(0, place - 1) : place + 3]
