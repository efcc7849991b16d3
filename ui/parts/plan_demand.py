"""What the code asks of a plan, as a sheet beside it."""

from __future__ import annotations

from planner.plan.compliance import compliance_of
from planner.plan.module_lines import to_verify_of_modules
from planner.plan.plan import Plan
from planner.report.code_words import counted_sentence, sheets_shown, way_sentence
from planner.report.tables.demand import demand_table
from planner.report.tables.modules import module_table
from planner.service.module_fit import module_findings
from ui.parts.findings import show_findings
from ui.parts.said import points, strong
from ui.parts.tables import show_table


def show_plan_demand(plan: Plan, key: str) -> None:
    """Draw the calculated load of what is always connected, by each method, and the modules."""
    found = compliance_of(plan)
    strong("Calculated load of what is always connected")
    points([counted_sentence(found), way_sentence(found)])
    for sheet in sheets_shown(found.sheets):
        show_table(demand_table(sheet), key=f"{key} {sheet.method}")
    if plan.price.controller is not None:
        show_table(module_table(plan), key=f"{key} modules")
    home, book = plan.menu.house.home, plan.menu.book
    show_findings((*found.findings, *to_verify_of_modules(plan), *module_findings(home, book)))
