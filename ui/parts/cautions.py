"""What stands beside every answer: what may not be forgotten, and what the prices are worth."""

from __future__ import annotations

import streamlit as st

from planner.facts.price_book import PriceBook
from planner.report.cautions import CAUTIONS, IN_A_LINE, price_notice
from ui.parts.said import plain, points


def show_cautions(book: PriceBook | None = None) -> None:
    """Write the cautions, and the notice of the book whose prices are shown.

    On the screen a line says what kills, and opens to all of them; on paper all stand open.
    """
    with st.container(key="cautions", gap="small"):
        with st.container(key="not-on-paper-cautions"), st.expander(f"**▲ {plain(IN_A_LINE)}**"):
            points(list(CAUTIONS))
        with st.container(key="only-on-paper-cautions"):
            points(list(CAUTIONS))
        if book is not None:
            st.markdown(f"**{plain(price_notice(book))}**")
