"""Loads that are connected and yet get next to nothing."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.price_book import Generator, SoftStarter
from planner.plan.again import supplies_of
from planner.plan.plan import NEXT_TO_NOTHING, LoadPlan, Plan

MATTERS = 4  # importance from which on half of its calls are too little; no source
HALF = 0.5


def starved(plan: Plan) -> tuple[LoadPlan, ...]:
    """The loads that take turns, ask for power and get next to none, most important first.

    What nobody cares about (importance 0) is left out, and so is a load without which its comfort
    is kept: the back-up heat of a room that its heat pump keeps warm.
    """
    kept = {one.comfort.id: one.kept for one in plan.comforts}
    found = [part for part in plan.loads
             if part.is_starved and kept.get(part.comfort, 0.0) < NEXT_TO_NOTHING]
    return tuple(sorted(found, key=lambda part: -part.importance))


def badly_served(plan: Plan) -> tuple[LoadPlan, ...]:
    """The loads that matter much and get less than half of their calls, the worst first.

    Those that are starved are left out.
    """
    found = [part for part in plan.loads if part.connection == "module" and part.called_h > 0.0
             and part.importance >= MATTERS and NEXT_TO_NOTHING <= part.service < HALF]
    return tuple(sorted(found, key=lambda part: part.service))


@dataclass(frozen=True)
class HardStart:
    """A start that is too much for a plan's generator, and what of the book starts it.

    Attributes
    ----------
    start_kva, startable_kva : float
        What the start takes, and what the generator starts at the allowed dip [kVA].
    starter : SoftStarter or None
        The cheapest soft starter with which the generator starts it.
    generator : Generator or None
        The smallest generator that starts it as it is.
    """

    start_kva: float
    startable_kva: float
    starter: SoftStarter | None
    generator: Generator | None


def hard_start(plan: Plan, load_id: str) -> HardStart | None:
    """Find whether a load's start alone is too much for the generator; None if it is not."""
    house, supply, menu = plan.menu.house, plan.supply, plan.menu
    i = house.index(load_id)
    start_kva = float(supply.start_kva[i, plan.choice.soft_start[i]])
    if supply.can_start(start_kva):
        return None
    starters = [(float(menu.soft_cost[i, place]), part)
                for place, part in enumerate(menu.book.soft_starters, start=1)
                if menu.soft_cost[i, place] < float("inf")
                and supply.can_start(float(supply.start_kva[i, place]))]
    able = [one for one in supplies_of(plan) if one.can_start(start_kva)]
    return HardStart(
        start_kva, supply.startable_kva,
        min(starters, key=lambda pair: pair[0])[1] if starters else None,
        min(able, key=lambda one: one.derated_kw).generator if able else None)
