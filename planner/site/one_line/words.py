"""Words for what is known on a one-line, and for what is not."""

from __future__ import annotations

from planner.site.sheet.rows import SiteSheet

NOT_STATED = "not stated"


def amperes(value_a: float | None) -> str:
    """Write a rating [A], or that there is none to be read."""
    return NOT_STATED if value_a is None else f"{value_a:,g} A"


def yes_or_no(value: bool | None) -> str:
    """Write a fact that may be unknown."""
    return NOT_STATED if value is None else "yes" if value else "no"


def of_sheet(sheet: SiteSheet, key: str) -> str:
    """Give what the sheet says in a row; not stated where it has none, or a fact is missing."""
    for row in sheet:
        if row.key == key:
            return NOT_STATED if row.status == "missing" else row.text
    return NOT_STATED
