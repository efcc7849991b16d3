"""The price book: what can be bought; to edit, to bring, to take along, to check."""

from __future__ import annotations

from pathlib import PurePath

import streamlit as st

from planner.case.text import parse_toml
from planner.errors import CaseError, Severity
from planner.report.words import count
from ui.demos import DEMO_BOOK, demo_text
from ui.parts.cautions import show_cautions
from ui.parts.findings import about, show_findings, show_problem
from ui.parts.frame import begin
from ui.parts.said import plain
from ui.parts.sheets.book_cells import BOOK, SECTIONS
from ui.parts.sheets.fields import show_fields
from ui.parts.sheets.table_editor import table_editor
from ui.parts.sheets.ways_to_begin import guarded, take_text
from ui.readings import book_of
from ui.session import Session
from ui.state import bound, widget


def show() -> None:
    """Draw the page."""
    found = begin("Price book", "what can be bought, and what does it cost?")
    if found.book_text == demo_text(DEMO_BOOK):
        st.warning("**▲ Invented.** This is the demonstration price book: every generator, rating "
                   "and price in it is made up. Use the prices of the contractor who will do the "
                   "work.")
    _show_file_buttons(found)
    try:
        parse_toml(found.book_text, found.book_name)
    except CaseError as problem:
        show_problem(problem)
        _show_text(found)
        return
    reading = book_of(found)
    errors = sum(one.severity is Severity.ERROR for one in reading.findings)
    if errors:
        st.error(f"**✖** {count(errors, 'error')} to correct before anything can be priced.")
    elif reading.facts is not None:
        st.success(plain(f"The book is sound: {count(len(reading.facts.generators), 'generator')}, "
                         f"{count(len(reading.facts.modules), 'kind')} of shedding module, "
                         f"{count(len(reading.facts.soft_starters), 'soft starter')}."))
    elsewhere = [one for one in reading.findings
                 if not any(about([one], field.table, field.key) for field in BOOK)]
    show_findings(elsewhere)
    show_fields(BOOK, found.book_text, found.book_name, found.edit_book, reading.findings,
                columns=2)
    for section, (heading, cells) in SECTIONS.items():
        with st.expander(heading, expanded=section == "generators"):
            table_editor(section, cells, found.book_text, found.edit_book, label=heading)
    with st.expander("The file as text"):
        _show_text(found)
    show_cautions(reading.facts)


def _show_file_buttons(found: Session) -> None:
    save, back, own = st.columns(3)
    save.download_button("Save the price book as a file", found.book_text, found.book_name,
                         "application/toml", on_click="ignore", key="save book", width="stretch")
    with own.popover("Open a price book", width="stretch"):
        upload = st.file_uploader("A price book file", type=["toml"], key="book file")

        def act() -> None:
            if upload is None:
                return
            text = take_text(upload)
            parse_toml(text, upload.name)
            st.button("Use this price book", type="primary", key="use book",
                      on_click=lambda: found.open_book(PurePath(upload.name).name, text))

        guarded(act)
    back.button("Back to the demonstration book", key="demo book", width="stretch",
                disabled=found.book_text == demo_text(DEMO_BOOK),
                on_click=lambda: found.open_book(DEMO_BOOK, demo_text(DEMO_BOOK)))


def _show_text(found: Session) -> None:
    st.text_area("The price book file", key=bound("book text", found.book_text), height=400,
                 on_change=lambda: found.change_book(str(widget("book text"))))


show()
