"""Every single change of the wishes of a home whose price is worth knowing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from planner.facts.comfort import Comfort, ComfortKind, Promise
from planner.facts.home import MUST_RUN_RANK, Home
from planner.study.wishes import (
    Wish,
    by_importance_agrees,
    given_up,
    made_must_run,
    may_be_given_up,
    wishes_of,
    with_comfort,
)

Direction = Literal["give up", "add"]

FIRMER: dict[ComfortKind, Promise] = {
    "hot water": Promise(cold_showers=0.0), "meals": Promise(uncut=True),
    "task": Promise(uncut=True), "food": Promise(safe=True), "pit": Promise(safe=True),
    "running water": Promise(safe=True),
}
"""What may be promised where nothing is; a room has a promise unless the family took it off."""


@dataclass(frozen=True)
class WishChange:
    """A wish given up or added, and the home with that change."""

    wish: Wish
    direction: Direction
    home: Home


def changes_of(home: Home) -> Iterator[WishChange]:
    """List the changes: first what is given up of a comfort, all of it first; then what is added.

    That medical equipment might be given up is not asked. What is added is a promise where there is
    none, a must-run, the order by importance.
    """
    wishes = [wish for wish in reversed(wishes_of(home)) if _may_go(home, wish)]
    whole_first = sorted(wishes, key=lambda wish: wish.kind != "comfort")
    for wish in whole_first:
        yield WishChange(wish, "give up", given_up(home, wish))
    for comfort in home.comforts:
        yield from _added(home, comfort)
    if home.order_rule == "free" and by_importance_agrees(home):
        yield WishChange(Wish("order", (), 0), "add", replace(home, order_rule="importance"))


def _may_go(home: Home, wish: Wish) -> bool:
    return all(may_be_given_up(home, load_id) for load_id in wish.load_ids)


def _added(home: Home, comfort: Comfort) -> Iterator[WishChange]:
    if comfort.importance == 0 or not comfort.loads:
        return
    firmer = FIRMER.get(comfort.kind)
    if comfort.promise is None and firmer is not None:
        yield WishChange(Wish("promise", comfort.loads, comfort.importance, comfort.id), "add",
                         with_comfort(home, comfort.id, promise=firmer))
    if not any(home.load(load_id).must_run for load_id in comfort.loads):
        yield WishChange(Wish("must-run", comfort.loads[:1], MUST_RUN_RANK, comfort.id), "add",
                         made_must_run(home, comfort))
