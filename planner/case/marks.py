"""Values that a file itself marks as assumed: those with the comment ``# assumed`` behind them."""

from __future__ import annotations

from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Item, Table

from planner.facts.assumption import Assumption

ASSUMED = "# assumed"
SOURCE = "marked in the file"


def marked(text: str) -> tuple[Assumption, ...]:
    """List what a file marks as assumed, in its order.

    Parameters
    ----------
    text : str
        TOML that has been read as a home.

    Returns
    -------
    tuple of Assumption
        Keys such as ``home.service``, ``days.hot.low``, ``loads.well.running``.
    """
    if ASSUMED not in text:
        return ()
    try:
        document = tomlkit.parse(text)
    except TOMLKitError:
        return ()  # what the reader's parser takes and this one does not: nothing is known of marks
    found: list[Assumption] = []
    for name, part in document.items():
        if isinstance(part, Table):
            found += _of_table(name, part)
        elif isinstance(part, AoT):
            for row in part:
                found += _of_table(f"{name}.{row.get('id', '')}", row)
    return tuple(found)


def is_assumed(table: Any, key: str) -> bool:  # noqa: ANN401 - a table of the parsed text
    """Whether the comment behind a value says that it is assumed."""
    item = table.value.get(key) if isinstance(table, Table) else None
    return isinstance(item, Item) and item.trivia.comment.strip() == ASSUMED


def _of_table(name: str, table: Table) -> list[Assumption]:
    return [Assumption(f"{name}.{key}", _said(table[key]), SOURCE)
            for key in table if is_assumed(table, key)]


def _said(item: Any) -> str:  # noqa: ANN401 - any TOML value
    value = item.unwrap() if isinstance(item, Item) else item
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)
