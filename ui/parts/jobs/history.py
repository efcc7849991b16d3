"""The steps of a job that can be taken back, each with what it changed."""

from __future__ import annotations

import streamlit as st

from planner.jobs.changes import what_changed
from ui.parts.said import aside, plain
from ui.session import Session

MOST_SHOWN = 12


def show_history(found: Session) -> None:
    """List the last changes, the latest first, each with a button that takes it back."""
    if not found.steps:
        aside("Nothing was changed since the job began.")
    for back, before, after in found.steps[:MOST_SHOWN]:
        what, undo = st.columns([5, 1], vertical_alignment="center")
        what.markdown(plain(what_changed(before, after)))
        undo.button("Back to before", key=f"back to {back}", width="stretch",
                    on_click=found.steps_back, args=(back,))
    if found.steps[MOST_SHOWN:]:
        aside(f"And {len(found.steps[MOST_SHOWN:])} before these: Undo reaches them.")
