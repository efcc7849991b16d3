"""The wishes about each comfort as a table, what may wait, and who never goes ahead of whom."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_args

import pandas as pd
import streamlit as st

from planner.case.text import parse_toml
from planner.editing.items import items, names_of
from planner.editing.values import Value, edited
from planner.errors import CaseError, Finding, Severity
from planner.facts.home import Home, OrderRule
from planner.units import written
from ui.comfort_edits import CELLS, SECTION, rows_of_comforts, with_wishes
from ui.edits import Cell, value_of
from ui.parts.findings import called, show_findings
from ui.parts.said import plain
from ui.parts.sheets.table_editor import table_editor
from ui.readings import home_of
from ui.session import Session
from ui.state import bound, heard

WAIT = Cell("wait", "May wait", help="How long it may start late and still be worth it: 30 min, "
            "2 h.")
WAIT_CELLS = (Cell("label", "Load", "shown", pinned=True), WAIT)
MAY_WAIT = frozenset({"task", "battery"})  # natures: what has a deadline
RULES = {"free": "As it serves the house best", "importance": "What matters more goes first"}


def show_wishes(found: Session) -> None:
    """Draw the table of comforts with what is wished of each, and what may wait how long."""
    st.header("Comforts", anchor=False)
    reading = home_of(found)
    home = found.readable
    if not _parses(found) or home is None:
        return
    comforts = home.comforts
    table_editor(SECTION, CELLS, found.home_text, found.edit_home, fixed=True,
                 label="Wishes about each comfort", rows=lambda text: rows_of_comforts(text, home),
                 put=lambda text, edits: with_wishes(text, comforts, edits))
    show_findings(called(_about_wishes(reading.findings), names_of(found.home_text),
                         {one.id: one.label for one in comforts}))
    st.caption("Importance: 0 does not matter, 5 matters most. Promise: every plan keeps it on "
               "every design day. Must-have: the first load that serves it never has to wait.")
    with st.expander("How long things may wait"):
        _show_waits(found, home)


def _show_waits(found: Session, home: Home) -> None:
    waiting = [load.id for load in home.loads if load.nature in MAY_WAIT]
    usual = {load.id: written(load.wait_h, "h") for load in home.loads}

    def rows(text: str) -> pd.DataFrame:
        said = {str(row.get("id")): row.get("wait") for row in items(text, "loads")}
        names = names_of(text)
        return pd.DataFrame([(names.get(one, one), str(said.get(one) or usual[one]))
                             for one in waiting], columns=["label", "wait"], dtype=object)

    def put(text: str, edits: Mapping[str, Any] | None) -> str:
        changes: dict[tuple[str, ...], Value | None] = {
            ("loads", waiting[int(row)], "wait"): value_of(WAIT, cells["wait"])
            for row, cells in (edits or {}).get("edited_rows", {}).items() if "wait" in cells}
        return edited(text, changes) if changes else text

    table_editor("loads", WAIT_CELLS, found.home_text, found.edit_home, name="waits", fixed=True,
                 label="How long each load may wait", rows=rows, put=put)
    st.caption("What keeps a level, such as a room or a tank, catches up by itself and is not "
               "listed.")


def _about_wishes(findings: tuple[Finding, ...]) -> list[Finding]:
    keys = (": must_run", ": importance", ": wait")
    return [one for one in findings if one.severity is not Severity.NOTE
            and (one.where.endswith(keys) or ": comfort " in one.where)]


def show_pairs(found: Session) -> None:
    """Draw the rule for the order, and who never goes ahead of whom."""
    if not _parses(found):
        return
    wishes = _wishes(found.home_text)
    if wishes is None:  # an error of the file, said beside the answer
        return
    with st.expander("Who goes first"):
        _show_rule_and_pairs(found, wishes)


def _show_rule_and_pairs(found: Session, wishes: dict[str, Any]) -> None:
    names = names_of(found.home_text)
    written = wishes.get("order")
    rule = written if isinstance(written, str) and written in RULES else "free"
    st.radio("Priorities", list(get_args(OrderRule)), format_func=RULES.__getitem__,
             key=bound("order rule", rule), horizontal=True,
             on_change=heard("order rule", lambda new: found.edit_home(
                 lambda text: edited(text, {("wishes", "order"): new}))))
    pairs = _pairs(found.home_text)
    for place, (later, ahead) in enumerate(pairs):
        line = st.container(horizontal=True, vertical_alignment="center")
        line.markdown(f"{plain(names.get(ahead, ahead))} goes ahead of "
                      f"{plain(names.get(later, later))}.")
        line.button("Remove", key=f"remove pair {place}", on_click=_change_pairs,
                    args=(found, (later, ahead), False))
    st.caption("Holds among loads that take turns; what is always connected needs no turn.")
    _show_new_pair(found, names, pairs)


def _show_new_pair(found: Session, names: dict[str, str], pairs: list[tuple[str, str]]) -> None:
    first, second, add = st.columns([5, 5, 2], vertical_alignment="bottom")
    ahead = first.selectbox("This one", list(names), index=None, format_func=names.__getitem__,
                            key="pair ahead", placeholder="Choose a load")
    later = second.selectbox("goes ahead of", [one for one in names if one != ahead], index=None,
                             format_func=names.__getitem__, key="pair later",
                             placeholder="Choose a load")
    new = (str(later), str(ahead))

    def take() -> None:
        _change_pairs(found, new, True)
        bound("pair ahead", None)
        bound("pair later", None)

    add.button("Add", key="add pair", width="stretch", on_click=take,
               disabled=not (later and ahead) or new in pairs)


def _wishes(text: str) -> dict[str, Any] | None:
    """The wishes of a file that parses; None where they are no table."""
    wishes = parse_toml(text, "").get("wishes", {})
    return wishes if isinstance(wishes, dict) else None


def _pairs(text: str) -> list[tuple[str, str]]:
    """The pairs of a file: the first load never stands ahead of the second."""
    written = (_wishes(text) or {}).get("never_before")
    return [(str(pair[0]), str(pair[1])) for pair in (written if isinstance(written, list) else ())
            if isinstance(pair, list) and len(pair) == 2]


def _change_pairs(found: Session, pair: tuple[str, str], add: bool) -> None:
    def edit(text: str) -> str:
        rest = [list(one) for one in _pairs(text) if one != pair]
        pairs = [*rest, list(pair)] if add else rest
        return edited(text, {("wishes", "never_before"): pairs or None})

    found.edit_home(edit)


def _parses(found: Session) -> bool:
    try:
        parse_toml(found.home_text, found.home_name)
    except CaseError:
        return False
    return True
