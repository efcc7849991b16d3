"""What a home asks for, one wish at a time, and the same home with some of it given up."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from planner.facts.home import Home, Load
from planner.service.house import house_of
from planner.wiring import requires_closure

WishKind = Literal["must-run", "comfort", "never-before", "order"]


@dataclass(frozen=True, slots=True)
class Wish:
    """One thing that the family asks for.

    Attributes
    ----------
    kind
        ``must-run``: the load is served whenever it calls; ``comfort``: it counts in coverage, and
        is connected where the home does not allow it to be left off; ``never-before``: the first
        load never stands ahead of the second; ``order``: more important loads stand ahead.
    load_ids : tuple of str
        The loads it is about; empty for ``order``.
    weight : int
        Rank of the load: its importance, or above all if it must run; 0 for a wish about the
        order.
    """

    kind: WishKind
    load_ids: tuple[str, ...]
    weight: int


def wishes_of(home: Home) -> tuple[Wish, ...]:
    """Every wish of a home, the least important first, in the order of the file where alike.

    A load of importance 0 that need not run is nobody's wish.
    """
    found = [Wish("order", (), 0)] if home.order_rule == "importance" else []
    found += [Wish("never-before", pair, 0) for pair in home.never_before]
    found += [Wish("must-run" if load.must_run else "comfort", (load.id,), load.rank)
              for load in home.loads if load.must_run or load.importance > 0]
    return tuple(sorted(found, key=lambda wish: wish.weight))


def keeping(home: Home, kept: Collection[Wish]) -> Home:
    """The home with only these wishes kept; each one more can only make it harder to serve.

    A load that is given up stays off standby power, unless a kept one needs it: then it carries no
    importance and may wait.
    """
    closure = requires_closure(home)
    wanted = {load_id for wish in kept for load_id in wish.load_ids
              if wish.kind in {"must-run", "comfort"}}
    needed = {other for load_id in wanted for other in closure.get(load_id, ())} - wanted
    asked = {load_id for wish in wishes_of(home) if wish.kind in {"must-run", "comfort"}
             for load_id in wish.load_ids}
    loads = tuple(_kept(load, load.id in wanted or load.id not in asked, load.id in needed)
                  for load in home.loads)
    pairs = tuple(pair for pair in home.never_before
                  if any(wish.kind == "never-before" and wish.load_ids == pair for wish in kept))
    by_importance = any(wish.kind == "order" for wish in kept)
    return replace(home, loads=loads, never_before=pairs,
                   order_rule="importance" if by_importance else "free")


def goal_when_keeping(home: Home, kept: Collection[Wish], coverage: float) -> float:
    """Coverage that the kept comforts must reach so that no more service is lost than allowed.

    See `goal_after`.
    """
    return goal_after(home, keeping(home, kept), coverage)


def goal_after(home: Home, changed: Home, coverage: float) -> float:
    """Coverage that a changed home must reach so that no more service is lost than was allowed.

    A goal of c forgives (1 - c) of the importance of all comforts of the home; what is given up
    loses none of it, so the fewer comforts are left, the lower this share is, and giving up a wish
    never makes the rest harder.
    """
    allowed = (1.0 - coverage) * float(house_of(home).importance.sum())
    left = float(house_of(changed).importance.sum())
    return max(0.0, 1.0 - allowed / left) if left > 0.0 else 0.0


def given_up(home: Home, wish: Wish) -> Home:
    """The home without one wish.

    A must-run load becomes a comfort of its own importance; a comfort loses its importance and may
    be left off.
    """
    match wish.kind:
        case "order":
            return replace(home, order_rule="free")
        case "never-before":
            return replace(home, never_before=tuple(
                pair for pair in home.never_before if pair != wish.load_ids))
        case "must-run":
            return with_load(home, replace(home.load(wish.load_ids[0]), must_run=False))
        case "comfort":
            load = home.load(wish.load_ids[0])
            return with_load(home, replace(load, importance=0, allowed=load.allowed | {"off"}))


def may_be_given_up(home: Home, load_id: str) -> bool:
    """Whether to do without a load, or to let it wait, may be proposed: not medical equipment."""
    return not home.load(load_id).is_medical


def with_load(home: Home, changed: Load) -> Home:
    """The home with one load changed, which keeps its id."""
    return replace(home, loads=tuple(changed if load.id == changed.id else load
                                     for load in home.loads))


def without(wishes: Sequence[Wish], dropped: Wish) -> tuple[Wish, ...]:
    """Every wish but one."""
    return tuple(wish for wish in wishes if wish != dropped)


def _kept(load: Load, wanted: bool, needed: bool) -> Load:
    if wanted:
        return load
    if needed:
        return replace(load, must_run=False, importance=0, allowed=load.allowed | {"off"})
    return replace(load, must_run=False, importance=0, allowed=frozenset({"off"}))
