"""What every way of planning is given, and what it hands back, in plain values."""

from __future__ import annotations

import math
from dataclasses import dataclass

from planner.model.tables import Tables
from planner.plan.code import direct_sheet
from planner.plan.menu import menu_of
from planner.plan.price import price_of
from planner.service.house import house_of
from planner.service.replay import Refusal, replay
from planner.service.supply import supply_of

CENT = 0.01


@dataclass(frozen=True)
class Step:
    """One point of a frontier as a contender gives it.

    usd, coverage
        Cost and coverage that the replay confirms; nan where the replay refuses the plan.
    bound
        What no plan of at most this cost covers more than, as far as the contender knows.
    solved
        Whether every solve behind the point ended before its time limit.
    """

    usd: float
    coverage: float
    bound: float
    solved: bool


def all_sizes(home, book):
    """Put every size of the book into one set of tables, one set per kind of transfer."""
    house = house_of(home)
    found = []
    for kind in sorted(home.transfer_kinds):
        menus, supplies = [], []
        for size in book.generators:
            menu = menu_of(house, book, size, kind) if home.fuel in size.ratings else None
            if menu is not None:
                menus.append(menu)
                supplies.append(supply_of(house, size, book))
        if menus:
            found.append(Tables(house, tuple(menus), tuple(supplies)))
    return found


def judged(tables, size, choice, bound, solved, *, usd=math.nan):
    """Price and replay a choice on one size; coverage nan, and cost `usd`, where it is refused."""
    menu, supply = tables.menus[size], tables.supplies[size]
    price = price_of(menu, choice)
    outcome = replay(tables.house, supply, choice)
    passes = direct_sheet(menu, choice).total_va <= 1000.0 * supply.derated_kw + 1e-6
    if price is None or isinstance(outcome, Refusal) or outcome.broken or not passes:
        return Step(usd, math.nan, bound, solved)
    return Step(price.usd, outcome.coverage, bound, solved)


def not_dominated(steps):
    """Steps that no other beats, by rising cost; refused ones left out."""
    kept = []
    valid = [step for step in steps if not math.isnan(step.coverage)]
    for step in sorted(valid, key=lambda s: (s.usd, -s.coverage)):
        if not kept or step.coverage > kept[-1].coverage + 1e-6:
            kept.append(step)
    return kept


def widest_gap(steps):
    """Coverage that might still be won at the cost of some step, 0-1; 1 where there is no plan.

    At each step's cost the best valid plan that costs no more counts, whichever step it is of.
    """
    valid = not_dominated(steps)
    return max((max(0.0, step.bound - max(
        (one.coverage for one in valid if one.usd <= step.usd + CENT), default=0.0))
        for step in steps), default=1.0)
