"""What stands beside every answer: what may not be forgotten, and what the prices are worth."""

from __future__ import annotations

import streamlit as st

from planner.facts.price_book import PriceBook
from planner.report.cautions import CAUTIONS, price_notice
from ui.parts.said import plain, points


def show_cautions(book: PriceBook | None = None) -> None:
    """Write the cautions, and the notice of the book whose prices are shown."""
    with st.container(border=True, key="cautions"):
        st.markdown("**Before anyone acts on this**")
        points(list(CAUTIONS))
        if book is not None:
            st.markdown(f"**{plain(price_notice(book))}**")
