"""Rows of the site sheet, in groups; what is not known is said to be missing, never assumed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    import pandas as pd

Status = Literal["ok", "not ok", "to do", "missing"]


@dataclass(frozen=True, slots=True)
class Row:
    """One thing that is checked, sized or left to do at a site.

    Attributes
    ----------
    key : str
        Name within its group, for data.
    what : str
        The thing, in plain words.
    status : Status
        ``ok``; ``not ok``; ``to do``: a person has to do or verify it; ``missing``: a fact of the
        home or the price book is not known.
    text : str
        The value with its unit, as it is read.
    value : float or None
        The same as a number in `unit`, not rounded; None where it is none.
    unit : str
        Of `value`; empty for words.
    limit : str
        What it is held against.
    clause : str
        The clause that asks for it, or the source.
    todo : str
        What to do, or which fact is missing and where it is written.
    """

    key: str
    what: str
    status: Status
    text: str
    value: float | None = None
    unit: str = ""
    limit: str = ""
    clause: str = ""
    todo: str = ""


@dataclass(frozen=True, slots=True)
class Group:
    """Rows that belong together."""

    key: str
    title: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, repr=False)
class SiteSheet:
    """All that a plan asks of its site."""

    groups: tuple[Group, ...]

    def __repr__(self) -> str:
        """Say in a line how much is open."""
        counts = ", ".join(f"{len(self.of(status))} {status}"
                           for status in ("ok", "not ok", "to do", "missing"))
        return f"<SiteSheet: {counts}>"

    def __iter__(self) -> Iterator[Row]:
        """All rows, group after group."""
        return (row for group in self.groups for row in group.rows)

    def of(self, status: Status) -> tuple[Row, ...]:
        """Rows of one status."""
        return tuple(row for row in self if row.status == status)

    def row(self, key: str) -> Row:
        """The row of a key; KeyError if there is none."""
        for row in self:
            if row.key == key:
                return row
        raise KeyError(key)

    def frame(self) -> pd.DataFrame:
        """Give all rows as a frame."""
        import pandas as pd  # noqa: PLC0415 - slow to import, and seldom needed

        return pd.DataFrame([
            {"group": group.key, "key": row.key, "what": row.what, "status": row.status,
             "text": row.text, "value": row.value, "unit": row.unit, "limit": row.limit,
             "clause": row.clause, "todo": row.todo}
            for group in self.groups for row in group.rows])


def missing(key: str, what: str, fact: str, *, limit: str = "", clause: str = "") -> Row:
    """Make the row of something that cannot be known without a fact; `fact` says where it goes."""
    return Row(key, what, "missing", "not known", limit=limit, clause=clause,
               todo=f"missing: {fact}")


def to_do(key: str, what: str, text: str, todo: str, clause: str = "") -> Row:
    """Make the row of something that a person does or verifies on site."""
    return Row(key, what, "to do", text, clause=clause, todo=todo)


def passed(*, ok: bool) -> Status:
    """Status of a check."""
    return "ok" if ok else "not ok"
