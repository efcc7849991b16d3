"""Wishes about comforts, put into the text of a home: pure functions.

A file need not name the comforts that its loads make by themselves. What is wished of one is
written under its id in the list of comforts; all that is not said there stays assumed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd

from planner.editing.items import items, with_items
from planner.editing.values import Value, edited
from planner.facts.comfort import Comfort
from planner.facts.home import Home
from planner.units import tidied
from planner.wiring.promises import promise_text
from ui.edits import Cell, value_of

SECTION = "comforts"
NOTHING = "none"  # written as a promise: nothing is promised
SEASONS = ("summer", "winter")
CELLS = (
    Cell("label", "Comfort", help="What the family calls it.", pinned=True),
    Cell("importance", "Importance", "whole", "0 does not matter, 5 matters most.", low=0, high=5),
    Cell("promise", "Promise", help='What every plan keeps: "80 degF", "never cut", '
         '"40 mi by 7:00", "no cold shower", "safe", or "none".', wide=True),
    Cell("must_run", "Must-have", "truth",
         "The first load that serves it never has to wait, at any price."),
    Cell("refuge", "Refuge in", "list", "The room to stay in, one for each season.", SEASONS),
    Cell("loads", "Served by", "shown"),
)


def with_wish(text: str, comfort: Comfort, changes: Mapping[str, Value | None]) -> str:
    """Write what is wished of a comfort; None takes a wish out, so that it is assumed again.

    Parameters
    ----------
    text : str
        A home file that parses.
    comfort : Comfort
        As the file reads now.
    changes : mapping
        From keys of the comfort to their new values. What need not run any more takes must-run
        from its loads, too; a refuge of a season takes the season from every other room.
    """
    named = {str(row.get("id")): row for row in items(text, SECTION)}
    found = text
    if comfort.id not in named:
        if all(value is None for value in changes.values()):
            return text
        apart = text if named else f"{text.rstrip()}\n\n"  # a new list stands apart
        found = with_items(apart, SECTION, [{"id": comfort.id}])
    wanted: dict[tuple[str, ...], Value | None] = {
        (SECTION, comfort.id, key): value for key, value in changes.items()}
    if changes.get("must_run") is False:
        wanted |= {("loads", str(row["id"]), "must_run"): None for row in items(text, "loads")
                   if row.get("id") in comfort.loads and row.get("must_run") is True}
    seasons = changes.get("refuge")
    if isinstance(seasons, list):
        wanted |= {(SECTION, name, "refuge"): [one for one in row["refuge"] if one not in seasons]
                   for name, row in named.items() if name != comfort.id
                   and isinstance(row.get("refuge"), list)
                   and any(one in seasons for one in row["refuge"])}
    return edited(found, wanted)


def with_rank(text: str, comfort: Comfort, importance: int, *, must_run: bool) -> str:
    """Write how much a comfort matters to the family.

    What they can do without is promised no more, as the price of giving it up says; what matters
    again is promised as is usual. A must-have keeps its importance.
    """
    said = next((row for row in items(text, SECTION) if row.get("id") == comfort.id), {})
    changes: dict[str, Value | None] = {"must_run": must_run}
    if not must_run:
        changes["importance"] = importance
    if not must_run and not importance:
        changes["promise"] = NOTHING
    elif said.get("promise") == NOTHING:
        changes["promise"] = None
    return with_wish(text, comfort, changes)


def rows_of_comforts(text: str, home: Home) -> pd.DataFrame:
    """Lay out the comforts of a home: what the file says of each, else what is assumed.

    Returns
    -------
    pandas.DataFrame, shape (comforts, cells)
    """
    named = {str(row.get("id")): row for row in items(text, SECTION)}
    labels = {load.id: load.label for load in home.loads}
    must = {load.id for load in home.loads if load.must_run}
    frame = pd.DataFrame([{
        "label": _text(said, "label", one.label),
        "importance": said.get("importance", one.importance),
        "promise": _promise(said.get("promise", promise_text(one.promise))),
        "must_run": bool(said.get("must_run", one.must_run or not must.isdisjoint(one.loads))),
        "refuge": _list(said.get("refuge", sorted(one.refuge))),
        "loads": ", ".join(labels[name] for name in one.loads),
    } for one in home.comforts for said in [named.get(one.id, {})]],
        columns=[cell.key for cell in CELLS], dtype=object)
    frame["importance"] = pd.to_numeric(frame["importance"], errors="coerce")
    frame["must_run"] = frame["must_run"].astype("boolean")
    return frame


def with_wishes(
    text: str, comforts: Sequence[Comfort], edits: Mapping[str, Any] | None
) -> str:
    """Put what was done in the table of comforts into the text of a home.

    Parameters
    ----------
    text : str
        A home file that parses.
    comforts : sequence of Comfort
        Row by row as the table was laid out.
    edits : mapping or None
        ``edited_rows`` of the table's widget.
    """
    known = {cell.key: cell for cell in CELLS if cell.kind != "shown"}
    for row, cells in (edits or {}).get("edited_rows", {}).items():
        comfort = comforts[int(row)]
        text = with_wish(text, comfort, {key: _written(comfort, known[key], raw)
                                         for key, raw in cells.items() if key in known})
    return text


def _written(comfort: Comfort, cell: Cell, raw: Any) -> Value | None:  # noqa: ANN401
    """Write a cell as the file does: several promises as a list, a bare number as degrees."""
    value = value_of(cell, raw)
    if cell.key != "promise" or not isinstance(value, str):
        return value
    said = [part.strip() for part in value.split(",") if part.strip()]
    if comfort.kind == "room":
        said = [tidied(part, "degF") for part in said]
    return list(said) if len(said) > 1 else "".join(said) or None


def _text(said: Mapping[str, Any], key: str, otherwise: str) -> str:
    return str(said[key]) if key in said else otherwise


def _promise(said: object) -> str:
    return ", ".join(map(str, said)) if isinstance(said, list) else str(said)


def _list(said: object) -> list[str]:
    return [str(one) for one in said] if isinstance(said, list) else []
