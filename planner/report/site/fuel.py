"""How long the fuel of a plan lasts, and what a day of it costs."""

from __future__ import annotations

from planner.physics.fuel import (
    FILL_LIMIT_SHARE,
    RESERVE_SHARE,
    natural_gas_therm_h,
    propane_gal_h,
)
from planner.plan.plan import Plan
from planner.plan.site.burn import Burn, burn_of, shortest_burn
from planner.plan.site.fuel import ft3_h
from planner.plan.site.tank import HOURS_PER_DAY, lasting, mean_degf
from planner.plan.site.tank_findings import feeds_every_hour
from planner.report.words import money
from planner.tolerances import ceiled


def fuel_sentences(plan: Plan) -> tuple[str, ...]:
    """Say how long the propane lasts, and what a day of an outage burns and costs at most.

    Notes
    -----
    Of the day on which most is burned; how long, of the day that is hardest for the tanks.
    """
    home = plan.menu.house.home
    if home.fuel == "propane":
        return (*_lasts(plan), _propane_a_day(plan))
    burn = _most(plan)
    each = HOURS_PER_DAY * ft3_h(burn.all_btu_h, home)
    usd = HOURS_PER_DAY * natural_gas_therm_h(burn.all_btu_h) * plan.menu.book.natural_gas_per_therm
    return (f"Natural gas: up to {ceiled(each, 10.0):,.0f} ft³ a day, {_about(plan, usd)}"
            f"{_of_what(burn)}, on days like the {home.days[burn.day].label.lower()}.",)


def _lasts(plan: Plan) -> tuple[str, ...]:
    tanks, home = plan.menu.works.tanks, plan.menu.house.home
    if tanks is None or home.site is None or home.site.tank is None:
        return ("How long the propane lasts is not known: nothing says how large the tank is.",)
    share = home.site.tank.delivery_share
    burn = shortest_burn(plan, tanks, share)
    day = home.days[burn.day]
    degf = mean_degf(day)
    least = tanks.least_fill(burn.all_btu_h, degf) or 0.0
    stops = ("" if least <= RESERVE_SHARE else
             f" Below {ceiled(100.0 * least, 1.0):.0f} % so cold a tank gives too little gas.")
    if not feeds_every_hour(plan, tanks, share):
        stops += " In the hardest hour it gives too little, see below."
    return (f"Propane: {tanks.all_gal:,.0f} gal last "
            f"{lasting(tanks.lasts_h(burn.all_btu_h, FILL_LIMIT_SHARE, degf))} from full "
            f"({100.0 * FILL_LIMIT_SHARE:g} %) and "
            f"{lasting(tanks.lasts_h(burn.all_btu_h, share, degf))} from {100.0 * share:g} %, on "
            f"days like the {day.label.lower()}; the plan is for {plan.menu.house.spell}."
            f"{stops}",)


def _propane_a_day(plan: Plan) -> str:
    burn = _most(plan)
    gal = HOURS_PER_DAY * propane_gal_h(burn.all_btu_h)
    day = plan.menu.house.home.days[burn.day]
    return (f"Propane a day: up to {ceiled(gal, 1.0):,.0f} gal, "
            f"{_about(plan, gal * plan.menu.book.propane_per_gal)}{_of_what(burn)}, on days like "
            f"the {day.label.lower()}.")


def _most(plan: Plan) -> Burn:
    days = range(len(plan.menu.house.home.days))
    return max((burn_of(plan, day) for day in days), key=lambda burn: burn.all_btu_h)


def _about(plan: Plan, usd: float) -> str:
    return f"about {money(ceiled(usd, 1.0), plan.menu.book.currency)}"


def _of_what(burn: Burn) -> str:
    return (" for generator and appliances" if burn.others_btu_h > 0.0
            else " for the generator alone")
