"""Rows about short circuits: what may flow, and what has to withstand it."""

from __future__ import annotations

from planner.physics.draw import LINE_VOLTS, amperes
from planner.physics.wire.fault import generator_fault_a, subtransient_reactance
from planner.plan.faults import starters_of
from planner.plan.module_lines import module_lines
from planner.plan.plan import Plan
from planner.site.sheet.rows import Row, missing, passed
from planner.site.wire import site_of
from planner.tolerances import ceiled, meets

UTILITY = "the fault current that the utility makes available at the panel (home.fault_current)"
CLAUSE = "110.9, 110.10"
MARKING = "110.9; its marking by 110.24 is not asked at dwellings (from memory)"


def fault_rows(plan: Plan) -> tuple[Row, ...]:
    """Hold what may flow in a fault against what the equipment of a plan withstands."""
    return (_utility(plan), _generator(plan), *_held(plan))


def generator_a(plan: Plan) -> float:
    """First current of the generator into a short circuit, on the fuel that gives the most [A]."""
    generator = plan.supply.generator
    kva = max(rating.kva for rating in generator.ratings.values())
    return generator_fault_a(kva, subtransient_reactance(generator.reactance,
                                                         generator.subtransient))


def available_a(plan: Plan) -> float | None:
    """The larger of both sources; None where that of the utility is not known [A]."""
    utility_a = plan.menu.house.home.fault_current_a
    return None if utility_a is None else max(utility_a, generator_a(plan))


def _utility(plan: Plan) -> Row:
    what, known_a = "Fault current from the utility", plan.menu.house.home.fault_current_a
    if known_a is None:
        return missing("fault-utility", what, f"{UTILITY}. Ask the utility", clause=MARKING)
    return Row("fault-utility", what, "ok", f"{known_a:,.0f} A at the panel", known_a, "A",
               clause=MARKING, todo="Taken for the transfer equipment too, which stands ahead of "
               "the panel: verify it there if it is far from it.")


def _generator(plan: Plan) -> Row:
    generator = plan.supply.generator
    first_a = generator_a(plan)
    kva = max(rating.kva for rating in generator.ratings.values())
    after_a = generator_fault_a(kva, generator.reactance)
    stated = generator.subtransient is not None
    how = "by X''d" if stated else "with half of X'd for X''d"
    return Row("fault-generator", "Fault current from the generator", "ok" if stated else "to do",
               f"{ceiled(first_a, 1.0):,.0f} A {how}; {ceiled(after_a, 1.0):,.0f} A by X'd after "
               "the first cycles", first_a, "A",
               f"rated {amperes(kva, LINE_VOLTS):.1f} A", "derived; 445.11",
               "" if stated else "The price book states no X''d: read it off the nameplate "
               "(subtransient).")


def _held(plan: Plan) -> list[Row]:
    transfer, service = plan.price.transfer, site_of(plan).service
    panel_a = None if service.panel_rating_ka is None else 1000.0 * service.panel_rating_ka
    rows = [
        _against(plan, "fault-transfer", transfer.label, transfer.short_circuit_a,
                 f"the short-circuit rating of {transfer.label} (short_circuit of the transfer "
                 "equipment in the price book)"),
        _against(plan, "fault-panel", "the panel's breakers", panel_a, "the interrupting rating of "
                 "the panel's breakers (site.service.interrupting_rating)"),
    ]
    kinds = {line.module.id: line.module for line in module_lines(plan) if line.in_circuit}
    rows += [_against(plan, f"fault-module-{kind.id}", kind.label, kind.short_circuit_a,
                      f"the short-circuit rating of {kind.label} (short_circuit of the module in "
                      "the price book)") for kind in kinds.values()]
    rows += [_against(plan, f"fault-soft-starter-{kind.id}", kind.label, kind.short_circuit_a,
                      f"the short-circuit rating of {kind.label} (short_circuit of the soft "
                      "starter in the price book)") for kind in starters_of(plan)]
    return rows


def _against(plan: Plan, key: str, label: str, withstands_a: float | None, fact: str) -> Row:
    what, flows_a = f"Fault current that is withstood: {label}", available_a(plan)
    if withstands_a is None:
        return missing(key, what, fact, clause=CLAUSE)
    if flows_a is None:
        return Row(key, what, "missing", f"{withstands_a:,.0f} A", withstands_a, "A",
                   clause=CLAUSE, todo=f"missing: {UTILITY}")
    ok = meets(flows_a, withstands_a)
    return Row(key, what, passed(ok=ok), f"{withstands_a:,.0f} A", withstands_a, "A",
               f"at least {ceiled(flows_a, 1.0):,.0f} A", CLAUSE, "" if ok else
               f"Take equipment rated for {ceiled(flows_a, 1.0):,.0f} A or more, also in a series "
               "combination that is listed.")
