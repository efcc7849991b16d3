"""The wire from the generator of a plan to its transfer equipment."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.site import Site
from planner.physics.draw import LINE_VOLTS
from planner.physics.wire.feeder import FeederSize, feeder_conductor
from planner.physics.wire.voltage_drop import highest_ohm_per_kft, voltage_drop_v
from planner.plan.plan import Plan
from planner.plan.site.feeder import ambient_degc, nameplate_a, within_drop

NOTHING_KNOWN = Site()


@dataclass(frozen=True, slots=True)
class FeederRun:
    """The feeder of a plan.

    Attributes
    ----------
    by_code : FeederSize
        The least that the code allows.
    laid : str
        What the plan has in its price; else the least, or the larger one that keeps the voltage
        drop within 3 % where a single conductor can.
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
    feeder = plan.menu.works.feeder
    laid = within_drop(by_code.size, amperes, site) if feeder is None else feeder.size
    return FeederRun(by_code, laid, amperes, site.wire_ft)


def drop_share(plan: Plan, run: FeederRun, size: str) -> float:
    """Share of 240 V that a size of the feeder loses at most, where its length is known [0-1]."""
    site = site_of(plan)
    ohm_per_kft = highest_ohm_per_kft(size, site.material, site.raceway)
    return voltage_drop_v(run.amperes, run.length_ft or 0.0, ohm_per_kft) / LINE_VOLTS

