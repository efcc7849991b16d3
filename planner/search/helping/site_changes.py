"""Changes of what is said of a propane tank that may lead to a plan, what costs nothing first."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.facts.site import Site
from planner.physics.fuel import FILL_LIMIT_SHARE
from planner.search.helping.help import Change, Help, Ladder

FILL = "site: tank"
"""Where a change of the fill is."""


def site_ladders(home: Home) -> Iterator[Ladder]:
    """List fills that are higher by whole percents, and shorter promises in days of fuel."""
    site = home.site
    if home.fuel != "propane" or site is None or site.tank is None:
        return
    first = math.floor(100.0 * site.tank.delivery_share) + 1
    fills = range(first, round(100.0 * FILL_LIMIT_SHARE) + 1)
    if site.tank.count and fills:
        yield [Help(FILL, f"if the tank is filled before it falls to {percent} % "
                    "(it may take more tanks, too)",
                    f'Agree on it with the supplier, and write fill_at_delivery = "{percent} %" in '
                    "[site.tank].", _filled(percent / 100.0)) for percent in fills]
    if site.fuel_days:
        days = range(math.ceil(site.fuel_days) - 1, 0, -1)
        if days:
            yield [Help("site: fuel_promise", f"with {number} days of fuel instead of "
                        f"{site.fuel_days:g}", f'Write fuel_promise = "{number} days".',
                        _promising(float(number))) for number in days]


def _filled(share: float) -> Change:
    def change(home: Home, book: PriceBook) -> tuple[Home, PriceBook]:
        site = home.site
        if site is None or site.tank is None:
            return home, book
        return _with(home, replace(site, tank=replace(site.tank, delivery_share=share))), book

    return change


def _promising(days: float) -> Change:
    return lambda home, book: (home if home.site is None else _with(
        home, replace(home.site, fuel_days=days)), book)


def _with(home: Home, site: Site) -> Home:
    return replace(home, site=site)
