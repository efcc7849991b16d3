"""Rows about fuel: what is burned, what meter, pipe and tank give, and how long it lasts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from planner.physics.clearances import FROM_RELIEF_FT, tank_distance_ft
from planner.physics.fuel import (
    FILL_LIMIT_SHARE,
    NATURAL_GAS_BTU_PER_FT3,
    PROPANE_BTU_PER_GAL,
    RESERVE_SHARE,
    fuel_btu_h,
    propane_gal_h,
)
from planner.physics.propane_pressure import propane_psi
from planner.plan.plan import Plan
from planner.plan.site.burn import Burn, burn_of, hardest_burn, shortest_burn
from planner.plan.site.fuel import ft3_h, natural_gas_btu_ft3
from planner.plan.site.gas import gas_work
from planner.plan.site.parts import Blocked
from planner.plan.site.tank import Tanks, hour_btu_h, lasting, mean_degf
from planner.site.sheet.gas import connection_row, gas_rows
from planner.site.sheet.rows import Row, Status, missing, passed, to_do
from planner.site.wire import site_of
from planner.tolerances import ceiled, floored, meets

STEADY = "table of a 500 gal tank, common practice, no source"


def fuel_rows(plan: Plan) -> tuple[Row, ...]:
    """List what the fuel of a plan is held against."""
    work = plan.menu.works.gas
    if work is None:
        found = gas_work(plan.menu.house, plan.menu.book, plan.supply.generator)
        work = None if isinstance(found, Blocked) else found
    rows = [_full_load(plan), _daily(plan)]
    if work is not None:
        rows += gas_rows(plan, work)
    rows.append(connection_row())
    if plan.menu.house.home.fuel != "propane":
        return tuple(rows)
    return (*rows, *_cold(plan), *_tank(plan))


def _full_load(plan: Plan) -> Row:
    home = plan.menu.house.home
    rating = plan.supply.generator.ratings[home.fuel]
    btu_h = fuel_btu_h(rating.kw, rating.kw, rating.fuel)
    if home.fuel == "propane":
        gal_h = propane_gal_h(btu_h)
        return Row("full-load", "Generator at full load", "ok",
                   f"{ceiled(gal_h, 0.1):.1f} gal/h, {ceiled(btu_h, 1000.0):,.0f} Btu/h", gal_h,
                   "gal/h", clause=f"price book; {PROPANE_BTU_PER_GAL:,.0f} Btu/gal (EIA)")
    volume, holds = ft3_h(btu_h, home), natural_gas_btu_ft3(home)
    return Row("full-load", "Generator at full load", "ok",
               f"{ceiled(volume, 1.0):,.0f} ft³/h, {ceiled(btu_h, 1000.0):,.0f} Btu/h", volume,
               "ft³/h", clause=f"price book; {holds:,.0f} Btu/ft³ "
               f"({'EIA' if holds == NATURAL_GAS_BTU_PER_FT3 else 'as stated'})")


def _daily(plan: Plan) -> Row:
    """Fuel of the generator on the day on which it burns most."""
    home = plan.menu.house.home
    burns = [burn_of(plan, place) for place in range(len(home.days))]
    worst = max(burns, key=lambda burn: burn.generator_btu_h)
    day = home.days[worst.day]
    if home.fuel == "propane":
        each, unit = 24.0 * propane_gal_h(worst.generator_btu_h), "gal"
    else:
        each, unit = 24.0 * ft3_h(worst.generator_btu_h, home), "ft³"
    return Row("daily", "Generator in a day of outage", "ok",
               f"{ceiled(each, 1.0):,.0f} {unit} on the {day.label.lower()}, "
               f"{worst.mean_kw:.1f} kW on average", each, f"{unit}/day",
               clause="replay of the plan, fuel curve of the price book")


def _cold(plan: Plan) -> Iterator[Row]:
    """Pressure in the tank at the coldest, against that with which the pipe starts."""
    gas = site_of(plan).gas
    if gas is None or gas.pressure_psi is None:
        return
    day = min(plan.menu.house.home.days, key=lambda one: one.low_degf)
    gives = propane_psi(day.low_degf)
    ok = meets(gas.pressure_psi, gives)
    yield Row("tank-pressure", "Pressure in the tank in the cold", passed(ok=ok),
              f"{floored(gives, 0.1):.1f} psi at {day.low_degf:g} degF on the {day.label.lower()}",
              gives, "psi", f"the pipe starts with {gas.pressure_psi:.3g} psi",
              "vapour pressure of propane at sea level, Antoine, from memory",
              "" if ok else "Ask the propane supplier for a first stage of less pressure, with a "
              "pipe that is sized for it, or for a vaporizer.")


@dataclass(frozen=True, slots=True)
class _Held:
    """The tanks of a plan on the day that is hardest for them."""

    plan: Plan
    tanks: Tanks
    burn: Burn
    share: float
    degf: float


def _tank(plan: Plan) -> list[Row]:
    tanks, tank = plan.menu.works.tanks, site_of(plan).tank
    if tanks is None or tank is None:
        return [missing("tank", "Propane tank", "its size (site.tank.size)", clause=STEADY)]
    burn = hardest_burn(plan, tanks, tank.delivery_share)
    degf = mean_degf(plan.menu.house.home.days[burn.day])
    held = _Held(plan, tanks, burn, tank.delivery_share, degf)
    first = shortest_burn(plan, tanks, tank.delivery_share)
    in_time = replace(held, burn=first,
                      degf=mean_degf(plan.menu.house.home.days[first.day]))
    return [_vapour(held), _fill(held), _peak(held), _run_time(in_time), _promise(in_time),
            _distance(tanks)]


def _distance(tanks: Tanks) -> Row:
    """Free distance of a tank above the ground, by the largest of them."""
    least_ft = tank_distance_ft(max(tanks.gal))
    return to_do("tank-distance", "Tank to building and property line",
                 f"at least {least_ft:g} ft for {max(tanks.gal):g} gal above the ground",
                 f"Keep it, and {FROM_RELIEF_FT:g} ft from relief valve and fill opening to the "
                 "generator; the supplier sets the tank.", "NFPA 58 6.4 (from memory)")


def _vapour(held: _Held) -> Row:
    day = held.plan.menu.house.home.days[held.burn.day]
    gives = held.tanks.vapour_btu_h(held.share, held.degf)
    ok = meets(held.burn.all_btu_h, gives)
    added = held.tanks.added
    todo = "" if not added else (
        f"With {len(added)} × {added[0].gal:g} gal more, in the price.")
    return Row(
        "tank-vapour", "Vapour for the average draw", passed(ok=ok),
        f"{ceiled(held.burn.all_btu_h, 1000.0):,.0f} Btu/h on the {day.label.lower()}, "
        f"{ceiled(held.burn.others_btu_h, 1000.0):,.0f} of it for appliances",
        held.burn.all_btu_h, "Btu/h",
        f"gives {floored(gives, 1000.0):,.0f} Btu/h at {100.0 * held.share:g} % fill and "
        f"{held.degf:.0f} degF ({held.tanks.all_gal:,.0f} gal)", STEADY, todo)


def _fill(held: _Held) -> Row:
    least = held.tanks.least_fill(held.burn.all_btu_h, held.degf)
    day = held.plan.menu.house.home.days[held.burn.day]
    what = "Fill from which on that vapour is there"
    if least is None:
        return Row("tank-fill", what, "not ok", "not even at 80 %", clause=STEADY,
                   todo="A larger tank.")
    return Row("tank-fill", what, "to do", f"{ceiled(100.0 * least, 1.0):.0f} %", 100.0 * least,
               "%", f"delivery is called at {100.0 * held.share:g} %", STEADY,
               f"Have it filled before it falls to {ceiled(100.0 * least, 1.0):.0f} % before "
               f"days like the {day.label.lower()}.")


def _peak(held: _Held) -> Row:
    """The hardest hour, against the rule for intermittent draw."""
    what = "Vapour for the hardest hour"
    gives = hour_btu_h(held.tanks, held.plan.menu.book, held.share,
                       held.plan.menu.house.home.days[held.burn.day])
    if gives is None:
        return missing("tank-peak", what, "diameter and length of the tank: a tank of the same "
                       "size in the price book ([[tanks]])", clause="rule D·L·K, from memory")
    peak = held.burn.hour_btu_h
    return Row("tank-peak", what, passed(ok=meets(peak, gives)),
               f"{ceiled(peak, 1000.0):,.0f} Btu/h", peak, "Btu/h",
               f"gives {floored(gives, 1000.0):,.0f} Btu/h for an hour at "
               f"{100.0 * held.share:g} % fill", "rule D·L·K for intermittent draw, from memory",
               "" if meets(peak, gives) else "Keep it fuller, or a larger tank.")


def _run_time(held: _Held) -> Row:
    hours = held.tanks.lasts_h(held.burn.all_btu_h, FILL_LIMIT_SHARE, held.degf)
    called_h = held.tanks.lasts_h(held.burn.all_btu_h, held.share, held.degf)
    spell = held.plan.menu.house.spell
    day = held.plan.menu.house.home.days[held.burn.day]
    status, todo = _spell_kept(24.0 * spell, full_h=hours, called_h=called_h)
    return Row("tank-run-time", "How long the tank lasts", status,
               f"{lasting(hours)} from 80 %, {lasting(called_h)} from {100.0 * held.share:g} %, "
               f"on days like the {day.label.lower()}", hours, "h",
               f"{100.0 * RESERVE_SHARE:g} % is kept, or more where the vapour ends",
               "fuel curve of the price book; reserve: common practice, no source",
               todo)


def _spell_kept(spell_h: float, *, full_h: float, called_h: float) -> tuple[Status, str]:
    """Whether the tanks last the outage that the plan is for, and what to do if not."""
    if meets(spell_h, called_h):
        return "ok", ""
    days = f"The plan is for {spell_h / 24.0:g} days"
    if meets(spell_h, full_h):
        return "to do", f"{days}: fill up before a storm."
    return "not ok", (f"{days}, and not even full tanks last so long: a truck has to come, or "
                      "larger tanks (site.fuel_promise).")


def _promise(held: _Held) -> Row:
    days = site_of(held.plan).fuel_days
    what = "Days promised from the fill at which a delivery is called"
    if days is None:
        return to_do("tank-days", what, "none", "Ask the family and the supplier how long a "
                     "delivery may take in a storm (site.fuel_promise).")
    lasts = held.tanks.lasts_h(held.burn.all_btu_h, held.share, held.degf) / 24.0
    return Row("tank-days", what, passed(ok=meets(days, lasts)), f"{floored(lasts, 0.1):.1f} days",
               lasts, "days", f"{days:g} days promised", "fuel curve of the price book")
