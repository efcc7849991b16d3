"""A plan that fits by one method of the calculated load only, which has to be verified."""

from __future__ import annotations

from planner.errors import Finding, Severity
from planner.physics.demand.tables import OPTIONAL_LEAST_A, clause
from planner.plan.again import supplies_of
from planner.plan.code import WHOLE, always_connected, direct_demand
from planner.plan.plan import Plan
from planner.service.choice import DIRECT, MODULE
from planner.tolerances import carries, ceiled, floored


def method_findings(plan: Plan) -> tuple[Finding, ...]:
    """Say of a plan that fits by 220.82 or 220.87 only what that hangs on, and what fits without.

    Parameters
    ----------
    plan : Plan
        Any plan; the calculated load that counts is within its generator.

    Returns
    -------
    tuple of Finding
        None where Part III fits as well, or counts already (`planner.plan.code`).

    Notes
    -----
    Our reading of whose conductors 220.82(A) means, not the code's words. The service's amperes are
    held against 100 A, and whole-house transfer equipment is never below them.
    """
    sheets, supply = always_connected(plan.menu, plan.choice), plan.supply
    if not carries(supply.derated_kw, sheets.calculated.total_va):
        return (_by_measurement_only(plan),)
    if sheets.why_not_optional or carries(supply.derated_kw, sheets.standard.total_va):
        return ()
    number = clause(plan.menu.house.home.code.edition, "220.82(A)")
    standard_va, rated_va = sheets.standard.total_va, floored(1000.0 * supply.derated_kw, 1.0)
    breaker_a = supply.generator.breaker_a
    own = "" if breaker_a is None else f" behind its own {breaker_a:g} A breaker"
    return (Finding(
        Severity.WARNING, "calculated load",
        f"what is always connected fits by the optional method only: "
        f"{sheets.optional.total_va:,.0f} VA by it, {standard_va:,.0f} VA by Part III, and the "
        f"generator may carry {rated_va:,.0f} W here. {number} asks that one set of service or "
        f"feeder conductors of {OPTIONAL_LEAST_A:g} A or more serves the total connected load of "
        "the dwelling; our reading: behind whole-house transfer equipment those are the "
        f"conductors from it ({plan.price.transfer.rating_a:g} A) to the panel. The generator's "
        f"own feeder is smaller ({floored(supply.leg_a, 0.1):.1f} A per leg{own}), so the "
        "authority having jurisdiction may ask for Part III.",
        f"Ask it before ordering. By Part III the plan is "
        f"{ceiled(standard_va, 1.0) - rated_va:,.0f} VA over; then fits: "
        f"{_what_fits(plan, standard_va)}."),)


def _by_measurement_only(plan: Plan) -> Finding:
    sheets, supply = always_connected(plan.menu, plan.choice), plan.supply
    number = clause(plan.menu.house.home.code.edition, "220.87")
    by_loads = sheets.calculated
    able = [one for one in supplies_of(plan) if carries(one.derated_kw, by_loads.total_va)]
    least = min(able, key=lambda one: (one.derated_kw, one.generator.installed_usd), default=None)
    fits = ("no generator of the price book" if least is None else
            f"the {least.generator.label} ({floored(1000.0 * least.derated_kw, 1.0):,.0f} W here)")
    return Finding(
        Severity.WARNING, "calculated load",
        f"what is always connected fits by the measured demand only: {sheets.counts.total_va:,.0f} "
        f"VA by {number}, {by_loads.total_va:,.0f} VA by the {by_loads.method} method, and the "
        f"generator may carry {floored(1000.0 * supply.derated_kw, 1.0):,.0f} W here. It holds "
        "while the family uses the house as it did when it was measured.",
        f"Ask the authority having jurisdiction before ordering; without the measurement then "
        f"fits: {fits}.")


def _what_fits(plan: Plan, standard_va: float) -> str:
    """Name the smallest generator that carries a load, and the loads that alone would mend it."""
    menu = plan.menu
    able = [one for one in supplies_of(plan) if carries(one.derated_kw, standard_va)]
    found = ["no generator of the price book"]
    if able:
        least = min(able, key=lambda one: (one.derated_kw, one.generator.installed_usd))
        found = [f"the {least.generator.label} ({floored(1000.0 * least.derated_kw, 1.0):,.0f} W "
                 "here)"]
    ids = menu.house.ids
    direct = {ids[i] for i, how in enumerate(plan.choice.connection) if how == DIRECT}
    movable = [menu.house.home.loads[i].label for i, load_id in enumerate(ids)
               if load_id in direct and menu.allowed[i, MODULE]
               and carries(plan.supply.derated_kw, _part_three_va(plan, direct - {load_id}))]
    if movable:
        found.append("or, by the calculation alone, this one with one of these behind a module: "
                     + ", ".join(movable))
    return ", ".join(found)


def _part_three_va(plan: Plan, direct: set[str]) -> float:
    whole = plan.menu.kind == WHOLE
    return direct_demand(plan.menu.house.home, frozenset(direct), whole_area=whole,
                         entire=whole).standard.total_va
