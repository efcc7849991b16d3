"""Items of a file: loads, days, panels and parts put in, changed by place, taken out."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any

import tomlkit
from tomlkit.items import AoT

from planner.case.library import kinds
from planner.case.marks import ASSUMED
from planner.case.names import label_of, told_apart
from planner.case.text import parse_toml, without_mark
from planner.editing.cut import cut_out
from planner.editing.document import document_of
from planner.editing.values import Value, change, step_into, written

DUCTED = frozenset({"central air conditioner", "inverter air conditioner", "heat pump",
                    "inverter heat pump", "heat pump back-up heat"})
MOVES_AIR = frozenset({"air handler", "furnace blower", "gas furnace"})


def id_for(words: str, taken: Collection[str]) -> str:
    """Make an id of some words that no other item has: ``air-conditioner-2``."""
    plain = re.sub(r"[^a-z0-9]+", "-", words.casefold()).strip("-") or "item"
    number = 1
    while (name := plain if number == 1 else f"{plain}-{number}") in taken:
        number += 1
    return name


def as_assumed(value: str) -> Value:
    """Give a value that is written with the mark of what is assumed."""
    item = tomlkit.string(value)
    item.comment(ASSUMED.removeprefix("# "))
    return item


def with_items(text: str, section: str, rows: Iterable[Mapping[str, Value]]) -> str:
    """Add items to a list of tables in a file; each without an id gets one from label or kind.

    Parameters
    ----------
    text : str
        TOML that parses.
    section : str
        ``loads``, ``days``, ``panels``, or a list of the price book.
    rows : iterable of mapping
        Keys and values of the new items.
    """
    rows = list(rows)
    if section == "loads":
        text = without_rows(text, section, _said_better(items(text, section), rows))
    document = document_of(text)
    found = document.get(section)
    if isinstance(found, AoT):
        tables, apart = found, False
    else:
        rows = [*items(text, section), *rows]
        document.pop(section, None)
        tables, apart = tomlkit.aot(), True  # a new list is written with its items set apart
        document.append(section, tables)
    for row in rows:
        taken = {str(item.get("id")) for item in tables}
        words = str(row.get("id") or row.get("label") or row.get("kind") or section)
        if len(tables) and not apart:
            tables[-1].add(tomlkit.nl())
        table = tomlkit.table()
        table["id"] = id_for(words, taken)
        for key, value in row.items():
            if key != "id" and value not in (None, ""):
                table[key] = value
        tables.append(table)
    if section == "loads":
        _join_air(tables)
    return written(document)


def with_cells(
    text: str, section: str, cells: Mapping[int, Mapping[tuple[str, ...], Value | None]]
) -> str:
    """Change values of items by their place in a list of tables; None takes a key out.

    Parameters
    ----------
    text, section
        As for `with_items`.
    cells : mapping
        From the place of an item to its changes, each from a path of keys to the new value.
    """
    document = document_of(text)
    tables = _rows_of(document, section)
    for row, changes in cells.items():
        for path, value in changes.items():
            here: Any = tables[row]
            for number in range(len(path) - 1):
                if value is None and isinstance(here, dict) and path[number] not in here:
                    break
                here = step_into(here, path, number)
            else:
                change(here, path, value)
    return written(document)


def _rows_of(document: tomlkit.TOMLDocument, section: str) -> list[Any]:
    """Tables of a section in the places that `items` gives them."""
    rows = document.get(section)
    return [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []


def without_rows(text: str, section: str, rows: Collection[int]) -> str:
    """Take items out of a list of tables by their places; see `without_items`."""
    before = [str(row.get("id")) for row in items(text, section)]
    if not rows:
        return without_mark(text)
    document = document_of(cut_out(text, section, rows))
    if section == "loads":
        stay = {name for place, name in enumerate(before) if place not in rows}
        _forget(document, set(before) - stay)
    return written(document)


def without_items(text: str, section: str, ids: Collection[str]) -> str:
    """Take items out of a list of tables, and out of what the rest of a home says about them.

    A comment right above an item goes with it; every other comment stays.
    """
    return without_rows(text, section, [place for place, row in enumerate(items(text, section))
                                        if str(row.get("id")) in ids])


def items(text: str, section: str) -> list[dict[str, Any]]:
    """List the tables of a section as the file has them, without their order of keys."""
    rows = parse_toml(text, "the file").get(section)
    return [row for row in rows if isinstance(row, dict)] if isinstance(rows, list) else []


def names_of(text: str) -> dict[str, str]:
    """What the loads of a home are called, by id, as a reader of the file calls them."""
    rows = items(text, "loads")
    ids = [str(row.get("id")) for row in rows]
    labels = [" ".join(str(row.get("label") or label_of(name)).split())
              for row, name in zip(rows, ids, strict=True)]
    return dict(zip(ids, told_apart(labels, ids), strict=True))


def _said_better(
    present: Sequence[Mapping[str, Any]], rows: Sequence[Mapping[str, Value]]
) -> list[int]:
    """Places of loads over the whole floor, without a size, that new rows speak of again."""
    said = {str(row.get("kind")) for row in rows}
    return [place for place, row in enumerate(present)
            if (kind := str(row.get("kind"))) in said and kind in kinds()
            and kinds()[kind].covers_floor and "size" not in row]


def _forget(document: tomlkit.TOMLDocument, ids: Collection[str]) -> None:
    """Remove load ids from `requires`, `not_with`, `never_before` and `added`."""
    for row in _rows_of(document, "loads"):
        for key in ("requires", "not_with"):
            if isinstance(row.get(key), list) and _names(row[key], ids):
                row[key] = [name for name in row[key] if not _names([name], ids)]
    wishes, code = document.get("wishes"), document.get("code")
    if isinstance(wishes, dict) and isinstance(wishes.get("never_before"), list):
        wishes["never_before"] = [pair for pair in wishes["never_before"]
                                  if not (isinstance(pair, list) and _names(pair, ids))]
    if isinstance(code, dict) and isinstance(code.get("added"), list):
        code["added"] = [name for name in code["added"] if not _names([name], ids)]


def _names(found: Iterable[object], ids: Collection[str]) -> bool:
    """Whether one of the ids is among what a list holds."""
    return any(isinstance(one, str) and one in ids for one in found)


def _join_air(loads: AoT) -> None:
    """Let ducted units without a companion need what moves the air, where the home has only one."""
    movers = [row for row in loads if str(row.get("kind")) in MOVES_AIR]
    if len(movers) == 1:
        for row in loads:
            if str(row.get("kind")) in DUCTED and "requires" not in row:
                row["requires"] = [str(movers[0]["id"])]

