"""The sheet of a home: its house, its loads, what is assumed, what stands in the way."""

from __future__ import annotations

from collections.abc import Callable
from typing import get_args

import pandas as pd
import streamlit as st

from planner.case.marks import marked
from planner.case.names import label_of
from planner.case.text import parse_toml
from planner.editing.items import items, names_of, without_items
from planner.editing.new_home import assumed_follow
from planner.errors import CaseError, Finding, Severity
from planner.facts.home import CodeEdition, CodeMethod, Fuel, Home, TransferKind
from planner.report.home import home_sentence
from planner.report.words import count
from ui.edits import Cell
from ui.parts.cautions import show_cautions
from ui.parts.demand_sheet import show_demand
from ui.parts.findings import about, called, show_findings, show_problem
from ui.parts.next_step import show_next
from ui.parts.said import aside, plain, strong
from ui.parts.sheets.add_load import show_adding
from ui.parts.sheets.fields import Field, show_fields
from ui.parts.sheets.left_over import show_left_over, show_read
from ui.parts.sheets.load_cells import DAY_CELLS, PANEL_CELLS, day_cells, load_cells
from ui.parts.sheets.table_editor import table_editor
from ui.parts.sheets.ways_to_begin import show_start
from ui.parts.understood import show_understood
from ui.readings import Reading, book_of, home_of
from ui.session import Session
from ui.state import bound, widget

HOUSE = (
    Field("home", "label", "Name of the home"),
    Field("home", "service", "Service", "Rating of the service: 200 A.", unit="A"),
    Field("home", "floor_area", "Floor area", "For example 1850 ft^2.", unit="ft^2"),
    Field("home", "fuel", "Fuel on site", options=get_args(Fuel), kind="choice"),
    Field("home", "altitude", "Altitude",
          "For example 400 ft. Generators lose power with altitude.", unit="ft"),
    Field("home", "transfer", "Transfer equipment", "What may be offered.",
          options=get_args(TransferKind), kind="choices"),
    Field("home", "summer_design", "Summer design temperature", "For example 95 degF.",
          unit="degF"),
    Field("home", "winter_design", "Winter design temperature", "For example 10 degF.",
          unit="degF"),
    Field("home", "heating_set_point", "Heating set point", "70 degF if left blank.", unit="degF"),
    Field("home", "cooling_set_point", "Cooling set point", "76 degF if left blank.", unit="degF"),
)
CODE = (
    Field("code", "edition", "Edition of the code", options=get_args(CodeEdition), kind="choice"),
    Field("code", "method", "Method of the calculated load", options=get_args(CodeMethod),
          kind="choice"),
    Field("code", "small_appliance_circuits", "Small-appliance circuits", kind="whole"),
    Field("code", "laundry_circuits", "Laundry circuits", kind="whole"),
    Field("limits", "allowed_dip", "Allowed voltage dip at a start", "25 % if left blank.",
          unit="%"),
    Field("limits", "largest_share", "Largest share of the rating to use",
          "90 % if left blank.", unit="%"),
)

FEW = 1  # loads of a home that was just begun


def show_sheet(found: Session) -> None:
    """Draw all of a home that was begun."""
    if found.said:
        st.success(plain(found.said))
        st.toast(plain(found.said))
        found.said = ""
    show_read(found)
    show_left_over(found)
    _show_file_buttons(found)
    try:
        parse_toml(found.home_text, found.home_name)
    except CaseError as problem:
        show_problem(problem)
        _show_text(found)
        return
    reading = home_of(found)
    _show_state(reading)
    _show_house(found, reading)
    st.header("Loads", anchor=False)
    show_adding(found)
    _show_loads(found, reading.findings)
    if reading.facts is not None:
        show_understood(found, reading.facts)
        show_demand(reading.facts)
    _show_rest(found, reading)
    show_next("views/wishes.py", "Next: what matters to the family")
    show_cautions(book_of(found).facts)


def _show_house(found: Session, reading: Reading[Home]) -> None:
    """Draw what is asked of the house itself; open while it has next to no loads, or is wrong."""
    home = reading.facts
    wrong = any(about([one], field.table, field.key) for one in reading.findings
                for field in HOUSE if one.severity is Severity.ERROR)
    if home is not None:
        strong(home_sentence(home))
    with st.expander("The house: service, area, fuel, place, design temperatures, set points",
                     expanded=wrong or len(items(found.home_text, "loads")) <= FEW):
        show_fields(HOUSE, found.home_text, found.home_name,
                    lambda edit: found.edit_home(lambda text: assumed_follow(edit(text))),
                    reading.findings, columns=5)


def _show_file_buttons(found: Session) -> None:
    save, other, _ = st.columns([1, 1, 2])
    save.download_button("Save the home as a file", found.home_text, found.file_name,
                         "application/toml", on_click="ignore", key="save home", width="stretch")
    with other.popover("Another home", width="stretch"):
        st.caption("It begins a job of its own; this one stays in the list of jobs.")
        show_start(found)


def _show_state(reading: Reading[Home]) -> None:
    errors = sum(one.severity is Severity.ERROR for one in reading.findings)
    if errors:
        st.error(f"**✖** {count(errors, 'error')} to correct before anything can be planned; each "
                 "stands beside the value it concerns.")


def _show_loads(found: Session, findings: tuple[Finding, ...]) -> None:
    loads = items(found.home_text, "loads")
    ids = [str(row.get("id")) for row in loads]
    panels = [str(row.get("id")) for row in items(found.home_text, "panels")]
    kinds_said = [str(row["kind"]) for row in loads if "kind" in row]
    st.caption("Change any cell; a new row may be written below the last; a blank cell is assumed.")
    labels = names_of(found.home_text)
    mine = [one for one in findings if ": load" in one.where and one.severity is not Severity.NOTE]
    show_findings(called(mine, labels))
    _tell_new(found, called(mine, labels))
    table_editor("loads", load_cells(ids, panels, kinds_said), found.home_text, found.edit_home,
                 label="Loads of the home as the file has them", filled=_named(ids))
    _show_taking_out(found, labels)


def _show_taking_out(found: Session, labels: dict[str, str]) -> None:
    which, gone = st.columns([5, 2], vertical_alignment="bottom")
    chosen = which.multiselect("Remove loads", list(labels), format_func=labels.__getitem__,
                               key="loads to take out", placeholder="Choose loads")

    def take_out() -> None:
        found.change_home(without_items(found.home_text, "loads", chosen))
        bound("loads to take out", [])

    gone.button("Remove", key="take out", on_click=take_out, disabled=not chosen,
                width="stretch")


def _tell_new(found: Session, findings: tuple[Finding, ...]) -> None:
    """Say new errors where they cannot be missed: the table may be far from where they stand."""
    for one in findings:
        if one.severity is Severity.ERROR and one not in found.told:
            st.toast(f"**✖** {plain(one.where.partition(': ')[2])}: {plain(one.sentence)}",
                     duration="long")
    found.told = frozenset(findings)


def _named(ids: list[str]) -> Callable[[pd.DataFrame], pd.DataFrame]:
    """Fill blank names with what the load is called without one."""

    def fill(frame: pd.DataFrame) -> pd.DataFrame:
        usual = pd.Series([label_of(one) for one in ids], dtype=object)
        return frame.assign(label=frame["label"].where(frame["label"] != "", usual))

    return fill


def _show_rest(found: Session, reading: Reading[Home]) -> None:
    elsewhere = [one for one in reading.findings if ": load" not in one.where
                 and not about([one], "list")  # see parts/left_over
                 and not any(about([one], field.table, field.key) for field in HOUSE)]
    with st.expander("Design days, panels, code and limits", expanded=any(
            one.severity is Severity.ERROR for one in elsewhere)):
        show_findings([one for one in elsewhere if one.severity is not Severity.NOTE])
        show_fields(CODE, found.home_text, found.home_name, found.edit_home, (), columns=2)
        st.subheader("Design days", anchor=False)
        seasons = [str(row["season"]) for row in items(found.home_text, "days")
                   if "season" in row]
        table_editor("days", day_cells(seasons), found.home_text, found.edit_home,
                     label="Design days")
        _say_assumed(found, "days", DAY_CELLS)
        st.subheader("Panels", anchor=False)
        table_editor("panels", PANEL_CELLS, found.home_text, found.edit_home, label="Panels")
        _say_assumed(found, "panels", PANEL_CELLS)
    with st.expander("The file as text"):
        _show_text(found)


def _say_assumed(found: Session, section: str, cells: tuple[Cell, ...]) -> None:
    """Say which cells of a table hold an assumed value; a table cannot mark them."""
    headings = {cell.key: cell.heading.lower() for cell in cells}
    rows: dict[str, list[str]] = {}
    for one in marked(found.home_text):
        table, _, place = one.key.partition(".")
        name, _, key = place.rpartition(".")
        if table == section:
            rows.setdefault(name, []).append(headings.get(key, key))
    if rows:
        said = "; ".join(f"{name} ({', '.join(keys)})" for name, keys in rows.items())
        aside(f"Assumed until you change it: {said}.")


def _show_text(found: Session) -> None:
    """Show the whole file for those who want to write in it: use by hour, surges, wishes."""
    st.text_area("The home file", key=bound("home text", found.home_text), height=400,
                 on_change=lambda: found.change_home(str(widget("home text"))),
                 help="Everything that a home file may say can be written here.")
