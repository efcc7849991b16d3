"""What was done in an editable table, put into the text of a file: pure functions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import pandas as pd

from planner.editing.items import items, with_cells, with_items, without_rows
from planner.editing.values import Value
from planner.units import tidied

Kind = Literal["text", "whole", "number", "truth", "choice", "list", "shown"]


UNSAID = "–"
BLANK: dict[str, str] = {"text": "", "shown": "", "choice": UNSAID}  # None for the other kinds


@dataclass(frozen=True, slots=True)
class Cell:
    """One column of an editable table: a key of the file, `ratings/propane/power` for inner ones.

    `help` tells what to write; `options` are what a choice or a list takes; `low` and `high` bound
    a whole number; what is only `shown` cannot be changed; a `pinned` one stays in sight, a `wide`
    one has room for a few words; `unit` is put behind a bare number and in place of everyday
    spellings of it.
    """

    key: str
    heading: str
    kind: Kind = "text"
    help: str = ""
    options: tuple[str, ...] = ()
    low: int | None = None
    high: int | None = None
    pinned: bool = False
    wide: bool = False
    unit: str = ""

    @property
    def path(self) -> tuple[str, ...]:
        """Keys from the item down to the value."""
        return tuple(self.key.split("/"))


def rows_of(text: str, section: str, cells: Sequence[Cell]) -> pd.DataFrame:
    """Lay out a section of a file as it is written, a column for each cell, blank where unsaid.

    Returns
    -------
    pandas.DataFrame, shape (items, cells)
        Texts as objects; truths and whole numbers as the file has them.
    """
    rows = [[_shown(cell, _at(row, cell.path)) for cell in cells] for row in items(text, section)]
    frame = pd.DataFrame(rows, columns=[cell.key for cell in cells], dtype=object)
    for cell in cells:
        if cell.kind == "truth":
            frame[cell.key] = frame[cell.key].astype("boolean")
        elif cell.kind in ("whole", "number"):
            frame[cell.key] = pd.to_numeric(frame[cell.key], errors="coerce")
    return frame


def applied(
    text: str, section: str, cells: Sequence[Cell], edits: Mapping[str, Any] | None
) -> str:
    """Put what was done in a table into the text that the table was laid out from.

    Parameters
    ----------
    text, section, cells
        As they were given to `rows_of`.
    edits : mapping or None
        ``edited_rows``, ``added_rows`` and ``deleted_rows`` of the table's widget.
    """
    if not edits:
        return text
    known = {cell.key: cell for cell in cells}
    changed = {int(row): {known[key].path: value_of(known[key], value)
                          for key, value in cells_.items() if key in known}
               for row, cells_ in edits.get("edited_rows", {}).items()}
    found = with_cells(text, section, changed) if changed else text
    added = [row for row in map(dict, edits.get("added_rows", [])) if any(
        value not in (None, "") for key, value in row.items() if key in known)]
    deleted = [int(row) for row in edits.get("deleted_rows", [])]
    if deleted:
        found = without_rows(found, section, deleted)
    if added:
        found = with_items(found, section, [_new(row, known) for row in added])
    return found


def fresh_edits(edits: Mapping[str, Any] | None, taken: Mapping[str, Any]) -> dict[str, Any]:
    """Keep of what was done in a table what had not been taken before."""
    known = taken.get("edited_rows", {})
    rows = {row: {key: value for key, value in cells.items()
                  if key not in known.get(row, {}) or known[row][key] != value}
            for row, cells in (edits or {}).get("edited_rows", {}).items()}
    return {
        "edited_rows": {row: cells for row, cells in rows.items() if cells},
        "added_rows": list((edits or {}).get("added_rows", []))[len(taken.get("added_rows", [])):],
        "deleted_rows": [row for row in (edits or {}).get("deleted_rows", [])
                         if row not in taken.get("deleted_rows", [])],
    }


def has_emptied(edits: Mapping[str, Any] | None) -> bool:
    """Whether a cell was emptied among what was done in a table."""
    rows = (edits or {}).get("edited_rows", {}).values()
    return any(value is None for row in rows for value in row.values())


def _new(row: Mapping[str, Any], known: Mapping[str, Cell]) -> dict[str, Value]:
    new: dict[str, Value] = {}
    for key, raw in row.items():
        if key not in known:
            continue
        value = value_of(known[key], raw)
        if value is None:
            continue
        here: dict[str, Any] = new
        for step in known[key].path[:-1]:
            here = here.setdefault(step, {})
        here[known[key].path[-1]] = value
    return new


def value_of(cell: Cell, raw: Any) -> Value | None:  # noqa: ANN401
    """Write a cell's content as the file does; None where nothing is said."""
    if raw is None or raw in ("", UNSAID) or (isinstance(raw, float) and pd.isna(raw)):
        return None
    match cell.kind:
        case "truth":
            return bool(raw)
        case "whole":
            return int(raw)
        case "number":
            return float(raw)
        case "list":
            return [str(one) for one in raw]
        case _:
            text = str(raw).strip()
            return (tidied(text, cell.unit) if cell.unit else text) or None


def _at(row: Mapping[str, Any], path: Sequence[str]) -> Any:  # noqa: ANN401
    here: Any = row
    for step in path:
        if not isinstance(here, Mapping) or step not in here:
            return None
        here = here[step]
    return here


def _shown(cell: Cell, value: Any) -> Any:  # noqa: ANN401
    if cell.kind == "list":
        return [str(one) for one in value] if isinstance(value, list) else []
    if value is None:
        return BLANK.get(cell.kind)
    if cell.kind == "truth":
        return value if isinstance(value, bool) else None
    if cell.kind in ("whole", "number"):
        return value
    return str(value)
