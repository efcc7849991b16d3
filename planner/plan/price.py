"""Installed cost of a choice, line by line."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.price_book import Controller, Transfer
from planner.plan.menu import Menu
from planner.service.choice import OFF, Choice


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One line of a price: what, how many, dollars for all of them."""

    text: str
    quantity: int
    usd: float


@dataclass(frozen=True, slots=True)
class Price:
    """Lines and their sum in US dollars, with the equipment that the choice implies."""

    lines: tuple[PriceLine, ...]
    transfer: Transfer
    controller: Controller | None

    @property
    def usd(self) -> float:
        """Installed cost."""
        return sum(line.usd for line in self.lines)


def price_of(menu: Menu, choice: Choice) -> Price | None:
    """Price a choice; None if no controller or transfer equipment is large enough for it."""
    connection = choice.connection_array()
    modules = choice.modules
    positions = int(menu.poles[connection != OFF].sum())
    controller, transfer = menu.controller_for(modules), menu.transfer_for(positions)
    if transfer is None or (modules and controller is None):
        return None
    lines = [
        PriceLine(menu.generator.label, 1, menu.generator.price),
        PriceLine("installation of the generator", 1, menu.generator.installation),
        PriceLine(f"{transfer.label}, installed", 1, transfer.installed_usd),
    ]
    if controller is not None:
        lines.append(PriceLine(f"{controller.label}, installed", 1, controller.installed_usd))
    lines += _module_lines(menu, choice) + _soft_start_lines(menu, choice)
    relocated = sorted(choice.left_out)
    if relocated and menu.kind == "whole-house":
        lines.append(PriceLine("circuits moved to the utility side", len(relocated),
                               float(menu.off_cost[relocated].sum())))
    lines += [PriceLine(line.text, 1, line.usd) for line in menu.works.lines
              if line.usd is not None]
    if menu.book.permits:
        lines.append(PriceLine("permits", 1, menu.book.permits))
    return Price(tuple(lines), transfer, controller)


def _module_lines(menu: Menu, choice: Choice) -> list[PriceLine]:
    """Modules that take turns, then those that stay open, by kind."""
    counts: dict[tuple[bool, str], tuple[str, int, float]] = {}
    for i in (*sorted(choice.order), *sorted(choice.kept_open)):
        kind, stays = menu.module_of(choice, i), i in choice.kept_open
        if kind is None:
            msg = f"no module kind suits {menu.house.ids[i]}"
            raise ValueError(msg)
        _, number, usd = counts.get((stays, kind.id), (kind.label, 0, 0.0))
        counts[stays, kind.id] = (kind.label, number + 1, usd + menu.module_usd(choice, i))
    return [PriceLine(f"{label}, {'to stay open, ' if stays else ''}installed", number, usd)
            for (stays, _), (label, number, usd) in sorted(counts.items())]


def _soft_start_lines(menu: Menu, choice: Choice) -> list[PriceLine]:
    lines = []
    for place, starter in enumerate(menu.book.soft_starters, start=1):
        number = choice.soft_start.count(place)
        if number:
            lines.append(PriceLine(f"{starter.label}, installed", number,
                                   number * starter.installed_usd))
    return lines
