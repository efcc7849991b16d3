"""A panel schedule, from its text to its circuits."""

from __future__ import annotations

from collections.abc import Callable

from planner.errors import Finding, Severity
from planner.importing.panel.joined import circuits_of
from planner.importing.panel.record import Schedule
from planner.importing.panel.table import Table, separator_of, table_of
from planner.quoting import quoted, some

BEGINNING = 100_000
"""Characters in which a header is looked for: forty lines of the longest that are read."""


def is_schedule(text: str) -> bool:
    """Whether a text is a panel schedule: one of its first lines names the columns of one."""
    return separator_of(text[:BEGINNING]) is not None


def read_schedule(
    text: str, name: str, *, on_both_legs: Callable[[str], bool] = lambda words: False
) -> Schedule:
    """Read a panel schedule.

    Parameters
    ----------
    text : str
        A table with commas, semicolons, tabs or bars.
    name : str
        What findings call it.
    on_both_legs : callable
        Whether words mean something that is on both legs only: two rows of such words are one
        circuit.

    Raises
    ------
    CaseError
        No line names its columns, or it is far too long.
    """
    table = table_of(text, name)
    both = {row.line: on_both_legs(row.words) for row in table.rows}
    circuits, spares, findings, not_read = circuits_of(table.rows, name, both)
    return Schedule(circuits, spares, (*_of_table(table, name), *table.findings, *findings),
                    not_read)


def _of_table(table: Table, name: str) -> list[Finding]:
    found = []
    if table.titles:
        found.append(Finding(Severity.NOTE, name, "lines of a title: "
                             f"{'; '.join(quoted(one) for one in table.titles[:5])}.",
                             "What they say of the service belongs in [home]."))
    if table.unread:
        found.append(Finding(Severity.NOTE, name, f"columns that are not read: "
                             f"{some(table.unread)}.", "Of notes, a size or a nameplate counts."))
    return found
