"""The calculated load by code as a sheet that opens."""

from __future__ import annotations

import streamlit as st

from planner.facts.home import Home
from planner.physics.demand import calculated_load
from planner.report.tables.demand import (
    demand_table,
    limits_sentence,
    neutral_table,
    rating_sentence,
)
from planner.report.words import number
from ui.parts.findings import show_findings
from ui.parts.said import say
from ui.parts.tables import show_table


def show_demand(home: Home) -> None:
    """Draw every line of the calculated load of the whole house."""
    if home.code.method == "measured" and home.code.measured_peak_kva is None:
        st.warning("The measured method needs a measured demand: [code.measured] in the file.")
        return
    sheet = calculated_load(home, None)
    with st.expander(f"Calculated load by code: {number(sheet.total_va, 0)} VA, "
                     f"{number(sheet.amperes_a)} A at 240 V"):
        show_table(demand_table(sheet), key="demand")
        say(rating_sentence(sheet))
        if sheet.neutral_lines:
            show_table(neutral_table(sheet), key="neutral")
            say(f"Neutral {number(sheet.neutral_va, 0)} VA, {number(sheet.neutral_a)} A.")
        say(limits_sentence(sheet))
        show_findings(sheet.findings)
