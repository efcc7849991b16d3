"""What each decision costs and whether it is open: the price book seen from one home.

A load gets the cheapest module kind that suits it, or, where that one does not sense its call, the
cheapest that does: kinds differ in price, fit and in what they sense, and nothing else counts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.facts.home import Home, Load, TransferKind
from planner.facts.price_book import Controller, Generator, Module, PriceBook, SoftStarter, Transfer
from planner.plan.site.works import NO_WORKS, SiteWorks
from planner.service.choice import MODULE, OFF, Choice
from planner.service.house import House
from planner.service.module_fit import modules_for, sensing_modules_for

NEVER = float("inf")


@dataclass(frozen=True)
class Menu:
    """Decisions and prices for one home, one generator and one kind of transfer equipment.

    Attributes
    ----------
    base : float
        Generator with installation, permits, and what the site needs [USD].
    transfers : tuple of Transfer
        Those that suit, cheapest first; each later one has more positions than those before.
    controllers : tuple of Controller
        Cheapest first; each later one drives more modules than those before.
    allowed : ndarray of bool, shape (n, 4)
        Columns `OFF`, `DIRECT`, `MODULE`, `BY_HAND`: what the home allows and the price book can
        do.
    module_kind : tuple of Module or None, length n
        The cheapest shedding module that suits each load.
    sensing_kind : tuple of Module or None, length n
        The cheapest that senses its call, where the cheapest of all does not.
    module_cost, sensing_cost, off_cost : ndarray of float, shape (n,)
        Price with installation of these modules, infinite without one; price of leaving the load
        off standby power by moving its circuit, or its position left out [USD].
    keep_cost : ndarray of float, shape (n,)
        Price of leaving it off by the cheapest module, which stays open; infinite where it may not
        be off, with selected circuits, without such a module, or without a controller [USD].
    soft_cost : ndarray of float, shape (n, 1 + soft starters)
        Price with installation; column 0 is none (0 USD), infinite where the starter does not fit.
    poles : ndarray of int, shape (n,)
        Positions a connected load takes; 0 for whole-house transfer.
    works : SiteWorks
        What the generator needs at its site.
    """

    house: House
    book: PriceBook
    generator: Generator
    kind: TransferKind
    base: float
    transfers: tuple[Transfer, ...]
    controllers: tuple[Controller, ...]
    allowed: Bools
    module_kind: tuple[Module | None, ...]
    sensing_kind: tuple[Module | None, ...]
    module_cost: Floats
    sensing_cost: Floats
    off_cost: Floats
    keep_cost: Floats
    soft_cost: Floats
    poles: Ints
    works: SiteWorks = NO_WORKS

    def module_of(self, choice: Choice, i: int) -> Module | None:
        """The module kind of a load behind one, in turns or to stay open; None for any other."""
        if i in choice.kept_open:
            return self.module_kind[i]
        if choice.connection[i] != MODULE:
            return None
        return (self.sensing_kind if i in choice.sensing else self.module_kind)[i]

    def module_usd(self, choice: Choice, i: int) -> float:
        """What the module of a load behind one costs, installed [USD]."""
        if i in choice.kept_open:
            return float(self.keep_cost[i])
        return float((self.sensing_cost if i in choice.sensing else self.module_cost)[i])

    def controller_for(self, modules: int) -> Controller | None:
        """The cheapest controller for so many modules; None if there is none, or no need of one."""
        return next((c for c in self.controllers if c.modules >= modules > 0), None)

    def transfer_for(self, positions: int) -> Transfer | None:
        """The cheapest transfer equipment with so many positions; None if there is none."""
        return next((t for t in self.transfers if positions == 0 or t.positions >= positions), None)

    def controller_usd(self, modules: int) -> float:
        """Controller for so many modules, installed [USD]; infinite if none drives them."""
        controller = self.controller_for(modules)
        if controller is None:
            return NEVER if modules else 0.0
        return controller.installed_usd

    def transfer_usd(self, positions: int) -> float:
        """Transfer equipment with so many positions, installed [USD]; infinite if none has them."""
        transfer = self.transfer_for(positions)
        return NEVER if transfer is None else transfer.installed_usd


def menu_of(
    house: House, book: PriceBook, generator: Generator, kind: TransferKind,
    works: SiteWorks = NO_WORKS,
) -> Menu | None:
    """Price every decision; None if no transfer equipment of that kind suits."""
    home = house.home
    transfers = suitable_transfers(home, book, generator, kind)
    if not transfers:
        return None
    kinds, sensing = modules_for(home, book), sensing_modules_for(home, book)
    controllers = _steps(book.controllers, [c.modules for c in book.controllers])
    selected = kind == "selected-circuits"
    allowed = np.array([_allowed(load, kind_, controller=bool(controllers), selected=selected)
                        for load, kind_ in zip(home.loads, kinds, strict=True)], dtype=np.bool_)
    module_cost = _installed_usd(kinds)
    keeps_open = allowed[:, OFF] & bool(controllers) & (not selected)
    return Menu(
        house=house,
        book=book,
        generator=generator,
        kind=kind,
        base=generator.installed_usd + book.permits + works.usd,
        transfers=transfers,
        controllers=controllers,
        allowed=allowed,
        module_kind=kinds,
        sensing_kind=sensing,
        module_cost=module_cost,
        sensing_cost=_installed_usd(sensing),
        off_cost=np.full(house.count, 0.0 if selected else book.relocation),
        keep_cost=np.where(keeps_open, module_cost, NEVER),
        soft_cost=np.array([_soft_costs(load, book.soft_starters) for load in home.loads]),
        poles=np.array([load.poles if selected else 0 for load in home.loads], dtype=np.int64),
        works=works,
    )


def _installed_usd(kinds: Sequence[Module | None]) -> Floats:
    return np.array([kind.installed_usd if kind else NEVER for kind in kinds])


def suitable_transfers(
    home: Home, book: PriceBook, generator: Generator, kind: TransferKind
) -> tuple[Transfer, ...]:
    """Transfer equipment of a kind that can carry the generator and, whole-house, the service."""
    needed_a = generator.ratings[home.fuel].amperes
    if kind == "whole-house":
        needed_a = max(needed_a, home.service_a)
    fitting = [t for t in book.transfers if t.kind == kind and t.rating_a >= needed_a]
    return _steps(fitting, [t.positions for t in fitting])


def _soft_costs(load: Load, starters: tuple[SoftStarter, ...]) -> list[float]:
    costs = [0.0]
    for starter in starters:
        kind = "compressor" if load.compressor else "pump"
        suits = (load.soft_start_fits and load.is_motor and kind in starter.suits
                 and starter.amperes >= load.plate_a)
        costs.append(starter.installed_usd if suits else NEVER)
    return costs


def _allowed(
    load: Load, module: Module | None, *, controller: bool, selected: bool
) -> tuple[bool, bool, bool, bool]:
    """Whether a load may be off, direct, behind a module, or left to be opened by hand.

    Of selected circuits any may be left out; behind whole-house transfer one that matters only
    where its file allows it. What nobody cares about may be opened by the family; what must not be
    cut while it works takes no turns.
    """
    nobody_cares = load.importance == 0 and not load.must_run and bool(load.comfort)
    return (
        not load.must_run and ("off" in load.allowed or selected or nobody_cares),
        "direct" in load.allowed,
        "module" in load.allowed and module is not None and controller
        and load.restarts != "must not",
        nobody_cares and not selected and not load.is_medical,
    )


Part = TypeVar("Part", Transfer, Controller)


def _steps(parts: Sequence[Part], sizes: Sequence[int]) -> tuple[Part, ...]:
    """Keep the parts that are cheapest for some size, smallest first."""
    priced = sorted(
        zip(parts, sizes, strict=True),
        key=lambda pair: (pair[0].installed_usd, -pair[1], pair[0].id),
    )
    kept: list[Part] = []
    largest = -1
    for part, size in priced:
        if size > largest:
            kept.append(part)
            largest = size
    return tuple(kept)
