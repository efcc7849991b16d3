"""All that a size of generator needs at a site: each way to do it, its price and its limits.

A way is a feeder together with a set of tanks; gas is the same for all of them. Where a cheaper way
limits nothing that a dearer one would free, the dearer one is left out.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from planner.facts.price_book import Generator, PriceBook
from planner.plan.site.feeder import Feeder, feeders_of
from planner.plan.site.fuel import mean_limit_kw, others_btu_h
from planner.plan.site.gas import GasWork, gas_work
from planner.plan.site.parts import Blocked, SiteLine, usd_of
from planner.plan.site.tank import HOURS_PER_DAY, Tanks, mean_degf, tank_lines, tanks_of
from planner.remembered import Itself
from planner.service.house import House
from planner.service.loops.inputs import NEVER_KW
from planner.service.supply import NO_LIMITS, SiteLimits, supply_of

REMEMBERED = 64
"""Sizes at a site; each keeps its home's arrays alive, a megabyte of a large home (measured)."""


@dataclass(frozen=True, slots=True)
class SiteWorks:
    """One way to put a size of generator at a site.

    Attributes
    ----------
    id : str
        Tells it from the other ways for the same size; empty where nothing is known.
    lines : tuple of SiteLine
        What it costs, line by line; a line without a price is not in the sum.
    limits : SiteLimits
        What it adds to the limits of the generator.
    feeder, gas, tanks
        What it is made of; None where the site says nothing of it.
    """

    id: str = ""
    lines: tuple[SiteLine, ...] = ()
    limits: SiteLimits = NO_LIMITS
    feeder: Feeder | None = None
    gas: GasWork | None = None
    tanks: Tanks | None = None

    @property
    def usd(self) -> float:
        """Sum of the lines that have a price [USD]."""
        return usd_of(self.lines)


NO_WORKS = SiteWorks()


def works_of(
    house: House, book: PriceBook, generator: Generator
) -> tuple[SiteWorks, ...] | Blocked:
    """List the ways to put a size at the site of a home, cheapest first.

    Parameters
    ----------
    house, book, generator
        The home, what is offered, and a size with a rating on its fuel.

    Returns
    -------
    tuple of SiteWorks, or Blocked
        One that is empty where the home says nothing of its site; Blocked where nothing on offer
        lets the size stand there.
    """
    if house.home.site is None:
        return (NO_WORKS,)
    return _worked_out(Itself(house), Itself(book), Itself(generator))


def blocked_sizes(house: House, book: PriceBook) -> list[tuple[Generator, Blocked]]:
    """List the sizes on the fuel of a home that cannot stand at its site, and why."""
    found = []
    for generator in book.generators:
        if house.home.fuel in generator.ratings:
            ways = works_of(house, book, generator)
            if isinstance(ways, Blocked):
                found.append((generator, ways))
    return found


@lru_cache(maxsize=REMEMBERED)
def _worked_out(
    house_: Itself[House], book_: Itself[PriceBook], generator_: Itself[Generator]
) -> tuple[SiteWorks, ...] | Blocked:
    house, book, generator = house_.it, book_.it, generator_.it
    gas = gas_work(house, book, generator)
    if isinstance(gas, Blocked):
        return gas
    feeders = feeders_of(house, book, generator)
    if isinstance(feeders, Blocked):
        return feeders
    common = (*gas.lines, *_ground_lines(house, book))
    tanks = _worth_it(house, book, generator)
    if isinstance(tanks, Blocked):
        return tanks
    ways = [_way(feeder, gas, tank, limits, common)
            for feeder in feeders or (None,) for tank, limits in tanks]
    return tuple(sorted(ways, key=lambda way: (way.usd, way.id)))


def _way(
    feeder: Feeder | None, gas: GasWork, tank: Tanks | None, fuel_kw: tuple[float, ...],
    common: tuple[SiteLine, ...],
) -> SiteWorks:
    lines = (*(() if feeder is None else (feeder.line,)), *common,
             *(() if tank is None else tank_lines(tank)))
    parts = [] if feeder is None else [f"wire-{feeder.size.replace('/', '-')}"]
    if tank is not None:
        parts.append("-".join(["tank", *(one.id for one in tank.added)]))
    limits = SiteLimits(fuel_kw, 0.0 if feeder is None else feeder.loop_ohm)
    return SiteWorks("+".join(parts), lines, limits, feeder, gas, tank)


def _ground_lines(house: House, book: PriceBook) -> tuple[SiteLine, ...]:
    """Trench and pad."""
    site, lines = house.home.site, []
    if site is not None and site.trench_ft:
        per_ft = book.site.trench_usd_per_ft
        lines.append(SiteLine(f"trench, {site.trench_ft:g} ft",
                              None if per_ft is None else per_ft * site.trench_ft))
    if site is not None and site.place.raised_pad:
        lines.append(SiteLine("raised pad", book.site.raised_pad_usd))
    return tuple(lines)


Fed = tuple[Tanks | None, tuple[float, ...]]


def _worth_it(house: House, book: PriceBook, generator: Generator) -> list[Fed] | Blocked:
    """Sets of tanks, each with the average load it feeds by day; each dearer one feeds more."""
    home = house.home
    choices = tanks_of(home, book)
    if not choices:
        if home.site is not None and home.site.tank is not None and not home.site.tank.count:
            return Blocked("there is no propane tank, and the price book has none",
                           "Add one to the price book: [[tanks]].")
        return [(None, ())]
    most_kw = _most_kw(house, book, generator)
    days = (home.site.fuel_days if home.site is not None else None) or 0.0
    kept: list[Fed] = []
    for tank in sorted(choices, key=lambda one: (usd_of(tank_lines(one)), one.all_gal)):
        fed = _fed_kw(house, generator, tank, days)
        free = tuple(NEVER_KW if kw >= most_kw else kw for kw in fed)
        if min(free) < 0.0 or any(_is_no_better(free, other) for _, other in kept):
            continue
        kept.append((tank, free))
        if min(free) >= NEVER_KW:
            break
    return kept or _starved(house, generator, choices, days)


def _starved(
    house: House, generator: Generator, choices: tuple[Tanks, ...], days: float
) -> Blocked:
    """Say whether it is the vapour or the days that no tanks on offer give."""
    if days and any(min(_fed_kw(house, generator, tank, 0.0)) >= 0.0 for tank in choices):
        return Blocked(
            f"no tanks on offer last the {days:g} days that are promised, even while it idles",
            "Promise fewer days (fuel_promise in [site]), or have the tank filled earlier "
            "(fill_at_delivery in [site.tank]).")
    return Blocked(
        "on the coldest day no tank on offer makes vapour enough even for idling",
        "Have the tank filled earlier (fill_at_delivery in [site.tank]), or ask the propane "
        "supplier for larger tanks, and add them to the price book: [[tanks]].")


def _is_no_better(fed_kw: tuple[float, ...], other_kw: tuple[float, ...]) -> bool:
    return all(one <= other for one, other in zip(fed_kw, other_kw, strict=True))


def _most_kw(house: House, book: PriceBook, generator: Generator) -> float:
    """Highest average that rules 1, 2 and 4 leave to a size [kW]."""
    supply = supply_of(house, generator, book)
    return min(supply.capacity_kw, supply.average_kw)


def _fed_kw(
    house: House, generator: Generator, tanks: Tanks, days: float
) -> tuple[float, ...]:
    """Average load of the generator that tanks feed on each design day, for so many days [kW]."""
    home = house.home
    rating, site = generator.ratings[home.fuel], home.site
    if site is None or site.tank is None:
        return ()
    hours = HOURS_PER_DAY * days
    found = []
    for place, day in enumerate(home.days):
        most = tanks.most_btu_h(site.tank.delivery_share, mean_degf(day), hours)
        found.append(mean_limit_kw(most - others_btu_h(house, place), rating.kw, rating.fuel))
    return tuple(found)

