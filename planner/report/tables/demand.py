"""The calculated load by code as a table: every line of the sum."""

from __future__ import annotations

from planner.physics.demand import DemandLine, DemandSheet
from planner.physics.demand.tables import clause
from planner.physics.wire.conductor_tables import STANDARD_RATINGS_A
from planner.report.tables.column import Column, Table, text
from planner.report.words import number


def demand_table(sheet: DemandSheet) -> Table[DemandLine]:
    """Put connected load on the left, what counts towards the total on the right."""
    title = f"Calculated load, {sheet.method} method, NEC {sheet.edition}"
    return Table(title, COLUMNS, sheet.lines)


def neutral_table(sheet: DemandSheet) -> Table[DemandLine]:
    """Lines of the load of the neutral."""
    return Table(f"Load of the neutral, NEC {sheet.edition}", COLUMNS, sheet.neutral_lines)


def limits_sentence(sheet: DemandSheet) -> str:
    """Say what the sheet leaves out: NEC Article 220, Part V (2017 to 2023), from memory."""
    first, second = (clause(sheet.edition, part) for part in ("220.102", "220.103"))
    return ("All loads count as those of one dwelling. Where a service supplies a farm with other "
            f"buildings, Part V of Article {first[:3]} ({first}, {second}, from memory) asks for "
            "more than this sheet works out: the authority having jurisdiction decides.")


def rating_sentence(sheet: DemandSheet) -> str:
    """Say what each line carries, and which standard rating carries the heavier one."""
    first_a, second_a = sheet.lines_a
    load = (f"{number(sheet.total_va, 0)} VA at 240 V are {number(sheet.amperes_a)} A; with each "
            f"120 V load on its own line L1 carries {number(first_a)} A and L2 "
            f"{number(second_a)} A")
    least_a = sheet.minimum_service_a
    if least_a is None:
        return (f"{load}; no standard rating carries that, the largest is "
                f"{STANDARD_RATINGS_A[-1]} A.")
    return f"{load}. The smallest standard rating that carries the heavier line is {least_a} A."


def _in_role(line: DemandLine, role: str) -> float | None:
    return line.va if line.role == role else None


def _shown(line: DemandLine, role: str) -> str:
    return number(line.va, 0) if line.role == role else ""


COLUMNS: tuple[Column[DemandLine], ...] = (
    text("text", "Line", lambda line: line.text),
    text("clause", "Clause", lambda line: line.clause),
    Column("connected_va", "Connected [VA]", lambda line: _in_role(line, "connected"),
           lambda line: _shown(line, "connected"), right=True),
    Column("demand_va", "Demand [VA]", lambda line: _in_role(line, "demand"),
           lambda line: _shown(line, "demand"), right=True),
)
