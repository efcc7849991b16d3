"""Which promise a size cannot keep, how far it gets, and how loose it would have to be."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from planner.facts.comfort import Promise
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, unheard
from planner.search.problem import Problem
from planner.service.house import house_of
from planner.service.kept import in_unit
from planner.study.any_price import reach_of
from planner.study.quick import quick_problems
from planner.study.reaching import cheapest_reaching
from planner.study.wishes import Wish, comfort_of, with_comfort

LOOSEST_DEGF, LOOSEST_MILES = 32, 64  # steps of one that are tried; beyond, a promise is none


@dataclass(frozen=True)
class PromiseShort:
    """A promise that a size cannot keep beside the other wishes, and the best it can do.

    Attributes
    ----------
    comfort, label : str
    day : str
        Label of the day on which it falls farthest short.
    promised, reached : float
        What is promised, and what the size reaches at best, in `unit`; of a room and a car to one
        degree or mile.
    unit : str
    looser : Promise or None
        The promise that it would keep; None: it has to be given up.
    """

    comfort: str
    label: str
    day: str
    promised: float
    reached: float
    unit: str
    looser: Promise | None


def promise_short(
    home: Home, book: PriceBook, generator: str, coverage: float, wish: Wish,
    tick: OnProgress = unheard,
) -> PromiseShort | None:
    """Find how far a size gets towards a promise that it cannot keep.

    Parameters
    ----------
    home : Home
        With the wishes that cannot be met together, and no others.
    book, generator, coverage
        What can be bought, the id of the size, the coverage that the wishes must reach (0-1).
    wish : Wish
        A promise among them.

    Returns
    -------
    PromiseShort or None
        None if even giving it up does not help.
    """
    comfort = comfort_of(home, wish.comfort)

    def asked_with(promise: Promise | None) -> tuple[Problem, ...]:
        return quick_problems(with_comfort(home, comfort.id, promise=promise), book, generator)

    if comfort.promise is None or not reach_of(asked_with(None), coverage, tick):
        return None
    steps = {"room": LOOSEST_DEGF, "car": LOOSEST_MILES}.get(comfort.kind, 0)
    fails, does = 0, steps + 1
    while does - fails > 1 and steps:
        middle = (fails + does) // 2
        if reach_of(asked_with(loosened(comfort.promise, middle)), coverage, tick):
            does = middle
        else:
            fails = middle
    looser = loosened(comfort.promise, does) if steps and does <= steps else None
    best = cheapest_reaching(asked_with(looser), coverage, tick)
    return None if best is None else _told(home, best, comfort.id, looser)


def loosened(promise: Promise, by: float) -> Promise:
    """Give a promise about a room or a car that asks for so many degrees or miles less."""
    return replace(
        promise,
        coldest_degf=None if promise.coldest_degf is None else promise.coldest_degf - by,
        warmest_degf=None if promise.warmest_degf is None else promise.warmest_degf + by,
        miles=None if promise.miles is None else max(0.0, promise.miles - by))


def _told(home: Home, plan: Plan, comfort_id: str, looser: Promise | None) -> PromiseShort:
    house = house_of(home)
    c = next(place for place, one in enumerate(home.comforts) if one.id == comfort_id)
    kept = plan.comfort(comfort_id)
    d = int(np.argmax(kept.measured - house.cares.bound[c]))
    return PromiseShort(
        comfort_id, kept.comfort.label, home.days[d].label,
        in_unit(house, c, d, float(house.cares.bound[c, d])),
        in_unit(house, c, d, float(kept.measured[d])), kept.unit, looser)
