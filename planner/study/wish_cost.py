"""What each wish costs: the home planned again without it, or with one more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.cheapest import cheapest_of
from planner.search.problem import problems_of, sized
from planner.study.wishes import Wish, given_up, goal_after, may_be_given_up, wishes_of, with_load

Direction = Literal["give up", "add"]


@dataclass(frozen=True)
class WishCost:
    """One wish changed, everything else and the service that may be missed kept.

    Attributes
    ----------
    wish : Wish
        What is given up or added; an added wish is a comfort that must run, or the order by
        importance.
    direction
        ``give up`` or ``add``.
    home : Home
        The home with the change.
    plan : Plan or None
        Cheapest plan that misses no more service; None if there is none.
    before : Plan
        The plan without the change.
    """

    wish: Wish
    direction: Direction
    home: Home
    plan: Plan | None
    before: Plan

    @property
    def price_usd(self) -> float | None:
        """What the wish costs [USD]: saved by giving it up, paid by adding it."""
        if self.plan is None:
            return None
        more_usd = self.plan.cost_usd - self.before.cost_usd
        return (more_usd if self.direction == "add" else -more_usd) + 0.0  # no minus nought

    @property
    def size_kw(self) -> float | None:
        """How much larger the wish makes the generator [kW, derated]."""
        if self.plan is None:
            return None
        more_kw = self.plan.supply.derated_kw - self.before.supply.derated_kw
        return (more_kw if self.direction == "add" else -more_kw) + 0.0


def wish_costs(
    home: Home, book: PriceBook, plan: Plan, coverage: float, *, generator: str | None = None,
    on_progress: OnProgress | None = None,
) -> tuple[WishCost, ...]:
    """Plan the home again for every wish changed, the dearest wish first, impossible ones last.

    Each must-run load is given up (it stays a comfort); each comfort is given up, and is made a
    must-run; wishes about the order are given up, or the order by importance is added. That medical
    equipment might be given up is not asked.

    Parameters
    ----------
    home, book : Home, PriceBook
        The home and what can be bought.
    plan : Plan
        The plan that the changes are held against.
    coverage : float
        The goal, 0-1; changed homes may miss as much service as it allows this one.
    generator : str, optional
        Id of a size to stay with; any if not given.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.
    """
    tell = on_progress or unheard
    changes = list(_changes(home))
    found = []
    for place, (wish, direction, changed) in enumerate(changes):
        mine = part_of(tell, place / len(changes), (place + 1) / len(changes))
        found.append(WishCost(wish, direction, changed,
                              _replanned(home, changed, book, coverage, generator, mine), plan))
        mine(1.0)
    return tuple(sorted(found, key=_place))


def cost_of_wish(
    home: Home, book: PriceBook, plan: Plan, coverage: float, load_id: str,
    generator: str | None = None,
) -> tuple[WishCost, ...]:
    """Plan the home again for the wishes about one load only; `wish_costs` says the rest."""
    return tuple(
        WishCost(wish, direction, changed,
                 _replanned(home, changed, book, coverage, generator), plan)
        for wish, direction, changed in _changes(home) if wish.load_ids == (load_id,))


def _changes(home: Home) -> Iterator[tuple[Wish, Direction, Home]]:
    for wish in wishes_of(home):
        if all(may_be_given_up(home, load_id) for load_id in wish.load_ids):
            yield wish, "give up", given_up(home, wish)
        if wish.kind == "comfort":
            load_id = wish.load_ids[0]
            yield (Wish("must-run", (load_id,), wish.weight), "add",
                   with_load(home, replace(home.load(load_id), must_run=True)))
    if home.order_rule == "free":
        yield Wish("order", (), 0), "add", replace(home, order_rule="importance")


def _replanned(
    home: Home, changed: Home, book: PriceBook, coverage: float, generator: str | None,
    tick: OnProgress = unheard,
) -> Plan | None:
    problems = sized(changed, book, generator) if generator else problems_of(changed, book)
    return cheapest_of(problems, changed, book, goal_after(home, changed, coverage), tick)


def _place(found: WishCost) -> tuple[bool, float, int]:
    price = found.price_usd
    return price is None, -(price or 0.0), -found.wish.weight
