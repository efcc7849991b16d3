"""The site sheet of a plan as tables: what was found, what it is held against, by which clause."""

from __future__ import annotations

from planner.report.tables.column import Column, Table, text
from planner.site.sheet.rows import Group, Row

STATUS = {"ok": "ok", "not ok": "NOT OK", "to do": "to do", "missing": "missing"}

COLUMNS: tuple[Column[Row], ...] = (
    text("status", "", lambda row: STATUS[row.status]),
    text("what", "What", lambda row: row.what),
    text("found", "Found", lambda row: row.text),
    text("limit", "Held against", lambda row: row.limit),
    text("clause", "Clause or source", lambda row: row.clause),
)


def site_table(group: Group) -> Table[Row]:
    """Put the rows of a group under each other."""
    return Table(group.title, COLUMNS, group.rows)
