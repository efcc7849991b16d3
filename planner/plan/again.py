"""The same equipment at a home, or with a price book, that may have changed."""

from __future__ import annotations

from planner.facts.home import TransferKind
from planner.facts.price_book import Generator, PriceBook
from planner.plan.menu import Menu, menu_of
from planner.plan.plan import Plan
from planner.plan.site.parts import Blocked
from planner.plan.site.works import works_of
from planner.service.house import House
from planner.service.supply import Supply, supply_of


def equipment(
    house: House, book: PriceBook, generator: Generator, kind: TransferKind, works_id: str = ""
) -> tuple[Menu, Supply] | str:
    """Give menu and limits of one size, with one way to put it at the site.

    Parameters
    ----------
    house, book, generator, kind
        As `planner.plan.menu.menu_of` takes them.
    works_id : str
        Which way; the cheapest where the site has none of that id.

    Returns
    -------
    tuple of Menu and Supply, or str
        Why there is none.
    """
    ways = works_of(house, book, generator)
    if isinstance(ways, Blocked):
        return ways.sentence
    works = next((one for one in ways if one.id == works_id), ways[0])
    menu = menu_of(house, book, generator, kind, works)
    if menu is None:
        return "no transfer equipment of the price book suits"
    return menu, supply_of(house, generator, book, works.limits)


def same_equipment(
    plan: Plan, house: House, book: PriceBook | None = None
) -> tuple[Menu, Supply] | str:
    """Give menu and limits of a plan's equipment at a home; why there are none."""
    menu = plan.menu
    return equipment(house, book or menu.book, plan.supply.generator, menu.kind, menu.works.id)


def supplies_of(plan: Plan) -> list[Supply]:
    """Give the limits of every size that can stand at the home of a plan, at its best."""
    menu = plan.menu
    found = []
    for generator in menu.book.generators:
        if menu.house.home.fuel in generator.ratings:
            ways = works_of(menu.house, menu.book, generator)
            if not isinstance(ways, Blocked):
                found.append(supply_of(menu.house, generator, menu.book, ways[-1].limits))
    return found
