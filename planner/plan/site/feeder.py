"""The feeder from generator to transfer equipment: its size by code, and larger ones that help."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.facts.home import Home
from planner.facts.price_book import Generator, PriceBook
from planner.facts.site import Site
from planner.physics.conductor_tables import AMPACITY_A, SIZES
from planner.physics.feeder import FeederSize, ampacity_at_terminals_a, feeder_conductor
from planner.physics.start_drop import run_ohm
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
    """

    size: str
    length_ft: float
    by_code: FeederSize
    ampacity_a: float
    loop_ohm: float
    line: SiteLine


def feeders_of(house: House, book: PriceBook, generator: Generator) -> tuple[Feeder, ...] | Blocked:
    """List the feeders worth asking about: the least by code, and larger ones that start more.

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
    rated_a = max(rating.amperes for rating in generator.ratings.values())
    try:
        least = feeder_conductor(
            rated_a, generator.breaker_a, material=site.material,
            terminals_degc=site.terminals_degc, ambient_degc=ambient_degc(home))
    except ValueError as problem:
        return Blocked(str(problem).rstrip("."), "Ask an electrical engineer for a larger feeder.")
    prices = {one.size: one.usd_per_ft for one in book.site.wires if one.material == site.material}
    larger = [size for size in SIZES[SIZES.index(least.size):] if size in AMPACITY_A[site.material]]
    sizes = [size for size in larger if size in prices] if prices else larger[:1]
    if not sizes:
        return Blocked(f"the price book has no {site.material} wire of {named(least.size)} or "
                       "larger", "Add it to the price book: [[wires]].")
    kept: list[Feeder] = []
    able: list[tuple[bytes, bool]] = []
    for size in sizes:
        one = _feeder(home, site, size, least, prices.get(size))
        now = _able(house, book, generator, one)
        if now not in able:
            kept.append(one)
            able.append(now)
    return tuple(kept)


def ambient_degc(home: Home) -> float:
    """Give the air that the feeder lies in: that of the hottest day, 30 degC at least [degC]."""
    return max(LEAST_AMBIENT_DEGC, (hottest_degf(home) - 32.0) / 1.8)


def named(size: str) -> str:
    """Say a size with its unit."""
    return f"{size} kcmil" if size.isdigit() and int(size) >= 250 else f"{size} AWG"


def _feeder(
    home: Home, site: Site, size: str, least: FeederSize, usd_per_ft: float | None
) -> Feeder:
    length_ft = site.wire_ft or 0.0
    loop_ohm = 2.0 * abs(run_ohm(size, length_ft, site.material, site.raceway))
    carried_a = ampacity_at_terminals_a(size, site.material, least.terminals_degc,
                                        ambient_degc=ambient_degc(home))
    usd = None if usd_per_ft is None else usd_per_ft * length_ft
    text = f"feeder, {named(size)} {site.material}, {length_ft:g} ft"
    return Feeder(size, length_ft, least, carried_a, loop_ohm, SiteLine(text, usd))


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
