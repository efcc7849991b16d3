"""What the propane tanks of a plan ask of the family: fills, days, an added tank and its price."""

from __future__ import annotations

from collections.abc import Iterator

from planner.errors import Finding, Severity
from planner.physics.fuel import FILL_LIMIT_SHARE, RESERVE_SHARE
from planner.plan.plan import Plan
from planner.plan.site.burn import burn_of, hardest_burn, shortest_burn
from planner.plan.site.fuel import mean_limit_kw
from planner.plan.site.parts import WHERE, usd_of
from planner.plan.site.tank import (
    HOURS_PER_DAY,
    Tanks,
    hour_btu_h,
    lasting,
    mean_degf,
    tank_lines,
)
from planner.tolerances import ceiled, floored, meets

PERCENTS = range(5, round(100.0 * FILL_LIMIT_SHARE) + 1)
"""Fills at delivery that a home may state [%]."""
SPARE = 1.15
"""Average load that a named fill must feed, over that of the plan: what is assumed of the house may
draw more (a choice). More than the rating allows on average need not be fed."""
NO_FILL = ("No fill of these tanks does: ask the propane supplier for more tanks or a vaporizer, "
           "or let less run at night.")


def tank_findings(plan: Plan) -> tuple[Finding, ...]:
    """Say which tank is added and why, what would do instead, and how long the propane lasts."""
    tanks, site = plan.menu.works.tanks, plan.menu.house.home.site
    if tanks is None or site is None or site.tank is None:
        return ()
    share = site.tank.delivery_share
    return (*_added(plan, tanks, share), *hour_findings(plan, tanks, share),
            *_lasts(plan, tanks, share))


def _added(plan: Plan, tanks: Tanks, share: float) -> Iterator[Finding]:
    """An added tank: why, its price, and the fill that would do without it."""
    if not tanks.added:
        return
    there = Tanks(tanks.gal[:len(tanks.gal) - len(tanks.added)])
    usd = usd_of(tank_lines(tanks))
    gal = FILL_LIMIT_SHARE * sum(part.gal for part in tanks.added)
    book = plan.menu.book
    bought = (f"{tank_lines(tanks)[0].text}, {usd:,.0f} USD, is in the price; its first fill is "
              f"not (up to {gal:,.0f} gal, {ceiled(gal * book.propane_per_gal, 1.0):,.0f} USD).")
    if not there.gal:
        yield Finding(Severity.NOTE, WHERE, f"there is no propane tank yet: {bought}")
        return
    yield Finding(Severity.NOTE, WHERE, f"{_why(plan, there, share)}. {bought}",
                  _instead(plan, there, usd))


def _why(plan: Plan, there: Tanks, share: float) -> str:
    burn = hardest_burn(plan, there, share)
    day = plan.menu.house.home.days[burn.day]
    degf = mean_degf(day)
    gives = floored(there.vapour_btu_h(share, degf), 1000.0)
    if gives < burn.all_btu_h:
        return (f"on the {day.label.lower()} {ceiled(burn.all_btu_h, 1000.0):,.0f} Btu/h are "
                f"burned on average, and the tank of {there.all_gal:,.0f} gal makes {gives:,.0f} "
                f"at {100.0 * share:g} % fill and {degf:.0f} degF")
    burn = shortest_burn(plan, there, share)
    day = plan.menu.house.home.days[burn.day]
    lasts_h, promised_h = (there.lasts_h(burn.all_btu_h, share, mean_degf(day)),
                           _promised_h(plan))
    if lasts_h < promised_h:
        return (f"on the {day.label.lower()} the tank of {there.all_gal:,.0f} gal lasts "
                f"{lasting(lasts_h)} from {100.0 * share:g} % fill, and "
                f"{promised_h / HOURS_PER_DAY:g} days are promised")
    return (f"the tank of {there.all_gal:,.0f} gal feeds this plan barely, at "
            f"{100.0 * share:g} % fill on the {day.label.lower()}, and not what the house may draw "
            "if what is assumed of it is off")


def _promised_h(plan: Plan) -> float:
    site = plan.menu.house.home.site
    return HOURS_PER_DAY * ((site.fuel_days if site is not None else None) or 0.0)


def _instead(plan: Plan, there: Tanks, usd: float) -> str:
    """The fill at which the tanks that are there do for this plan, and for how long."""
    spell_h = HOURS_PER_DAY * plan.menu.house.spell
    percent = _least_percent(plan, there, max(spell_h, _promised_h(plan)))
    if percent is not None:
        return f"At no price: {_filled_at(percent)}, and save the {usd:,.0f} USD."
    percent = _least_percent(plan, there, _promised_h(plan))
    if percent is None:
        return "No fill of the tank that is there would surely do."
    burn = shortest_burn(plan, there, percent / 100.0)
    degf = mean_degf(plan.menu.house.home.days[burn.day])
    from_there, full = (lasting(there.lasts_h(burn.all_btu_h, share, degf))
                        for share in (percent / 100.0, FILL_LIMIT_SHARE))
    return (f"Without it: {_filled_at(percent)}; it saves the {usd:,.0f} USD, but the propane then "
            f"lasts {from_there} from there and {full} from full, and the plan is for "
            f"{plan.menu.house.spell} days.")


def _filled_at(percent: int) -> str:
    return (f'have it filled before it falls to {percent} % (fill_at_delivery = "{percent} %" in '
            "[site.tank])")


def _least_percent(plan: Plan, tanks: Tanks, hours: float) -> int | None:
    """The least fill at which tanks feed a plan on every design day, for so many hours."""
    places = range(len(plan.menu.house.home.days))
    return next((percent for percent in PERCENTS
                 if all(_feeds(plan, tanks, place, percent / 100.0, hours) for place in places)),
                None)


def _feeds(plan: Plan, tanks: Tanks, day: int, share: float, hours: float) -> bool:
    """Whether tanks at a fill feed what the plan draws, so many hours, with something to spare.

    By the same hull of the fuel curve as the rule itself, and in the hardest hour too, so that the
    fill that is named works.
    """
    burn, home = burn_of(plan, day), plan.menu.house.home
    rating = plan.supply.generator.ratings[home.fuel]
    most = tanks.most_btu_h(share, mean_degf(home.days[day]), hours)
    needs_kw = min(SPARE * burn.mean_kw, plan.supply.capacity_kw, plan.supply.average_kw)
    return (needs_kw <= mean_limit_kw(most - burn.others_btu_h, rating.kw, rating.fuel)
            and _feeds_hour(plan, tanks, day, share))


def _feeds_hour(
    plan: Plan, tanks: Tanks, day: int, share: float, times: float = 1.0
) -> bool:
    """Whether the hardest hour of a day is fed; what cannot be known is not held against it."""
    gives = hour_btu_h(tanks, plan.menu.book, share, plan.menu.house.home.days[day])
    return gives is None or meets(times * burn_of(plan, day).hour_btu_h, gives)


def feeds_every_hour(plan: Plan, tanks: Tanks, share: float, times: float = 1.0) -> bool:
    """Whether tanks at a fill feed so many times the hardest hour of every design day of a plan."""
    return all(_feeds_hour(plan, tanks, place, share, times)
               for place in range(len(plan.menu.house.home.days)))


def hour_findings(plan: Plan, tanks: Tanks, share: float) -> Iterator[Finding]:
    """Warn of an hour that draws more vapour than tanks make for an hour at a fill."""
    days = plan.menu.house.home.days
    for place, day in enumerate(days):
        if _feeds_hour(plan, tanks, place, share):
            continue
        gives = hour_btu_h(tanks, plan.menu.book, share, day) or 0.0
        fill = next((percent for percent in PERCENTS
                     if _feeds_hour(plan, tanks, place, percent / 100.0)), None)
        yield Finding(
            Severity.WARNING, WHERE, f"in the hardest hour of the {day.label.lower()} "
            f"{ceiled(burn_of(plan, place).hour_btu_h, 1000.0):,.0f} Btu/h are burned, and "
            f"{tanks.all_gal:,.0f} gal make {floored(gives, 1000.0):,.0f} at "
            f"{100.0 * share:g} % fill.",
            NO_FILL if fill is None else
            f"H{_filled_at(fill)[1:]}.")


def _lasts(plan: Plan, tanks: Tanks, share: float) -> Iterator[Finding]:
    """How long the propane lasts on the hardest day, and the fill that lasts the spell."""
    burn, home = shortest_burn(plan, tanks, share), plan.menu.house.home
    day, spell = home.days[burn.day], plan.menu.house.spell
    degf, hours = mean_degf(day), HOURS_PER_DAY * plan.menu.house.spell
    vapour = tanks.least_fill(burn.all_btu_h, degf)
    if vapour is None:
        return
    least = max(vapour, RESERVE_SHARE)
    ends = "the vapour ends" if vapour > RESERVE_SHARE else "the reserve begins"
    from_share = tanks.lasts_h(burn.all_btu_h, share, degf)
    full = tanks.lasts_h(burn.all_btu_h, FILL_LIMIT_SHARE, degf)
    said = (f"on days like the {day.label.lower()} {tanks.all_gal:,.0f} gal of propane last "
            f"{lasting(full)} from {100.0 * FILL_LIMIT_SHARE:g} % and "
            f"{lasting(from_share)} from {100.0 * share:g} %: at "
            f"{ceiled(100.0 * least, 1.0):.0f} % {ends}")
    if not feeds_every_hour(plan, tanks, share):
        yield Finding(Severity.WARNING, WHERE, f"{said}, if the hardest hour were fed.",
                      "See to the hardest hour first.")
        return
    if meets(hours, from_share):
        yield Finding(Severity.NOTE, WHERE, f"{said}.",
                      f"Agree with the supplier on deliveries at {100.0 * share:g} %.")
        return
    if full < hours:
        yield Finding(Severity.WARNING, WHERE, f"{said}; the plan is for {spell} days.",
                      "A truck has to come within that time, or promise the days "
                      f'(fuel_promise = "{spell} days" in [site]) and plan again: larger tanks '
                      "are then priced.")
        return
    percent = _least_percent(plan, tanks, hours)
    fill = f"{said}; the plan is for {spell} days."
    if percent is None:
        yield Finding(Severity.WARNING, WHERE, fill, "Fill up before a storm.")
        return
    yield Finding(Severity.WARNING, WHERE, fill,
                  f"Fill up before a storm, or never have less than {percent} %: write "
                  f'fill_at_delivery = "{percent} %" in [site.tank] and fuel_promise = '
                  f'"{spell} days" in [site].')
