"""The feeder from generator to transfer equipment: its size by code, and larger ones that help."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.facts.home import Home
from planner.facts.price_book import Generator, PriceBook
from planner.facts.site import Site
from planner.physics.draw import LINE_VOLTS
from planner.physics.wire.conductor_tables import AMPACITY_A, SIZES
from planner.physics.wire.feeder import FeederSize, ampacity_at_terminals_a, feeder_conductor
from planner.physics.wire.start_drop import run_ohm
from planner.physics.wire.voltage_drop import BRANCH_DROP, size_for_drop
from planner.plan.site.parts import Blocked, SiteLine
from planner.service.house import House
from planner.service.supply import SiteLimits, Supply, hottest_degf, supply_of
from planner.tolerances import LIMIT, meets

LEAST_AMBIENT_DEGC = 30.0
"""Air that Table 310.16 is made for; what is colder is not taken advantage of (a choice)."""


@dataclass(frozen=True, slots=True)
class Feeder:
    """A feeder of one size.

    Attributes
    ----------
    size : str
        AWG, from 250 on kcmil; material as the site says.
    length_ft : float
        One way [ft].
    by_code : FeederSize
        The least that the code allows.
    ampacity_a : float
        What this size carries where it lies [A].
    loop_ohm : float
        Impedance of both lines [ohm].
    line : SiteLine
    first, first_usd
        The least size that does for what flows all the time, and its price [USD].
    """

    size: str
    length_ft: float
    by_code: FeederSize
    ampacity_a: float
    loop_ohm: float
    line: SiteLine
    first: str
    first_usd: float | None


def feeders_of(house: House, book: PriceBook, generator: Generator) -> tuple[Feeder, ...] | Blocked:
    """List the feeders worth asking about: the least that does, and larger ones that start more.

    The least is what the code allows, or the larger size that loses no more than 3 % at the rated
    current, where a single conductor can (recommended, 215.2, informational note).
    A larger size is one where a motor, with or without a soft starter, then keeps within the
    allowed dip, or within that of an unannounced start, or where all motors that may be always
    connected then do at takeover, and did not with a smaller one.

    Parameters
    ----------
    house : House
        Without a length of the wire nothing is asked for, and none is listed.
    book, generator
        What is offered, and the size in question.
    """
    home = house.home
    site = home.site
    if site is None or site.wire_ft is None:
        return ()
    try:
        least = feeder_conductor(
            nameplate_a(generator), generator.breaker_a, material=site.material,
            terminals_degc=site.terminals_degc, ambient_degc=ambient_degc(home))
    except ValueError as problem:
        return Blocked(str(problem).rstrip("."), "Ask an electrical engineer for a larger feeder.")
    prices = {one.size: one.usd_per_ft for one in book.site.wires if one.material == site.material}
    first = _within_drop(generator, home, site, least.size)
    larger = [size for size in SIZES[SIZES.index(first):] if size in AMPACITY_A[site.material]]
    sizes = [size for size in larger if size in prices] if prices else larger[:1]
    if not sizes:
        return Blocked(
            f"the price book has no {site.material} wire of {named(first)} or larger",
            "Add it to the price book: [[wires]].")
    kept: list[Feeder] = []
    able: list[tuple[bytes, bool]] = []
    for size in sizes:
        one = _feeder(home, site, size, least, sizes[0], prices)
        now = _able(house, book, generator, one)
        if now not in able:
            kept.append(one)
            able.append(now)
    return tuple(kept)


def ambient_degc(home: Home) -> float:
    """Give the air that the feeder lies in: that of the hottest day, 30 degC at least [degC]."""
    return max(LEAST_AMBIENT_DEGC, (hottest_degf(home) - 32.0) / 1.8)


def nameplate_a(generator: Generator) -> float:
    """Rated current of a generator on the fuel that gives the most [A]."""
    return max(rating.amperes for rating in generator.ratings.values())


def named(size: str, material: str = "") -> str:
    """Say a size with its unit: ``3 AWG copper``, ``250 kcmil``."""
    unit = "kcmil" if size.isdigit() and int(size) >= 250 else "AWG"
    return f"{size} {unit} {material}".rstrip()


def within_drop(size: str, amperes: float, site: Site) -> str:
    """Give a size, or the larger one that keeps a feeder of known length within 3 %."""
    try:
        return size_for_drop(size, amperes, site.wire_ft or 0.0, BRANCH_DROP * LINE_VOLTS,
                             site.material, site.raceway)
    except ValueError:
        return size


def _within_drop(generator: Generator, home: Home, site: Site, size: str) -> str:
    return within_drop(size, generator.ratings[home.fuel].amperes, site)


def _feeder(
    home: Home, site: Site, size: str, least: FeederSize, first: str, prices: dict[str, float]
) -> Feeder:
    length_ft = site.wire_ft or 0.0
    loop_ohm = 2.0 * abs(run_ohm(size, length_ft, site.material, site.raceway))
    carried_a = ampacity_at_terminals_a(size, site.material, least.terminals_degc,
                                        ambient_degc=ambient_degc(home))
    usd = {one: prices[one] * length_ft for one in (size, first) if one in prices}
    text = f"feeder, {named(size, site.material)}, {length_ft:g} ft"
    return Feeder(size, length_ft, least, carried_a, loop_ohm, SiteLine(text, usd.get(size)),
                  first, usd.get(first))


def _able(
    house: House, book: PriceBook, generator: Generator, feeder: Feeder
) -> tuple[bytes, bool]:
    """What starts behind a feeder: each motor with each starter, and all at takeover."""
    supply = supply_of(house, generator, book, SiteLimits(feeder_ohm=feeder.loop_ohm))
    kva = supply.start_kva
    within = (np.stack([kva <= supply.startable_kva + LIMIT, kva <= supply.pick_kva + LIMIT])
              .tobytes())
    return within, meets(_firm_kva(house, supply), supply.takeover_kva)


def _firm_kva(house: House, supply: Supply) -> float:
    may = [i for i, load in enumerate(house.home.loads) if "direct" in load.allowed]
    return float(supply.start_kva[may].min(axis=1).sum()) if may else 0.0
