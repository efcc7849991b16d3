"""The wishes about each load as a table, and the pairs that say who never goes ahead of whom."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, get_args

import pandas as pd
import streamlit as st

from planner.case.text import parse_toml
from planner.editing.items import names_of
from planner.editing.values import edited
from planner.errors import CaseError, Severity
from planner.facts.home import Home, OrderRule
from planner.units import written
from ui.edits import Cell
from ui.parts.findings import show_findings
from ui.parts.said import plain
from ui.parts.sheets.table_editor import table_editor
from ui.readings import home_of
from ui.state import Session, bound, heard

CELLS = (
    Cell("label", "Load", "shown", pinned=True),
    Cell("must_run", "Must run", "truth", "Served whenever it calls, at any price."),
    Cell("importance", "Importance", "whole", "0 does not matter, 5 matters most.", low=0, high=5),
    Cell("wait", "May wait", help="How long it may start late and still be worth it: 30 min, 2 h."),
)
RULES = {"free": "As it serves the house best", "importance": "What matters more goes first"}


def show_wishes(found: Session) -> None:
    """Draw the table of wishes; blanks of the file show what is assumed."""
    st.header("What matters", anchor=False)
    reading = home_of(found)
    if not _parses(found):
        return
    table_editor("loads", CELLS, found.home_text, found.edit_home, name="wishes", fixed=True,
                 label="Wishes about each load", filled=_understood(reading.facts))
    show_findings([one for one in reading.findings if one.severity is not Severity.NOTE
                   and one.where.endswith((": must_run", ": importance", ": wait"))])
    st.caption("Must run: served whenever it calls, at any price. Importance: 0 does not matter, 5 "
               "matters most; coverage counts by it, so changing the wishes changes the "
               "measure. May wait: how long it may start late and still be worth it. What the "
               "file does not say is filled in with what is usual.")


def show_pairs(found: Session) -> None:
    """Draw the rule for the order, and who never goes ahead of whom."""
    if not _parses(found):
        return
    wishes = _wishes(found.home_text)
    if wishes is None:  # an error of the file, said beside the answer
        return
    names = names_of(found.home_text)
    st.header("Who goes first", anchor=False)
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


def _understood(home: Home | None) -> Callable[[pd.DataFrame], pd.DataFrame]:
    """Fill blanks with what the planner assumes, where the home can be read."""

    def fill(frame: pd.DataFrame) -> pd.DataFrame:
        if home is None or len(home.loads) != len(frame):
            return frame
        known = pd.DataFrame({
            "label": [load.label for load in home.loads],
            "must_run": pd.array([load.must_run for load in home.loads], dtype="boolean"),
            "importance": [load.importance for load in home.loads],
            "wait": [written(load.wait_h, "h") for load in home.loads],
        })
        filled = frame.copy()
        for key in known:
            filled[key] = frame[key].where(frame[key].notna() & (frame[key] != ""), known[key])
        return filled

    return fill


def _parses(found: Session) -> bool:
    try:
        parse_toml(found.home_text, found.home_name)
    except CaseError:
        return False
    return True
