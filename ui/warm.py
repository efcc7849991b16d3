"""The first answer after a start should not wait for loops to be compiled."""

from __future__ import annotations

import threading

import streamlit as st

from planner.plan.goal import USUAL_COVERAGE

AFTER_S = 3.0


@st.cache_resource(show_spinner=False)
def warm_up() -> None:
    """Plan an invented home in the background, once for each process, when the page is there."""
    timer = threading.Timer(AFTER_S, _plan_one)
    timer.daemon = True
    timer.start()


def _plan_one() -> None:
    from planner.case.book.read import read_book_text  # noqa: PLC0415 - the page comes first
    from planner.case.read import read_home_text  # noqa: PLC0415
    from planner.search.cheapest import cheapest_of  # noqa: PLC0415
    from planner.search.problem import problems_of  # noqa: PLC0415
    from ui.demos import DEMO_BOOK, demo_text  # noqa: PLC0415

    home, _ = read_home_text(demo_text("suburban.toml"), "suburban.toml")
    book, _ = read_book_text(demo_text(DEMO_BOOK), DEMO_BOOK)
    cheapest_of(problems_of(home, book), home, book, USUAL_COVERAGE)
