"""The first answer after a start should not wait for loops to be compiled."""

from __future__ import annotations

import threading

import streamlit as st


@st.cache_resource(show_spinner=False)
def warm_up() -> None:
    """Plan an invented home in the background, once for each process."""
    threading.Thread(target=_plan_one, daemon=True).start()


def _plan_one() -> None:
    from planner.case.read_book import read_book_text  # noqa: PLC0415 - the page comes first
    from planner.study.goal import cheapest_of  # noqa: PLC0415
    from planner.study.problem import problems_of  # noqa: PLC0415
    from planner.wiring.sound import read_sound_text  # noqa: PLC0415
    from ui.demos import DEMO_BOOK, demo_text  # noqa: PLC0415

    home, _ = read_sound_text(demo_text("suburban.toml"), "suburban.toml")
    book, _ = read_book_text(demo_text(DEMO_BOOK), DEMO_BOOK)
    cheapest_of(problems_of(home, book), home, book, 0.9)
