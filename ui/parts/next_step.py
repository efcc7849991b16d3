"""The one thing to do next: the filled button of a page."""

from __future__ import annotations

import streamlit as st


def show_next(page: str, label: str) -> None:
    """Draw the button that leads to another page."""
    if st.button(label, key="next step", type="primary"):
        st.switch_page(page)
