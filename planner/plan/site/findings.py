"""What the site adds to a plan, in words: what is bought, what would do instead, what lacks."""

from __future__ import annotations

from collections.abc import Iterator

from planner.errors import Finding, Severity
from planner.physics.fuel import FILL_LIMIT_SHARE
from planner.plan.plan import Plan
from planner.plan.site.burn import burn_of, hardest_burn
from planner.plan.site.feeder import named
from planner.plan.site.fuel import mean_limit_kw
from planner.plan.site.parts import usd_of
from planner.plan.site.tank import Tanks, mean_degf, tank_lines
from planner.plan.site.works import blocked_sizes
from planner.tolerances import ceiled, floored

WHERE = "site"


def site_findings(plan: Plan) -> tuple[Finding, ...]:
    """Say what a plan needs at its site beyond generator, transfer equipment and modules."""
    if plan.menu.house.home.site is None:
        return (Finding(
            Severity.NOTE, WHERE, "nothing is known of it: wire, gas pipe, trench, meter or tank "
            "are neither checked nor in the price.",
            "Add [site] to the home file; planner site shows what it asks."),)
    return (*_meter(plan), *_tank(plan), *_fill(plan), *_feeder(plan), *_unpriced(plan),
            *_unknown(plan), *_elsewhere(plan))


def _meter(plan: Plan) -> Iterator[Finding]:
    work = plan.menu.works.gas
    site = plan.menu.house.home.site
    if work is None or work.meter is None or site is None or site.gas is None:
        return
    needs = ceiled(work.generator_ft3_h + work.others_ft3_h, 1.0)
    yield Finding(
        Severity.NOTE, WHERE, f"the gas meter passes {site.gas.meter_ft3_h:,.0f} ft³/h; generator "
        f"and appliances take up to {needs:,.0f}. {work.meter.label}, "
        f"{work.meter.installed_usd:,.0f} USD, is in the price.",
        "Order it from the gas utility before the generator comes.")


def _tank(plan: Plan) -> Iterator[Finding]:
    """An added tank: why, its price, and the fill that would do without it."""
    tanks, site = plan.menu.works.tanks, plan.menu.house.home.site
    if tanks is None or not tanks.added or site is None or site.tank is None:
        return
    there = Tanks(tanks.gal[:len(tanks.gal) - len(tanks.added)])
    usd = usd_of(tank_lines(tanks))
    bought = f"{tank_lines(tanks)[0].text}, {usd:,.0f} USD, is in the price."
    if not there.gal:
        yield Finding(Severity.NOTE, WHERE, f"there is no propane tank yet: {bought}")
        return
    share = site.tank.delivery_share
    burn = hardest_burn(plan, there, share)
    day = plan.menu.house.home.days[burn.day]
    degf = mean_degf(day)
    gives = floored(there.vapour_btu_h(share, degf), 1000.0)
    why = (f"on the {day.label.lower()} {ceiled(burn.all_btu_h, 1000.0):,.0f} Btu/h are burned on "
           f"average, and the tank of {there.all_gal:,.0f} gal makes {gives:,.0f} at "
           f"{100.0 * share:g} % fill and {degf:.0f} degF")
    if gives >= burn.all_btu_h:
        days = floored(there.lasts_h(burn.all_btu_h, share, degf) / 24.0, 0.1)
        why = (f"on the {day.label.lower()} the tank of {there.all_gal:,.0f} gal lasts {days:.1f} "
               f"days from {100.0 * share:g} % fill, and {site.fuel_days or 0.0:g} are promised")
    yield Finding(Severity.NOTE, WHERE, f"{why}. {bought}", _instead(plan, there, degf, usd))


def _instead(plan: Plan, there: Tanks, degf: float, usd: float) -> str:
    """The fill at which the tanks that are there do for this plan, with the days that it asks."""
    site = plan.menu.house.home.site
    hours = 24.0 * (site.fuel_days or 0.0) if site is not None else 0.0
    for percent in range(1, round(100.0 * FILL_LIMIT_SHARE) + 1):
        if all(_feeds(plan, there, place, percent / 100.0, hours)
               for place in range(len(plan.menu.house.home.days))):
            return (f"At no price: have it filled before it falls to {percent} % "
                    f'(fill_at_delivery = "{percent} %" in [site.tank]), and save the '
                    f"{usd:,.0f} USD.")
    return "No fill of the tank that is there would do."


def _feeds(plan: Plan, tanks: Tanks, day: int, share: float, hours: float) -> bool:
    """Whether tanks at a fill leave the generator what the plan draws on a day, by the plan's rule.

    By the same hull of the fuel curve as the rule itself, so that the fill that is named works.
    """
    burn, home = burn_of(plan, day), plan.menu.house.home
    rating = plan.supply.generator.ratings[home.fuel]
    most = tanks.most_btu_h(share, mean_degf(home.days[day]), hours)
    return burn.mean_kw <= mean_limit_kw(most - burn.others_btu_h, rating.kw, rating.fuel)


def _fill(plan: Plan) -> Iterator[Finding]:
    """Say from which fill on a tank without an added one does, where that is close."""
    tanks, site = plan.menu.works.tanks, plan.menu.house.home.site
    if tanks is None or site is None or site.tank is None:
        return
    burn = hardest_burn(plan, tanks, site.tank.delivery_share)
    day = plan.menu.house.home.days[burn.day]
    least = tanks.least_fill(burn.all_btu_h, mean_degf(day))
    if least is not None:
        yield Finding(
            Severity.NOTE, WHERE, f"in weather like the {day.label.lower()} the propane must not "
            f"fall below {ceiled(100.0 * least, 1.0):.0f} % ({tanks.all_gal:,.0f} gal in all), or "
            "the generator starves.",
            f"Agree with the supplier on deliveries at {100.0 * site.tank.delivery_share:g} %.")


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
    site, gas = home.site, home.site.gas if home.site is not None else None
    if site is None:
        return
    lacking = [name for name, known in (
        ("the length of the wire (wire)", site.wire_ft is not None),
        ("the length of the gas pipe (gas.pipe)", gas is not None and bool(gas.runs)),
        ("what the gas meter passes (gas.meter)",
         home.fuel != "natural gas" or (gas is not None and gas.meter_ft3_h is not None)),
        ("the propane tank (tank.size)", home.fuel != "propane" or site.tank is not None),
    ) if not known]
    if lacking:
        yield Finding(Severity.NOTE, WHERE, "not known, so neither checked nor in the price: "
                      f"{', '.join(lacking)}.", "Measure it, and add it to [site].")
