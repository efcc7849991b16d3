"""Whether the job is kept, and what to do where another tab was first."""

from __future__ import annotations

import streamlit as st

from ui.parts.said import plain
from ui.session import Session
from ui.state import IN_ADDRESS

ASIDE = "Keep mine as a copy"
TAKE = "Show what is saved"


def show_in_address(found: Session) -> None:
    """Name the job in the address, so that a reload or a bookmark opens it."""
    job = found.keeper.job
    if job is not None and st.query_params.get(IN_ADDRESS) != job.id:
        st.query_params[IN_ADDRESS] = job.id


def show_kept(found: Session) -> None:
    """Say what is not kept, and offer the ways out."""
    keeper = found.keeper
    if keeper.problem:
        st.error(f"**✖ Not saved.** {plain(keeper.problem)}")
    if not keeper.refused:
        return
    st.warning(f"**▲ Not saved.** {plain(keeper.refused)}")
    with st.container(horizontal=True):
        st.button(ASIDE, type="primary", key="keep a copy", on_click=found.keep_a_copy,
                  help="A job of its own with what you see here.")
        st.button(TAKE, key="take saved", on_click=found.take_saved,
                  help="What you changed since is dropped.")
