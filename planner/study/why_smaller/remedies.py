"""What single change would let one size reach the goal, found by planning with the change."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from planner.facts.home import Home, Limits, Load, TransferKind
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.changes import LARGEST_DIP
from planner.search.cheapest import cheapest_of
from planner.search.problem import sized
from planner.study.wishes import Wish, given_up, may_be_given_up, with_load

RemedyKind = Literal["longer-wait", "free-order", "drop-pair", "give-up", "not-must-run",
                     "take-turns", "larger-dip", "larger-share", "selected-circuits"]

LONGEST_WAIT_H = 23.75  # calls end with their day
FIRST_WAIT_H = 1.0
SELECTED: TransferKind = "selected-circuits"


@dataclass(frozen=True)
class Remedy:
    """One change of the home, and the cheapest plan of the size with it.

    Attributes
    ----------
    kind
        What is changed.
    load_ids : tuple of str
        Loads that it is about.
    before, after : float
        Old and new value where it is a number (wait in hours, dip or share 0-1), else 0.
    home : Home
        The home with the change.
    plan : Plan
        Covers the goal at this size.
    """

    kind: RemedyKind
    load_ids: tuple[str, ...]
    before: float
    after: float
    home: Home
    plan: Plan

    @property
    def cost_usd(self) -> float:
        """Installed cost of the plan with the change [USD]."""
        return self.plan.cost_usd


Candidate = tuple[RemedyKind, tuple[str, ...], float, float, Home]


def remedies_of(
    home: Home, book: PriceBook, generator: str, coverage: float, wishes: Sequence[Wish],
    losing: Sequence[str], tick: OnProgress = unheard,
) -> tuple[Remedy, ...]:
    """Find every single change that lets one size reach the goal, the cheapest plan first.

    Parameters
    ----------
    home, book, generator, coverage
        The home, what can be bought, the id of the size, the goal 0-1.
    wishes : sequence of Wish
        Those that cannot be met together: each may be given up.
    losing : sequence of str
        Ids of loads that lose service: each may wait longer.
    tick : callable, optional
        Told the share done; what it raises ends the work.
    """
    candidates = list(_candidates(home, wishes, losing))
    found = []
    for place, (kind, load_ids, before, after, changed) in enumerate(candidates):
        mine = part_of(tick, place / len(candidates), (place + 1) / len(candidates))
        plan = cheapest_of(sized(changed, book, generator), changed, book, coverage, mine)
        if plan is not None:
            found.append(Remedy(kind, load_ids, before, after, changed, plan))
        mine(1.0)
    return tuple(sorted(found, key=lambda one: one.cost_usd))


def _candidates(home: Home, wishes: Sequence[Wish], losing: Sequence[str]) -> Iterator[Candidate]:
    """Changes worth trying, the least painful first: of two that cost the same it is shown."""
    about = [wish for wish in reversed(wishes) if wish.kind in {"must-run", "comfort"}
             and may_be_given_up(home, wish.load_ids[0])]
    yield from _longer_waits(home, [one for one in losing if may_be_given_up(home, one)])
    yield from _other_orders(home)
    yield from _turns(home, [home.load(wish.load_ids[0]) for wish in about])
    for wish in about:
        kind: RemedyKind = "not-must-run" if wish.kind == "must-run" else "give-up"
        yield kind, wish.load_ids, 0.0, 0.0, given_up(home, wish)
    yield from _wider_limits(home)


def _longer_waits(home: Home, losing: Sequence[str]) -> Iterator[Candidate]:
    for load_id in losing:
        wait_h = home.load(load_id).wait_h
        longer_h = min(LONGEST_WAIT_H, 2.0 * wait_h or FIRST_WAIT_H)
        if longer_h > wait_h:
            yield ("longer-wait", (load_id,), wait_h, longer_h,
                   with_load(home, replace(home.load(load_id), wait_h=longer_h)))


def _other_orders(home: Home) -> Iterator[Candidate]:
    if home.order_rule == "importance":
        yield "free-order", (), 0.0, 0.0, replace(home, order_rule="free")
    for pair in home.never_before:
        yield "drop-pair", pair, 0.0, 0.0, given_up(home, Wish("never-before", pair, 0))


def _turns(home: Home, loads: Sequence[Load]) -> Iterator[Candidate]:
    """Loads that a module suits although the home keeps them always connected."""
    for load in loads:
        if load.module_actions and "module" not in load.allowed:
            yield ("take-turns", (load.id,), 0.0, 0.0,
                   with_load(home, replace(load, allowed=load.allowed | {"module"})))


def _wider_limits(home: Home) -> Iterator[Candidate]:
    limits = home.limits
    if "selected-circuits" not in home.transfer_kinds:
        kinds: frozenset[TransferKind] = home.transfer_kinds | {SELECTED}
        yield "selected-circuits", (), 0.0, 0.0, replace(home, transfer_kinds=kinds)
    if limits.allowed_dip < LARGEST_DIP:
        yield ("larger-dip", (), limits.allowed_dip, LARGEST_DIP,
               replace(home, limits=replace(limits, allowed_dip=LARGEST_DIP)))
    usual = Limits().largest_share  # the rest is kept back on purpose
    if limits.largest_share < usual:
        yield ("larger-share", (), limits.largest_share, usual,
               replace(home, limits=replace(limits, largest_share=usual)))
