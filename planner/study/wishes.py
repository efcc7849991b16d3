"""What a family asks for, one wish at a time, and the same home with some of it given up."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from planner.facts.comfort import Comfort
from planner.facts.home import MUST_RUN_RANK, Connection, Home, Load
from planner.service.house import House, house_of
from planner.wiring import requires_closure

WishKind = Literal["must-run", "promise", "comfort", "never-before", "order"]


@dataclass(frozen=True, slots=True)
class Wish:
    """One thing that the family asks for.

    Attributes
    ----------
    kind
        ``must-run``: its loads are served whenever they call; ``promise``: a bound that is kept on
        every day; ``comfort``: it counts in coverage, and is connected where the home does not
        allow it to be left off; ``never-before``: the first load never stands ahead of the second;
        ``order``: more important loads stand ahead.
    load_ids : tuple of str
        The loads it is about; empty for ``order``.
    weight : int
        Importance of the comfort, or above all if it must run; 0 for a wish about the order.
    comfort : str
        Id of the comfort; empty for a wish about the order, or a load without a comfort.
    """

    kind: WishKind
    load_ids: tuple[str, ...]
    weight: int
    comfort: str = ""

    @property
    def about(self) -> str:
        """What it is about, the same for all wishes about one comfort."""
        return self.comfort or " ".join(self.load_ids)


def wishes_of(home: Home) -> tuple[Wish, ...]:
    """Every wish of a home, the least important first, in the order of the home where alike.

    A comfort of importance 0 without a promise that need not run is nobody's wish.
    """
    found = [Wish("order", (), 0)] if home.order_rule == "importance" else []
    found += [Wish("never-before", pair, 0) for pair in home.never_before]
    for comfort in home.comforts:
        found += _of_comfort(home, comfort)
    found += [Wish("must-run", (load.id,), MUST_RUN_RANK) for load in home.loads
              if load.must_run and not load.comfort]
    return tuple(sorted(found, key=lambda wish: wish.weight))


def _of_comfort(home: Home, comfort: Comfort) -> list[Wish]:
    found = []
    if comfort.promise is not None:
        found.append(Wish("promise", comfort.loads, comfort.importance, comfort.id))
    if comfort.importance > 0:
        found.append(Wish("comfort", comfort.loads, comfort.importance, comfort.id))
    firm = tuple(one for one in comfort.loads if home.load(one).must_run)
    if firm:
        found.append(Wish("must-run", firm, MUST_RUN_RANK, comfort.id))
    return found


def keeping(home: Home, kept: Collection[Wish]) -> Home:
    """The home with only these wishes kept.

    What nobody asks for any more stays off standby power, unless what is kept needs it: then it
    carries no importance and may wait.
    """
    asked = {wish.about for wish in wishes_of(home) if wish.kind in ABOUT_COMFORTS}
    wanted = {wish.about for wish in kept if wish.kind in ABOUT_COMFORTS}
    counting, promised, firm = ({wish.about for wish in kept if wish.kind == kind}
                                for kind in ("comfort", "promise", "must-run"))
    comforts = tuple(replace(
        one, importance=one.importance if one.id in counting else 0,
        must_run=one.must_run and one.id in firm,
        promise=one.promise if one.id in promised else None) for one in home.comforts)
    kept_ids = {load.id for load in home.loads
                if _about(load) in wanted or _about(load) not in asked}
    closure = requires_closure(home)
    needed = {other for one in home.loads if _about(one) in wanted
              for other in closure.get(one.id, ())} - kept_ids
    loads = tuple(_kept(load, counting, firm, stays=load.id in kept_ids, needed=load.id in needed)
                  for load in home.loads)
    pairs = tuple(pair for pair in home.never_before
                  if any(wish.kind == "never-before" and wish.load_ids == pair for wish in kept))
    by_importance = any(wish.kind == "order" for wish in kept)
    return replace(home, loads=loads, comforts=comforts, never_before=pairs,
                   order_rule="importance" if by_importance else "free")


def _about(load: Load) -> str:
    return load.comfort or load.id


def _kept(load: Load, counting: set[str], firm: set[str], *, stays: bool, needed: bool) -> Load:
    off: frozenset[Connection] = frozenset({"off"})
    if not stays:
        allowed = load.allowed | off if needed else off
        return replace(load, must_run=False, importance=0, allowed=allowed)
    counts = _about(load) in counting
    return replace(load, must_run=load.must_run and _about(load) in firm,
                   importance=load.importance if counts else 0,
                   allowed=load.allowed if counts else load.allowed | off)


def counted(home: Home) -> float:
    """Importance of all comforts that coverage counts."""
    return counted_in(house_of(home))


def counted_in(house: House) -> float:
    """Importance of all comforts that coverage counts, of a home as arrays."""
    return float(sum(one.importance for one, share in zip(
        house.home.comforts, house.importance, strict=True) if share > 0.0))


def goal_when_keeping(home: Home, kept: Collection[Wish], coverage: float) -> float:
    """Coverage that the kept comforts must reach so that no more is lost than allowed.

    See `goal_after`.
    """
    return goal_after(home, keeping(home, kept), coverage)


def goal_after(home: Home, changed: Home, coverage: float) -> float:
    """Coverage that a changed home must reach so that no more is lost than was allowed.

    A goal of c forgives (1 - c) of the importance of all comforts that the home counts; what is
    given up loses none of it, so the fewer comforts are left, the lower this share is, and giving
    up a wish never makes the rest harder.
    """
    return goal_of((1.0 - coverage) * counted(home), counted(changed))


def goal_of(allowed: float, left: float) -> float:
    """Coverage at which no more importance is lost than allowed, of so much that is left."""
    return max(0.0, 1.0 - allowed / left) if left > 0.0 else 0.0


def given_up(home: Home, wish: Wish) -> Home:
    """The home without one wish.

    With a comfort its promise and its must-run go too, and its loads may be left off.
    """
    match wish.kind:
        case "order":
            return replace(home, order_rule="free")
        case "never-before":
            return replace(home, never_before=tuple(
                pair for pair in home.never_before if pair != wish.load_ids))
        case "must-run":
            changed = with_comfort(home, wish.comfort, must_run=False)
            return _with_loads(changed, wish.load_ids, must_run=False)
        case "promise":
            return with_comfort(home, wish.comfort, promise=None)
        case "comfort":
            changed = with_comfort(home, wish.comfort, importance=0, must_run=False, promise=None)
            for load_id in wish.load_ids:
                load = changed.load(load_id)
                changed = with_load(changed, replace(
                    load, importance=0, must_run=False, allowed=load.allowed | {"off"}))
            return changed


def made_must_run(home: Home, comfort: Comfort) -> Home:
    """The home in which the first load of a comfort is served whenever it calls."""
    changed = with_comfort(home, comfort.id, must_run=True)
    return _with_loads(changed, comfort.loads[:1], must_run=True)


def by_importance_agrees(home: Home) -> bool:
    """Whether an order by importance is possible beside the pairs of `never_before`."""
    rank = {load.id: load.rank for load in home.loads}
    return all(rank[second] >= rank[first] for first, second in home.never_before)


def may_be_given_up(home: Home, load_id: str) -> bool:
    """Whether to do without a load, or to let it wait, may be proposed: not medical equipment."""
    return not home.load(load_id).is_medical


def with_load(home: Home, changed: Load) -> Home:
    """The home with one load changed, which keeps its id."""
    return replace(home, loads=tuple(changed if load.id == changed.id else load
                                     for load in home.loads))


def with_comfort(home: Home, comfort_id: str, **changes: object) -> Home:
    """The home with one comfort changed; its loads stay as they are."""
    return replace(home, comforts=tuple(
        replace(one, **changes) if one.id == comfort_id else one  # type: ignore[arg-type]
        for one in home.comforts))


def without(wishes: Sequence[Wish], dropped: Wish) -> tuple[Wish, ...]:
    """Every wish but one."""
    return tuple(wish for wish in wishes if wish != dropped)


def comfort_of(home: Home, comfort_id: str) -> Comfort:
    """Find a comfort by its id; KeyError if the home has none."""
    for one in home.comforts:
        if one.id == comfort_id:
            return one
    raise KeyError(comfort_id)


def _with_loads(home: Home, load_ids: Sequence[str], *, must_run: bool) -> Home:
    return replace(home, loads=tuple(
        replace(load, must_run=must_run) if load.id in load_ids else load for load in home.loads))


ABOUT_COMFORTS: frozenset[WishKind] = frozenset({"must-run", "promise", "comfort"})
