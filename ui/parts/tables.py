"""Tables of the reports on a page."""

from __future__ import annotations

from typing import TypeVar

import pandas as pd
import streamlit as st

from planner.report.tables.column import Table
from ui.parts.said import plain

Item = TypeVar("Item")
UNITS = {"h": "h", "kw": "kW"}


def show_table(
    table: Table[Item], *, height: int | None = None, key: str | None = None, numbered: str = ""
) -> None:
    """Draw a table as the command line shows it; cells are text, as they stand.

    `numbered` heads a first column that counts the rows, if there is to be one.
    """
    frame = pd.DataFrame(table.cells, columns=_distinct(table.headings))
    columns = {heading: st.column_config.TextColumn(alignment="right" if column.right else "left")
               for heading, column in zip(frame.columns, table.columns, strict=True)}
    if numbered:
        frame.insert(0, numbered, [str(number) for number, _ in enumerate(table.cells, start=1)])
    st.dataframe(frame, hide_index=True, width="stretch", height=height or "content",
                 column_config=columns, key=key, alt=table.title)


def show_written(table: Table[Item]) -> None:
    """Write a small table whose cells take as many lines as they need."""
    columns = [plain(one) or " " for one in _distinct(table.headings)]
    cells = [[plain(cell) for cell in row] for row in table.cells]
    st.table(pd.DataFrame(cells, columns=columns).set_index(columns[0]), border="horizontal",
             alt=table.title)


def show_frame(frame: pd.DataFrame, key: str, *, height: int | None = None) -> None:
    """Draw a frame whose columns say their units."""
    shown = frame.drop(columns=[name for name in frame.columns if str(name).endswith("_id")])
    headings = {name: _heading(name) for name in map(str, shown.columns)}
    st.dataframe(shown.rename(columns=headings), hide_index=True, width="stretch",
                 height=height or "auto", key=key, alt=f"The same as a table: {key}")


def _heading(name: str) -> str:
    """Write a column's key as a heading: ``start_h`` becomes ``Start [h]``."""
    words, _, unit = name.rpartition("_")
    if unit in UNITS and words:
        return f"{words.replace('_', ' ').capitalize()} [{UNITS[unit]}]"
    if name == "kw":
        return f"Demand [{UNITS[name]}]"
    return name.replace("_", " ").capitalize()


def _distinct(headings: list[str]) -> list[str]:
    """Headings that differ, which columns of a frame must."""
    seen: list[str] = []
    for heading in headings:
        name = heading or " "
        while name in seen:
            name += " "
        seen.append(name)
    return seen
