"""What the code asks of a plan, in sentences and as plain data."""

from __future__ import annotations

from planner.physics.demand import DemandSheet
from planner.physics.demand.tables import clause
from planner.plan.code import AlwaysConnected
from planner.plan.compliance import Compliance, compliance_of, lines_findings
from planner.plan.lines import can_be_wired
from planner.plan.module_lines import ModuleLine, module_lines, to_verify_of_modules
from planner.plan.plan import Plan
from planner.report.demand import demand_data
from planner.report.findings import finding_data
from planner.report.words import CONVENTION, number, watts
from planner.tolerances import ceiled, floored


def counted_sentence(found: Compliance) -> str:
    """Say what each method counts, and which of them counts against the rating."""
    sheets = found.sheets
    edition = sheets.counts.edition
    sums = (f"{number(sheets.optional.total_va, 0)} VA by {clause(edition, '220.82')}, "
            f"{number(sheets.standard.total_va, 0)} VA by Part III")
    counted = f"{number(sheets.counts.total_va, 0)} VA"
    which = (f"Part III alone is permitted: {sheets.why_not_optional}. So {counted} count"
             if sheets.why_not_optional else f"The lesser, {counted}, counts")
    if sheets.measured is not None:
        sums = f"{sums}, {number(sheets.measured.total_va, 0)} VA by {clause(edition, '220.87')}"
        which = (f"The measured demand bounds it: {counted} count"
                 if sheets.counts is sheets.measured
                 else f"{which}; the measured demand would be no less")
    return (f"Always connected: {sums}. {which} against the {watts(found.limit_va / 1000.0)} W "
            f"that the generator may carry here (100 % of its derated rating; {CONVENTION}).")


def wiring_sentences(plan: Plan) -> tuple[str, ...]:
    """Warn where no arrangement of the 120 V loads over the two lines is carried; else empty."""
    if can_be_wired(plan):
        return ()
    return tuple(f"{one.sentence[:1].upper()}{one.sentence[1:]} {one.remedy}"
                 for one in lines_findings(plan))


def way_sentence(found: Compliance) -> str:
    """Say which way the plan meets 702.4."""
    clauses = ", ".join(found.clauses)
    if found.way == "no management" and found.carries_lines:
        return (f"Nothing takes turns: the generator carries the full calculated load ({clauses}), "
                f"{_protected(found)}.")
    if found.way == "setpoint":
        return (f"Complies by the controller's listed setpoint ({clauses}): set to "
                f"{found.setpoint_a} A at most, which as a continuous load counts 125 %.")
    if not found.carries_lines:
        return (f"Does not comply as the legs stand ({clauses}): the heavier line of what is "
                f"always connected carries "
                f"{number(ceiled(found.sheets.counts.heavier_line_a, 0.1))} A of the "
                f"{number(floored(found.line_limit_a, 0.1))} A that it may.")
    return (f"Complies by the largest connected load ({clauses}): what is always connected, "
            f"managed loads at nought, is within the generator, {_protected(found)}. Whether that "
            "is the largest load of the clause is for the authority having jurisdiction.")


def sheets_shown(sheets: AlwaysConnected) -> tuple[DemandSheet, ...]:
    """List the sheets that a reader sees, by 220.82, by Part III and by 220.87 where it counts."""
    measured = () if sheets.measured is None else (sheets.measured,)
    return sheets.optional, sheets.standard, *measured


def _protected(found: Compliance) -> str:
    breaker = "own breaker" if found.breaker_a is None else f"own {found.breaker_a:g} A breaker"
    return f"whose {breaker} protects the feeder"


def plan_demand_data(plan: Plan) -> dict[str, object]:
    """Give the calculated load of a plan by each method, the way it complies, its modules."""
    found = compliance_of(plan)
    sheets = found.sheets
    return {
        "generator": plan.supply.generator.id,
        "always_connected": [part.id for part in plan.loads if part.connection == "direct"],
        "counts": sheets.counts.method,
        "counted_va": sheets.counts.total_va,
        "limit_va": found.limit_va,
        "why_not_optional": sheets.why_not_optional or None,
        "optional": demand_data(sheets.optional),
        "standard": demand_data(sheets.standard),
        "measured": None if sheets.measured is None else demand_data(sheets.measured),
        "way": found.way,
        "clauses": list(found.clauses),
        "breaker_a": found.breaker_a,
        "setpoint_a": found.setpoint_a,
        "modules": [_module_data(line) for line in module_lines(plan)],
        "findings": finding_data((*found.findings, *to_verify_of_modules(plan))),
    }


def _module_data(line: ModuleLine) -> dict[str, object]:
    return {
        "load": line.load.id, "module": line.module.id,
        "breaker_a": line.branch.breaker_a if line.in_circuit else None,
        "clause": line.branch.clause if line.in_circuit else None,
        "priority": line.priority, "stays_open": line.stays_open,
    }
