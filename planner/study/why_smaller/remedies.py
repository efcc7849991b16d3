"""What single change would let one size reach the goal, found by planning with the change."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from planner.facts.home import Home, Limits, Load, TransferKind
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.helping.changes import LARGEST_DIP
from planner.study.quick import quick_problems
from planner.study.reaching import cheapest_reaching
from planner.study.why_smaller.promises import PromiseShort
from planner.study.wishes import (
    ABOUT_COMFORTS,
    Wish,
    WishKind,
    counted,
    counted_in,
    given_up,
    goal_of,
    may_be_given_up,
    with_comfort,
    with_load,
)

RemedyKind = Literal["longer-wait", "free-order", "drop-pair", "give-up", "not-must-run",
                     "looser-promise", "drop-promise", "take-turns", "larger-dip", "larger-share",
                     "selected-circuits"]

LONGEST_WAIT_H = 23.75  # a task and its wait are a day at most
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
        Old and new value where it is a number (wait in hours, dip or share 0-1, a promise in the
        unit of its comfort), else 0.
    comfort : str
        Id of the comfort that it is about; empty for none.
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
    comfort: str = ""

    @property
    def cost_usd(self) -> float:
        """Installed cost of the plan with the change [USD]."""
        return self.plan.cost_usd


@dataclass(frozen=True)
class Candidate:
    """A change worth trying."""

    kind: RemedyKind
    load_ids: tuple[str, ...]
    home: Home
    before: float = 0.0
    after: float = 0.0
    comfort: str = ""


def remedies_of(
    home: Home, book: PriceBook, generator: str, coverage: float, wishes: Sequence[Wish],
    losing: Sequence[str], tick: OnProgress = unheard, *, short: Sequence[PromiseShort] = (),
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
    short : sequence of PromiseShort
        Promises among the wishes that could be looser.

    Notes
    -----
    No more may be missed of what remains than the goal allows this home.
    """
    candidates = list(_candidates(home, wishes, losing, short))
    allowed = (1.0 - coverage) * counted(home)
    found = []
    for place, one in enumerate(candidates):
        mine = part_of(tick, place / len(candidates), (place + 1) / len(candidates))
        problems = quick_problems(one.home, book, generator)
        goal = goal_of(allowed, counted_in(problems[0].house)) if problems else 0.0
        plan = cheapest_reaching(problems, goal, mine)
        if plan is not None:
            found.append(Remedy(one.kind, one.load_ids, one.before, one.after, one.home, plan,
                                one.comfort))
        mine(1.0)
    return tuple(sorted(found, key=lambda one: one.cost_usd))


def _candidates(
    home: Home, wishes: Sequence[Wish], losing: Sequence[str], short: Sequence[PromiseShort]
) -> Iterator[Candidate]:
    """Changes worth trying, the least painful first: of two that cost the same it is shown."""
    about = [wish for wish in reversed(wishes) if wish.kind in ABOUT_COMFORTS
             and all(may_be_given_up(home, load_id) for load_id in wish.load_ids)]
    yield from _longer_waits(home, [one for one in losing if may_be_given_up(home, one)])
    yield from _other_orders(home)
    yield from _turns(home, [home.load(load_id) for load_id in dict.fromkeys(
        load_id for wish in about for load_id in wish.load_ids)])
    yield from _looser(home, about, short)
    for wish in about:
        kinds: dict[WishKind, RemedyKind] = {
            "must-run": "not-must-run", "promise": "drop-promise", "comfort": "give-up"}
        yield Candidate(kinds[wish.kind], wish.load_ids, given_up(home, wish),
                        comfort=wish.comfort)
    yield from _wider_limits(home)


def _longer_waits(home: Home, losing: Sequence[str]) -> Iterator[Candidate]:
    for load_id in losing:
        load = home.load(load_id)
        longer_h = min(LONGEST_WAIT_H, 2.0 * load.wait_h or FIRST_WAIT_H)
        if longer_h > load.wait_h:
            yield Candidate("longer-wait", (load_id,), with_load(
                home, replace(load, wait_h=longer_h)), load.wait_h, longer_h, load.comfort)


def _other_orders(home: Home) -> Iterator[Candidate]:
    if home.order_rule == "importance":
        yield Candidate("free-order", (), replace(home, order_rule="free"))
    for pair in home.never_before:
        yield Candidate("drop-pair", pair, given_up(home, Wish("never-before", pair, 0)))


def _turns(home: Home, loads: Sequence[Load]) -> Iterator[Candidate]:
    """Loads that a module suits although the home keeps them always connected."""
    for load in loads:
        if load.module_actions and "module" not in load.allowed:
            yield Candidate("take-turns", (load.id,), with_load(
                home, replace(load, allowed=load.allowed | {"module"})), comfort=load.comfort)


def _looser(
    home: Home, about: Sequence[Wish], short: Sequence[PromiseShort]
) -> Iterator[Candidate]:
    """Promises as loose as the size could keep them."""
    wishes = {wish.comfort: wish for wish in about if wish.kind == "promise"}
    for one in short:
        if one.looser is not None and one.comfort in wishes:
            changed = with_comfort(home, one.comfort, promise=one.looser)
            yield Candidate("looser-promise", wishes[one.comfort].load_ids, changed, one.promised,
                            one.reached, one.comfort)


def _wider_limits(home: Home) -> Iterator[Candidate]:
    limits = home.limits
    if "selected-circuits" not in home.transfer_kinds:
        kinds: frozenset[TransferKind] = home.transfer_kinds | {SELECTED}
        yield Candidate("selected-circuits", (), replace(home, transfer_kinds=kinds))
    if limits.allowed_dip < LARGEST_DIP:
        yield Candidate(
            "larger-dip", (), replace(home, limits=replace(limits, allowed_dip=LARGEST_DIP)),
            limits.allowed_dip, LARGEST_DIP)
    usual = Limits().largest_share  # the rest is kept back on purpose
    if limits.largest_share < usual:
        yield Candidate(
            "larger-share", (), replace(home, limits=replace(limits, largest_share=usual)),
            limits.largest_share, usual)
