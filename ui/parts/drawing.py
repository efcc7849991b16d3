"""Charts on a page: text in the ink of the scheme that the visitor sees."""

from __future__ import annotations

from collections.abc import Callable

import altair as alt
import streamlit as st

INK = {"light": "#12100b", "dark": "#f7f4ec"}


def ink() -> str:
    """Give the colour of text in the visitor's scheme."""
    return INK.get(str(st.context.theme.type), INK["light"])


def draw(
    chart: alt.LayerChart, key: str, *, select: tuple[str, Callable[[], None]] | None = None
) -> None:
    """Draw a chart as wide as its place; `select` names a selection and hears of it."""
    text = ink()
    inked = (chart.configure_axis(labelColor=text, titleColor=text)
             .configure_legend(labelColor=text, titleColor=text)
             .configure_title(color=text).configure_text(color=text))
    if select is None:
        st.altair_chart(inked, width="stretch", key=key)
    else:
        st.altair_chart(inked, width="stretch", key=key, on_select=select[1],
                        selection_mode=select[0])
