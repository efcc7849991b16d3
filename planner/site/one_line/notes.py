"""Notes of a one-line: grounding and bonding, what drives the modules, what is not drawn."""

from __future__ import annotations

from planner.plan.module_lines import module_lines
from planner.plan.plan import Plan
from planner.site.one_line.words import NOT_STATED, amperes
from planner.site.sheet.rows import Row, SiteSheet

GROUPS, ROWS = ("grounding",), ("moved-circuits",)
"""Groups of the sheet, and single rows of others, that are noted."""


def notes_of(plan: Plan, sheet: SiteSheet) -> tuple[str, ...]:
    """List the notes, in the order in which they are read."""
    notes = [_said(row) for group in sheet.groups for row in group.rows
             if group.key in GROUPS or row.key in ROWS]
    controller = plan.price.controller
    modules = plan.choice.modules
    if controller is not None:
        notes.append(f"Controller of the modules: {controller.label}, drives {modules} of "
                     f"{controller.modules}; listed setpoint {amperes(controller.setpoint_a)}.")
    if any(not line.in_circuit for line in module_lines(plan)):
        notes.append("A module drawn dashed opens the wire of a thermostat; the power of its load "
                     "passes below it.")
    notes.append(f"Ratings that nobody gave are written \"{NOT_STATED}\"; \"by rule\" is a "
                 "breaker by the rules of the code: read it off the panel.")
    off = len(plan.choice.left_out)
    if off:
        notes.append(f"Not drawn, as off standby power: {off} "
                     f"{'load' if off == 1 else 'loads'}; the plan names "
                     f"{'it' if off == 1 else 'them'}.")
    return tuple(notes)


def _said(row: Row) -> str:
    text = NOT_STATED if row.status == "missing" else row.text
    todo = "" if row.status == "missing" else row.todo
    return " ".join(part for part in (f"{row.what}: {text}.", todo, f"[{row.clause}]") if part)
