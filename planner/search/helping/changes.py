"""Changes of a home or of the price book that may lead to a plan where there is none.

A ladder is one change by rising degree (a dip of 11 %, 12 %, ...). Whether a change helps is tried
by `planner.search.helping.what_helps`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from planner.facts.home import Fuel, Home, Limits, Load, TransferKind
from planner.facts.price_book import Generator, Module, PriceBook, Rating, SoftStarter, Transfer
from planner.physics.wire.branch import branch_circuit
from planner.plan.menu import suitable_transfers
from planner.search.helping.help import Change, Help, Ladder
from planner.search.helping.site_changes import site_ladders
from planner.service.module_fit import cheapest_module

LARGEST_DIP = 0.30
"""UFGS-16264A, p. 18, for the full load in one step; beyond it contactors may drop out."""

LARGEST_GROWTH = 8  # a generator so many times the largest is not worth naming
SOFT_PERCENT = range(90, 20, -10)  # of the starting current that soft starters leave; no source
KINDS: tuple[TransferKind, ...] = ("selected-circuits", "whole-house")
FUELS: tuple[Fuel, ...] = ("natural gas", "propane")


def ladders(home: Home, book: PriceBook) -> Iterator[Ladder]:
    """List changes worth trying, those that ask least of the family first."""
    yield from _limits(home)
    yield from site_ladders(home)
    yield from _connections(home, book)
    yield from _wishes(home)
    yield from ([_kind(kind)] for kind in KINDS if kind not in home.transfer_kinds)
    yield from _soft_starters(home)
    yield from _modules(home, book)
    yield from _generators(home, book)
    yield from _transfers(home, book)
    if home.site is None or home.site.tank is None:  # a tank stands where no gas is piped
        yield from ([_fuel(fuel)] for fuel in FUELS if fuel != home.fuel)


def _limits(home: Home) -> Iterator[Ladder]:
    first = math.floor(100.0 * home.limits.allowed_dip) + 1
    dips = range(first, round(100.0 * LARGEST_DIP) + 1)
    if dips:
        yield [Help("limits: allowed_dip", f"with a dip of {percent} %",
                    f'Write allowed_dip = "{percent} %".', _limit(allowed_dip=percent / 100.0))
               for percent in dips]
    usual = Limits().largest_share  # what is kept back beyond it may be used, the rest not
    if home.limits.largest_share < usual:
        yield [Help("limits: largest_share", f"with {100.0 * usual:g} % of the rating",
                    f'Write largest_share = "{100.0 * usual:g} %".', _limit(largest_share=usual))]


def _limit(**changes: float) -> Change:
    return lambda home, book: (replace(home, limits=replace(home.limits, **changes)), book)


def _connections(home: Home, book: PriceBook) -> Iterator[Ladder]:
    """Loads that the home keeps from being shed, or from being always connected."""
    for load in home.loads:
        if "module" not in load.allowed and cheapest_module(load, book, home.fault_current_a):
            yield [_of_load(load, "connections", "if it may be shed", 'Add "module" to them.',
                            lambda one: replace(one, allowed=one.allowed | {"module"}))]
        if "direct" not in load.allowed:
            yield [_of_load(load, "connections", "if it may be always connected",
                            'Add "direct" to them.',
                            lambda one: replace(one, allowed=one.allowed | {"direct"}))]


def _wishes(home: Home) -> Iterator[Ladder]:
    """Wishes given up; never those of medical equipment."""
    for load in home.loads:
        if load.is_medical:
            continue
        if load.must_run:
            yield [_of_load(load, "must_run", "if it need not run", "Write must_run = false.",
                            lambda one: replace(one, must_run=False))]
        if load.must_run or "off" not in load.allowed:
            also = "must_run = false, and " if load.must_run else ""
            yield [_of_load(load, "connections", "if it is left off standby power",
                            f'Write {also}connections = ["off"].',
                            lambda one: replace(one, must_run=False, allowed=frozenset({"off"})))]


def _of_load(
    load: Load, key: str, given: str, remedy: str, changed: Callable[[Load], Load]
) -> Help:
    def change(home: Home, book: PriceBook) -> tuple[Home, PriceBook]:
        loads = tuple(changed(one) if one.id == load.id else one for one in home.loads)
        return replace(home, loads=loads), book

    return Help(f"load {load.id}: {key}", f"{given} ({load.label})", remedy, change)


def _kind(kind: TransferKind) -> Help:
    return Help("home: transfer", f"with {kind} transfer equipment", f'Add "{kind}".',
                lambda home, book: (
                    replace(home, transfer_kinds=home.transfer_kinds | {kind}), book))


def _fuel(fuel: Fuel) -> Help:
    return Help("home: fuel", f"with {fuel} on site", f'Write fuel = "{fuel}".',
                lambda home, book: (replace(home, fuel=fuel), book))


def _soft_starters(home: Home) -> Iterator[Ladder]:
    """For each motor that a soft starter suits: parts that leave less and less."""
    for load in home.loads:
        if load.soft_start_fits and load.is_motor:
            amperes = math.ceil(load.running_a)
            yield [Help(f"load {load.id}", f"with a soft starter for {amperes} A that leaves "
                        f"{percent} % of the starting current ({load.label})",
                        "Offer one in the price book.",
                        _offering(soft_starters=SoftStarter("offered", "soft starter",
                                                            percent / 100.0, amperes, 1.0, 0.0)))
                   for percent in SOFT_PERCENT]


def _modules(home: Home, book: PriceBook) -> Iterator[Ladder]:
    for load in home.loads:
        none = cheapest_module(load, book, home.fault_current_a) is None
        if "contactor" in load.module_actions and none:
            needed_a = max(branch_circuit(load).breaker_a, load.running_a,
                           load.code.va / load.volts)
            amperes, hp = math.ceil(needed_a), math.ceil(load.motor_hp)
            motor = f" and {hp} hp" if load.is_motor else ""
            yield [Help(f"load {load.id}", f"with a shedding module for {amperes} A at "
                        f"{load.volts} V{motor} ({load.label})", "Offer one in the price book.",
                        _offering(modules=Module("offered", "module", "contactor", load.poles,
                                                 amperes, hp, 1.0, 0.0)))]


def _generators(home: Home, book: PriceBook) -> Iterator[Ladder]:
    """Generators like the largest of the book, larger by whole kilowatts."""
    burning = [one for one in book.generators if home.fuel in one.ratings]
    if burning:
        largest = max(burning, key=lambda one: one.ratings[home.fuel].kw)
        kw = largest.ratings[home.fuel].kw
        sizes = range(math.floor(kw) + 1, math.ceil(LARGEST_GROWTH * kw) + 1)
        kinds = [kind for kind in sorted(home.transfer_kinds)
                 if suitable_transfers(home, book, largest, kind)]
        yield [_generator(home, largest, size_kw, kinds) for size_kw in sizes]


def _generator(home: Home, like: Generator, size_kw: int, kinds: Sequence[TransferKind]) -> Help:
    factor = size_kw / like.ratings[home.fuel].kw
    ratings = {fuel: Rating(rating.kw * factor, rating.kva * factor, rating.amperes * factor,
                            rating.fuel) for fuel, rating in like.ratings.items()}
    grown = replace(like, id="offered", ratings=ratings)
    rating_a = max(home.service_a, ratings[home.fuel].amperes)
    equipment = [_equipment(home, kind, rating_a) for kind in kinds]
    return Help("price book: generators", f"with a generator of {size_kw} kW on {home.fuel}, else "
                f"like the {like.label}, and transfer equipment for it", "Offer them.",
                lambda one, book: (one, replace(book, generators=(*book.generators, grown),
                                                transfers=(*book.transfers, *equipment))))


def _transfers(home: Home, book: PriceBook) -> Iterator[Ladder]:
    """Transfer equipment for the service and for each generator of the book."""
    ratings = sorted({math.ceil(one.ratings[home.fuel].amperes) for one in book.generators
                      if home.fuel in one.ratings})
    for kind in sorted(home.transfer_kinds):
        least_a = math.ceil(home.service_a) if kind == "whole-house" else 0
        steps = sorted({max(least_a, amperes) for amperes in ratings})
        if steps:
            yield [Help("price book: transfers", f"with {kind} transfer equipment of {rating_a} A",
                        "Offer it.", _offering(transfers=_equipment(home, kind, rating_a)))
                   for rating_a in steps]


def _equipment(home: Home, kind: TransferKind, rating_a: float) -> Transfer:
    positions = sum(load.poles for load in home.loads)
    return Transfer(f"offered {kind}", kind, kind, rating_a, positions, 1.0, 0.0)


def _offering(
    *, soft_starters: SoftStarter | None = None, modules: Module | None = None,
    transfers: Transfer | None = None,
) -> Change:
    def change(home: Home, book: PriceBook) -> tuple[Home, PriceBook]:
        if soft_starters is not None:
            book = replace(book, soft_starters=(*book.soft_starters, soft_starters))
        if modules is not None:
            book = replace(book, modules=(*book.modules, modules))
        if transfers is not None:
            book = replace(book, transfers=(*book.transfers, transfers))
        return home, book

    return change
