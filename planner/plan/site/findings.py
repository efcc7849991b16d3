"""What the site adds to a plan, in words: what is bought, what would do instead, what lacks."""

from __future__ import annotations

from collections.abc import Iterator

from planner.errors import Finding, Severity
from planner.plan.plan import Plan
from planner.plan.site.feeder import named
from planner.plan.site.fuel import unknown_burners
from planner.plan.site.lacking import lacking
from planner.plan.site.parts import WHERE, usd_of
from planner.plan.site.place_findings import place_findings
from planner.plan.site.tank_findings import tank_findings
from planner.plan.site.works import blocked_sizes
from planner.tolerances import ceiled


def site_findings(plan: Plan) -> tuple[Finding, ...]:
    """Say what a plan needs at its site beyond generator, transfer equipment and modules."""
    if plan.menu.house.home.site is None:
        return (Finding(
            Severity.NOTE, WHERE, "nothing is known of it: wire, gas pipe, trench, meter or tank "
            "are neither checked nor in the price.",
            "Add [site] to the home file; planner site shows what it asks."),)
    return (*place_findings(plan.menu.house.home), *_meter(plan), *_regulators(plan),
            *tank_findings(plan), *_feeder(plan), *_unpriced(plan), *_unknown(plan),
            *_elsewhere(plan))


def _meter(plan: Plan) -> Iterator[Finding]:
    work = plan.menu.works.gas
    site = plan.menu.house.home.site
    if (work is None or work.meter is None or site is None or site.gas is None
            or site.gas.meter_ft3_h is None):
        return
    needs = ceiled(work.generator_ft3_h + work.others_ft3_h, 1.0)
    if work.others_ft3_h > site.gas.meter_ft3_h:
        yield Finding(
            Severity.WARNING, WHERE, f"the gas appliances alone take up to "
            f"{ceiled(work.others_ft3_h, 1.0):,.0f} ft³/h, more than the "
            f"{site.gas.meter_ft3_h:,.0f} ft³/h of the meter: it is too small today already.",
            "Read meter and nameplates again; then ask the gas utility, which may change it at "
            "its own cost.")
    yield Finding(
        Severity.NOTE, WHERE, f"the gas meter passes {site.gas.meter_ft3_h:,.0f} ft³/h; generator "
        f"and appliances take up to {needs:,.0f}. {work.meter.label}, "
        f"{work.meter.installed_usd:,.0f} USD, is in the price.",
        "Order it from the gas utility before the generator comes.")


def _regulators(plan: Plan) -> Iterator[Finding]:
    """Say that every appliance of a pipe under pressure takes a regulator, too."""
    work, site = plan.menu.works.gas, plan.menu.house.home.site
    if work is None or work.regulators is None or not work.regulators.others or site is None \
            or site.gas is None:
        return
    usd = usd_of(tuple(line for _, line in work.regulators.others))
    names = "; ".join(where for where, _ in work.regulators.others)
    yield Finding(
        Severity.NOTE, WHERE, f"at {site.gas.pressure_psi:.3g} psi each outlet of the gas pipe "
        f"takes a regulator; beside the one at the generator {usd:,.0f} USD are in the price for: "
        f"{names}.", "Where it has this pressure today they are there, and it costs that much "
        "less.")


def _feeder(plan: Plan) -> Iterator[Finding]:
    feeder = plan.menu.works.feeder
    if feeder is None or feeder.size == feeder.first:
        return
    usd = feeder.line.usd
    more = "" if usd is None or feeder.first_usd is None else (
        f" It costs {usd - feeder.first_usd:,.0f} USD more.")
    yield Finding(
        Severity.NOTE, WHERE, f"over {feeder.length_ft:g} ft of {named(feeder.first)} a motor of "
        "this plan would dip the voltage too far at its start: the feeder is of "
        f"{named(feeder.size)} instead.{more}",
        "A generator nearer to the panel needs less wire.")


def _elsewhere(plan: Plan) -> Iterator[Finding]:
    """Sizes that cannot stand at this site, by reason."""
    menu = plan.menu
    reasons: dict[str, tuple[str, list[str]]] = {}
    for generator, blocked in blocked_sizes(menu.house, menu.book):
        reasons.setdefault(blocked.remedy, (blocked.sentence, []))[1].append(generator.label)
    for remedy, (sentence, labels) in reasons.items():
        yield Finding(Severity.NOTE, WHERE, f"{', '.join(labels)}: not considered; {sentence}.",
                      remedy)


def _unpriced(plan: Plan) -> Iterator[Finding]:
    for line in plan.menu.works.lines:
        if line.usd is None:
            yield Finding(Severity.WARNING, WHERE, f"{line.text}: the price book has no price for "
                          "it, and it is not in the sum.", "Add it to the price book.")


def _unknown(plan: Plan) -> Iterator[Finding]:
    home = plan.menu.house.home
    facts = [*(one.fact for one in lacking(home)),
             *(f"what {load.label} burns (gas.appliances)" for load in unknown_burners(home))]
    if facts:
        yield Finding(Severity.NOTE, WHERE, "not known, so neither checked nor in the price: "
                      f"{', '.join(facts)}.", "Measure it, and add it to [site].")
