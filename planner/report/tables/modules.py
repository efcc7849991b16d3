"""The shedding modules of a plan as a table: the branch circuit and what the module may switch."""

from __future__ import annotations

from planner.plan.module_lines import ModuleLine, module_lines
from planner.plan.plan import Plan
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import number


def module_table(plan: Plan) -> Table[ModuleLine]:
    """Put each load behind a module beside its breaker and the ratings of the module."""
    return Table("Shedding modules and their branch circuits", COLUMNS, module_lines(plan))


def _breaker_a(line: ModuleLine) -> float | None:
    return line.branch.breaker_a if line.in_circuit else None


def _amperes(line: ModuleLine) -> float | None:
    return (line.module.largest_breaker_a or line.module.amperes) if line.in_circuit else None


def _does(line: ModuleLine) -> str:
    return "stays open" if line.stays_open else f"takes turns, priority {line.priority}"


def _whole(value: float) -> str:
    return number(value, 0)


COLUMNS: tuple[Column[ModuleLine], ...] = (
    text("load", "Load", lambda line: line.load.label),
    figure("breaker_a", "Branch breaker [A]", _breaker_a, _whole),
    text("clause", "By",
         lambda line: line.branch.clause if line.in_circuit else "not in the branch circuit"),
    text("module", "Module", lambda line: line.module.label),
    text("does", "In an outage", _does),
    figure("largest_breaker_a", "Behind at most [A]", _amperes, _whole),
)
