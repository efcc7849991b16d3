"""One home on one generator with one kind of transfer equipment: everything a study asks about it.

Knows what a choice covers, and how to turn one into a plan.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from planner.facts.home import Home, TransferKind
from planner.facts.price_book import PriceBook
from planner.model.tables import Tables
from planner.plan.code import direct_sheet
from planner.plan.menu import Menu, menu_of
from planner.plan.plan import Plan
from planner.plan.site.parts import Blocked
from planner.plan.site.works import works_of
from planner.search.believable_order import in_believable_order
from planner.search.limits import USUAL_LIMITS, SearchLimits
from planner.service.choice import Choice
from planner.service.house import House, house_of
from planner.service.replay import Refusal, replay
from planner.service.supply import Supply, supply_of
from planner.tolerances import carries


@dataclass(frozen=True)
class Problem:
    """A home on one generator, with one kind of transfer equipment.

    Attributes
    ----------
    menu, supply
        Prices and limits.
    limits : SearchLimits
        How long the search looks.
    """

    menu: Menu
    supply: Supply
    limits: SearchLimits = USUAL_LIMITS

    @property
    def house(self) -> House:
        """The home as arrays."""
        return self.menu.house

    @cached_property
    def tables(self) -> Tables:
        """Tables of the model with this generator only."""
        return Tables(self.house, (self.menu,), (self.supply,))

    def passes_code(self, choice: Choice) -> bool:
        """Whether the calculated load of the direct loads is within the derated generator."""
        return carries(self.supply.derated_kw, direct_sheet(self.menu, choice).total_va)

    def coverage(self, choice: Choice) -> float | None:
        """Coverage by the replay; None if the choice is not valid."""
        outcome = replay(self.house, self.supply, choice)
        if isinstance(outcome, Refusal) or outcome.broken:
            return None
        return outcome.coverage

    def plan(self, choice: Choice, bound: float | None = None) -> Plan:
        """Make a plan of a choice; VerificationError if the replay refuses it."""
        return Plan(self.menu, self.supply, choice, bound)

    def found(self, choice: Choice, bound: float | None = None) -> Plan:
        """Make a plan of a choice that a search found, in the order that a reader expects."""
        return self.plan(in_believable_order(self.house, self.supply, choice), bound)


def problems_of(
    home: Home, book: PriceBook, limits: SearchLimits = USUAL_LIMITS
) -> tuple[Problem, ...]:
    """Every generator of the book that burns the home's fuel and can stand at its site.

    With every kind of transfer equipment that is allowed, and every way to put it there.

    Returns
    -------
    tuple of Problem
        Cheapest base price first.
    """
    house = house_of(home)
    found = []
    for generator in book.generators:
        if home.fuel not in generator.ratings:
            continue
        ways = works_of(house, book, generator)
        if isinstance(ways, Blocked):
            continue
        for works in ways:
            supply = supply_of(house, generator, book, works.limits)
            for kind in sorted(home.transfer_kinds):
                menu = menu_of(house, book, generator, transfer_kind(kind), works)
                if menu is not None:
                    found.append(Problem(menu, supply, limits))
    return tuple(sorted(found, key=lambda p: (p.menu.base, p.supply.derated_kw,
                                              p.menu.generator.id, p.menu.kind,
                                              p.menu.works.id)))


def sized(
    home: Home, book: PriceBook, generator: str, limits: SearchLimits = USUAL_LIMITS
) -> tuple[Problem, ...]:
    """The problems of one size, one per kind of transfer equipment."""
    return tuple(p for p in problems_of(home, book, limits) if p.menu.generator.id == generator)


def transfer_kind(name: str) -> TransferKind:
    """Narrow a string to a kind of transfer equipment."""
    return "whole-house" if name == "whole-house" else "selected-circuits"
