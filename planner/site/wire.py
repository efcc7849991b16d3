"""The wire from the generator of a plan to its transfer equipment."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.home import Home
from planner.facts.price_book import Generator
from planner.facts.site import Site
from planner.physics.draw import LINE_VOLTS
from planner.physics.feeder import FeederSize, feeder_conductor
from planner.physics.voltage_drop import (
    BRANCH_DROP,
    highest_ohm_per_kft,
    size_for_drop,
    voltage_drop_v,
)
from planner.plan.plan import Plan
from planner.service.supply import hottest_degf

LEAST_AMBIENT_DEGC = 30.0
"""Air that NEC Table 310.16 is made for; what is colder is not taken advantage of (a choice)."""
NOTHING_KNOWN = Site()


@dataclass(frozen=True, slots=True)
class FeederRun:
    """The feeder of a plan.

    Attributes
    ----------
    by_code : FeederSize
        The least that the code allows.
    laid : str
        That size, or the larger one that keeps the voltage drop within 3 % where the length is
        known and a single conductor can.
    amperes : float
        Most that flows: the rated current on the fuel of the home [A].
    length_ft : float or None
        One way [ft]; None: not known.
    """

    by_code: FeederSize
    laid: str
    amperes: float
    length_ft: float | None


def site_of(plan: Plan) -> Site:
    """What is known of the site of a plan; nothing where its home says nothing."""
    return plan.menu.house.home.site or NOTHING_KNOWN


def nameplate_a(generator: Generator) -> float:
    """Rated current of a generator on the fuel that gives the most [A]."""
    return max(rating.amperes for rating in generator.ratings.values())


def ambient_degc(home: Home) -> float:
    """Air that the wires lie in: that of the hottest day, 30 degC at least [degC]."""
    return max(LEAST_AMBIENT_DEGC, (hottest_degf(home) - 32.0) / 1.8)


def feeder_by_code(plan: Plan, terminals_degc: int | None) -> FeederSize:
    """Size the feeder of a plan by the code, for terminals of a mark.

    Raises
    ------
    ValueError
        If no single conductor fits.
    """
    generator = plan.supply.generator
    return feeder_conductor(
        nameplate_a(generator), generator.breaker_a, material=site_of(plan).material,
        terminals_degc=terminals_degc, ambient_degc=ambient_degc(plan.menu.house.home))


def feeder_run(plan: Plan) -> FeederRun | str:
    """Size the feeder of a plan; a sentence that says why where no single conductor fits."""
    site = site_of(plan)
    try:
        by_code = feeder_by_code(plan, site.terminals_degc)
    except ValueError as problem:
        return str(problem)
    amperes = plan.supply.leg_a / plan.menu.house.home.limits.largest_share
    run = FeederRun(by_code, by_code.size, amperes, site.wire_ft)
    if site.wire_ft is None:
        return run
    try:
        laid = size_for_drop(by_code.size, amperes, site.wire_ft, BRANCH_DROP * LINE_VOLTS,
                             site.material, site.raceway)
    except ValueError:
        return run
    return FeederRun(by_code, laid, amperes, site.wire_ft)


def drop_share(plan: Plan, run: FeederRun, size: str) -> float:
    """Share of 240 V that a size of the feeder loses at most, where its length is known [0-1]."""
    site = site_of(plan)
    ohm_per_kft = highest_ohm_per_kft(size, site.material, site.raceway)
    return voltage_drop_v(run.amperes, run.length_ft or 0.0, ohm_per_kft) / LINE_VOLTS


def named(size: str, material: str = "") -> str:
    """Say a size with its unit: ``3 AWG copper``, ``250 kcmil``."""
    unit = "kcmil" if size.isdigit() and int(size) >= 250 else "AWG"
    return f"{size} {unit} {material}".rstrip()
