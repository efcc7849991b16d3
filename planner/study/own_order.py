"""The same equipment with an order of one's own: what it covers, or why it cannot be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from planner.plan.margin import refusal_of
from planner.plan.plan import Plan
from planner.service.replay import Refusal, replay


@dataclass(frozen=True)
class OwnOrder:
    """An order that was tried: the plan in that order, or a sentence why there is none."""

    plan: Plan | None
    refusal: str


def in_own_order(plan: Plan, load_ids: Sequence[str]) -> OwnOrder:
    """Play a plan's equipment in another order of turns.

    Parameters
    ----------
    plan : Plan
        Connections and equipment stay as they are.
    load_ids : sequence of str
        The loads that take turns, the first to be served first.

    Returns
    -------
    OwnOrder
        The plan's bound is kept: it holds for every order of at most this cost.

    Raises
    ------
    ValueError
        If the ids are not the loads of the plan that take turns.
    """
    house = plan.menu.house
    order = tuple(house.index(load_id) for load_id in load_ids)
    choice = replace(plan.choice, order=order)
    labels = {part.id: part.label for part in plan.loads}
    for place, later in enumerate(order):
        for earlier in order[:place]:
            if house.before[later, earlier]:
                first, then = labels[house.ids[later]], labels[house.ids[earlier]]
                return OwnOrder(None, f"{first} has to stand ahead of {then}: the wishes say so.")
    played = replay(house, plan.supply, choice)
    refusal = refusal_of(plan, played)
    if refusal or isinstance(played, Refusal):
        return OwnOrder(None, f"{refusal}.")
    return OwnOrder(replace(plan, choice=choice), "")


def as_wishes(load_ids: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """Write an order as wishes that only this order meets: each load never before the one ahead."""
    return tuple((later, ahead) for ahead, later in pairwise(load_ids))
