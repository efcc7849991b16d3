"""Whether there is anything to plan, and what stands in the way."""

from __future__ import annotations

import streamlit as st

from ui.answers import Case
from ui.parts.findings import show_findings
from ui.parts.said import plain
from ui.readings import book_of, home_of
from ui.session import Session

HOME_PAGE = "views/home.py"
BOOK_PAGE = "views/price_book.py"


def known_case(found: Session) -> Case | None:
    """Give home and price book if both can be read, without a word where they cannot."""
    home, book = home_of(found).facts, book_of(found).facts
    return None if home is None or book is None else Case(found, home, book)


def what_can_be_planned(found: Session) -> Case | None:
    """Give home and price book, or say what stands in the way and where to mend it."""
    if not found.has_home:
        st.info("There is no home yet.")
        st.page_link(HOME_PAGE, label="Begin with a home")
        return None
    home, book = home_of(found), book_of(found)
    if home.facts is None:
        st.error(f"**✖** {plain(home.message)} Nothing can be planned before that is corrected.")
        show_findings(home.findings)
        st.page_link(HOME_PAGE, label="Go to the home and correct it")
    if book.facts is None:
        st.error(f"**✖** {plain(book.message)} Nothing can be priced before that is corrected.")
        show_findings(book.findings)
        st.page_link(BOOK_PAGE, label="Go to the price book and correct it")
    if home.facts is None or book.facts is None:
        return None
    return Case(found, home.facts, book.facts)
