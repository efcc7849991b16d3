"""Ways to begin: a demo home, a file, a list of appliances, an empty home."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import PurePath

import streamlit as st

from planner.case.text import parse_toml
from planner.editing.any_list import read_any, text_of_any
from planner.editing.lists import TEMPLATE
from planner.editing.new_home import EMPTY_HOME
from planner.errors import CaseError
from ui.demos import demo_homes, demo_text
from ui.parts.findings import show_findings, show_problem
from ui.session import NEW_NAME, Session
from ui.state import widget

MOST_BYTES = 1_000_000
LIST_HINT = ("2,600 sq ft house, gas heat\ntwo central AC units, 4 ton and 2.5 ton\n"
             "EV 50 amp breaker, fridge, two freezers\nsump pump must run\n"
             "we don't care about the dryer\nbudget $12,000")


def show_start(found: Session) -> None:
    """Offer every way to begin; what was on the table before can be brought back."""
    listed, empty, file, demo = st.tabs(
        ["List of appliances", "Empty home", "Home file", "Demo home"])
    with empty:
        st.markdown("A house with nothing in it but its lights and receptacles. Every figure of "
                    "the house is an assumption until you change it.")
        st.button("Begin with an empty home", type="primary", key="begin empty",
                  on_click=lambda: found.open_home(NEW_NAME, EMPTY_HOME))
    with listed:
        _offer_list(found)
    with file:
        _offer_file(found)
    with demo:
        _offer_demo(found)


def take_text(upload: st.runtime.uploaded_file_manager.UploadedFile) -> str:
    """Give the text of an uploaded file.

    Raises
    ------
    CaseError
        It is too large, or no text.
    """
    if upload.size > MOST_BYTES:
        message = f"{upload.name} is too large: {upload.size:,} bytes, {MOST_BYTES:,} at most."
        raise CaseError(message)
    try:
        return upload.getvalue().decode("utf-8")
    except UnicodeDecodeError:
        message = f"{upload.name} is not a text file. Save it as UTF-8."
        raise CaseError(message) from None


def _list_text(upload: st.runtime.uploaded_file_manager.UploadedFile) -> str:
    """Give the text of an uploaded list, or of a panel schedule from an office program."""
    return text_of_any(upload.getvalue(), upload.name)


def guarded(act: Callable[[], None]) -> None:
    """Do something with a file; if it cannot be read, say why and leave all as it is."""
    try:
        act()
    except CaseError as problem:
        show_problem(problem)


def _offer_list(found: Session) -> None:
    st.markdown("Write it as you would say it: lines or sentences, with sizes, wishes and a budget "
                "if you have them. What is not said is assumed, and shown as such.")
    st.text_area("Appliances", key="typed list", persist_state="session", height=180,
                 placeholder=LIST_HINT, help="A table with commas and a header line works, too, "
                                             "and so does a panel schedule.")

    def begin() -> None:
        def act() -> None:
            listed = read_any(str(widget("typed list") or ""))
            found.add_listed(NEW_NAME, EMPTY_HOME, listed)

        guarded(act)

    st.button("Begin with these appliances", type="primary", key="begin list", on_click=begin)
    upload = st.file_uploader("Or a CSV file of loads, or a panel schedule",
                              type=["csv", "txt"], key="list file")
    if upload is not None:
        def act() -> None:
            listed = read_any(_list_text(upload), upload.name)
            show_findings(listed.findings)
            st.button(f"Begin with these {len(listed.rows)} loads", key="begin csv", type="primary",
                      on_click=lambda: found.add_listed(NEW_NAME, EMPTY_HOME, listed))

        guarded(act)
    st.download_button("Template for such a file", TEMPLATE, "loads.csv", "text/csv",
                       on_click="ignore", key="list template")


def _offer_file(found: Session) -> None:
    upload = st.file_uploader("A saved home file", type=["toml"], key="home file")
    if upload is None:
        return

    def act() -> None:
        text = take_text(upload)
        parse_toml(text, upload.name)
        st.button("Open this home", type="primary", key="open file",
                  on_click=lambda: found.open_home(PurePath(upload.name).name, text))

    guarded(act)


def _offer_demo(found: Session) -> None:
    homes = demo_homes()
    name = st.selectbox("Invented homes", list(homes), format_func=lambda one: homes[one],
                        key="demo home")
    st.button("Open this demo home", type="primary", key="open demo",
              on_click=lambda: found.open_home(name, demo_text(name)))
