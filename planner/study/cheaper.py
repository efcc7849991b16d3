"""A plan that costs clearly less, and what the family has to give up for it."""

from __future__ import annotations

from collections.abc import Sequence

from planner.errors import NoPlanError
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.frontier import Frontier, frontier_of
from planner.study.quick import quick_problems
from planner.study.reaching import cheapest_reaching
from planner.study.wishes import Wish, given_up, may_be_given_up, wishes_of
from planner.tolerances import DOLLAR, costs_at_most

SHARE_OF_SETS = 0.7  # of the time, a guess, for finding what has to go


def cheaper_of(
    home: Home, book: PriceBook, whole: Frontier, budget_usd: float,
    on_progress: OnProgress | None = None,
) -> tuple[Home, Plan, tuple[Wish, ...]] | None:
    """Find the plan within a price that covers most, with as little given up as it takes.

    Where nothing has to be given up, the plan stands on the frontier. Else must-haves and promises
    are taken back one after the other, the most important first, as long as some plan within the
    price remains; what is still given up then is irreducible. A single wish that does as well and
    weighs less is taken instead. Medical equipment is never among them.

    Parameters
    ----------
    home, book : Home, PriceBook
        The home and what can be bought.
    whole : Frontier
        Of the home.
    budget_usd : float
        Largest installed cost [USD].
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.

    Returns
    -------
    tuple or None
        The home without what is given up, the plan, what is given up (the most important first);
        None if no plan costs so little.
    """
    tell = on_progress or unheard
    kept_all = whole.within(budget_usd)
    if kept_all is not None:
        return home, kept_all, ()
    going = _fewest(home, book, budget_usd, part_of(tell, 0.0, SHARE_OF_SETS))
    if going is None:
        return None
    changed = _less(home, going)
    try:
        found = frontier_of(quick_problems(changed, book, most_usd=budget_usd), changed, book,
                            on_progress=part_of(tell, SHARE_OF_SETS, 1.0)).within(budget_usd)
    except NoPlanError:
        return None
    return (changed, found, going) if found is not None else None


def _fewest(
    home: Home, book: PriceBook, budget_usd: float, tick: OnProgress
) -> tuple[Wish, ...] | None:
    """Must-haves and promises to give up, the most important first; None if that does not help."""
    wishes = [wish for wish in reversed(wishes_of(home)) if wish.kind in ("must-run", "promise")
              and all(may_be_given_up(home, load_id) for load_id in wish.load_ids)]

    def does(going: Sequence[Wish]) -> bool:
        tick(0.0)
        return _within(_less(home, going), book, budget_usd, tick) is not None

    if not wishes or not does(wishes):
        return None
    going = list(wishes)
    for wish in wishes:
        fewer = [one for one in going if one != wish]
        if does(fewer):
            going = fewer
    weight = sum(wish.weight for wish in going)
    lighter = [wish for wish in reversed(wishes) if wish.weight < weight] if len(going) > 1 else []
    single = next((wish for wish in lighter if does([wish])), None)
    return (single,) if single is not None else tuple(going)


def _within(home: Home, book: PriceBook, budget_usd: float, tick: OnProgress) -> Plan | None:
    affordable = quick_problems(home, book, most_usd=budget_usd)
    if not affordable:
        return None
    found = cheapest_reaching(affordable, 0.0, part_of(tick, 0.0, 0.0), budget_usd + DOLLAR)
    return found if found is not None and costs_at_most(found.cost_usd, budget_usd) else None


def _less(home: Home, going: Sequence[Wish]) -> Home:
    for wish in going:
        home = given_up(home, wish)
    return home
