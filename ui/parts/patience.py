"""How long is searched: quick, which suffices for most homes, or exact; seen where it matters."""

from __future__ import annotations

import streamlit as st

from planner.jobs.content import Patience
from planner.report.ended_words import open_sentence
from planner.search.frontier import Frontier
from ui.parts.said import aside
from ui.session import Session
from ui.state import bound, heard

NAMES: dict[Patience, str] = {"quick": "Quick", "exact": "Exact"}
HELP = ("Both count their steps, so the same file gives the same plans. Exact looks ten times "
        "longer; back to quick stops it, and what was found stays.")


def show_patience(found: Session, plans: Frontier) -> None:
    """Say what is not proven, and offer to look longer; nothing where all is proven."""
    open_ = open_sentence(plans)
    if not open_ and found.patience == "quick":
        return
    if open_:
        aside(open_)
    st.segmented_control(
        "Search", list(NAMES), format_func=NAMES.__getitem__, help=HELP,
        key=bound("patience", found.patience),
        on_change=heard("patience", lambda how: found.set_patience(how or found.patience)))
