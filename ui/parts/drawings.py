"""The drawings of a plan on a page, each behind a fold, with a way to keep it."""

from __future__ import annotations

import streamlit as st

from planner.plan.plan import Plan
from planner.report.site.drawings import Drawing, drawings
from planner.site.sheet.rows import SiteSheet
from ui.parts.said import plain


def show_drawings(plan: Plan, sheet: SiteSheet) -> None:
    """Draw the one-line and the sketch of a plan."""
    for one in drawings(plan, sheet):
        with st.expander(plain(one.title)):
            _show(one)


def _show(one: Drawing) -> None:
    st.image(one.svg, width="stretch", alt=one.alt)
    st.download_button("Save it as a file", one.svg, one.file_name, "image/svg+xml",
                       key=f"save {one.file_name}", on_click="ignore")
