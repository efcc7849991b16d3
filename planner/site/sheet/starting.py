"""Rows about the voltage while the hardest motors start, through the feeder."""

from __future__ import annotations

from operator import itemgetter

from planner.facts.home import Load
from planner.physics.motor_start import voltage_dip_with_power_factor
from planner.physics.wire.conductor_tables import SIZES
from planner.physics.wire.impedance_tables import AC_OHM_PER_KFT
from planner.physics.wire.start_drop import StartVoltages, run_ohm, start_voltages
from planner.plan.plan import Plan
from planner.plan.site.feeder import named
from planner.service.choice import OFF
from planner.site.neutral import neutral_of
from planner.site.sheet.conductors import LENGTH
from planner.site.sheet.rows import Row, Status, missing
from planner.site.wire import FeederRun, site_of
from planner.tolerances import ceiled, floored, meets

CLAUSE = "dip limit of the home; series circuit, derived; Chapter 9, Table 9"


def starting_rows(plan: Plan, run: FeederRun | str) -> tuple[Row, ...]:
    """Look at the motor that pulls the voltage at the panel down the most, at 240 V and at 120 V.

    Nothing else runs while it starts, and its branch circuit is left out: its length is no fact of
    a home.
    """
    if isinstance(run, str):
        return ()
    motors = [(load, float(plan.supply.start_kva[i, plan.choice.soft_start[i]]))
              for i, load in enumerate(plan.menu.house.home.loads)
              if plan.choice.connection[i] != OFF and load.is_motor]
    return tuple(_row(plan, run, volts, [one for one in motors if one[0].volts == volts])
                 for volts in (240, 120) if any(one[0].volts == volts for one in motors))


def _row(plan: Plan, run: FeederRun, volts: int, motors: list[tuple[Load, float]]) -> Row:
    key, what = f"start-{volts}", f"Voltage dip at the panel at the hardest {volts} V start"
    allowed = plan.menu.house.home.limits.allowed_dip
    limit = f"{100.0 * allowed:g} %"
    if run.length_ft is None:
        return missing(key, what, LENGTH, limit=limit, clause=CLAUSE)
    neutral = neutral_of(plan, run).size
    dip, load, kva = max(((_at(plan, run, run.laid, load, kva, neutral).panel_dip, load, kva)
                          for load, kva in motors), key=itemgetter(0))
    alone = voltage_dip_with_power_factor(
        plan.supply.generator.reactance, kva, plan.supply.kva, load.starting_pf)
    beside = f"{ceiled(100.0 * alone, 0.1):.1f} % at the generator alone" if volts == 240 else (
        "on its own leg, which has half of the generator")
    todo = "" if meets(dip, allowed) else _remedy(plan, run, load, kva)
    status: Status = "ok" if not todo else "not ok" if volts == 240 else "to do"
    return Row(key, what, status, f"{ceiled(100.0 * dip, 0.1):.1f} %, {load.label}, {beside}",
               100.0 * dip, "%", limit, CLAUSE, todo)


def _at(
    plan: Plan, run: FeederRun, size: str, load: Load, kva: float, neutral: str
) -> StartVoltages:
    site, supply = site_of(plan), plan.supply
    line_ohm, neutral_ohm = (run_ohm(one, run.length_ft or 0.0, site.material, site.raceway)
                             for one in (size, neutral))
    return start_voltages(kva, load.starting_pf, load.volts, supply.kva,
                          supply.generator.reactance, line_ohm, neutral_ohm=neutral_ohm)


def _remedy(plan: Plan, run: FeederRun, load: Load, kva: float) -> str:
    """Name the smallest feeder that mends it, else the start that would be within the limit."""
    home, material = plan.menu.house.home, run.by_code.material
    alike = ", the neutral too" if load.volts == 120 else ""
    neutral = neutral_of(plan, run).size
    for size in SIZES[SIZES.index(run.laid):]:
        if size in AC_OHM_PER_KFT[material]["PVC"] and meets(
                _at(plan, run, size, load, kva, size).panel_dip, home.limits.allowed_dip):
            if size == run.laid:
                return f"Lay the neutral as large as the lines, {named(size, material)}."
            return f"Lay {named(size, material)}{alike}."
    share = next((s for s in range(95, 0, -5) if meets(
        _at(plan, run, run.laid, load, kva * s / 100.0, neutral).panel_dip,
        home.limits.allowed_dip)), 0)
    least = f" that leaves {floored(share, 1.0):g} % of its start or less" if share else ""
    return f"No larger wire mends it: a soft starter{least}, or a larger generator."
