"""What a plan makes of each comfort: the hardest day in words, the table, the day as strips."""

from __future__ import annotations

import streamlit as st

from planner.facts.home import DesignDay
from planner.plan.plan import Plan
from planner.report.comforts.family_comforts import ALWAYS, LIKE, happens_sentences
from planner.report.tables.comforts import comfort_table
from planner.report.tables.day import standing_apart
from planner.report.tables.levels import level_frame, telling
from ui.charts.colours import PALETTE, colours_of, of_comforts
from ui.charts.levels import level_chart
from ui.parts.drawing import draw
from ui.parts.said import aside, plain, points, strong
from ui.parts.tables import show_frame, show_table

ABOUT_STRIPS = "The higher, the further from as usual; the broken line is the limit."


def colours_in(plan: Plan) -> dict[str, str]:
    """Give the loads that stand apart their colours, the same in every plan of the home."""
    return colours_of(standing_apart(plan.menu.house, len(PALETTE)))


def show_comforts(plan: Plan, key: str) -> None:
    """Draw the table of comforts; `key` tells it from other tables on the page."""
    show_table(comfort_table(plan), key=f"{key} comforts")


def show_hardest(plan: Plan, *, all_of_them: bool = True) -> None:
    """Say what comforts are like on their hardest day; `all_of_them`: which are as always, too."""
    said = happens_sentences(plan)
    strong("On the hardest day")
    points(said[LIKE])
    if said[ALWAYS] and all_of_them:
        aside(f"As always: {', '.join(said[ALWAYS])}.")


def show_levels(plan: Plan, day: DesignDay, key: str, *, folded: bool = True) -> None:
    """Draw how far each comfort that keeps a level is behind on a day, `folded` with its table."""
    frame = telling(level_frame(plan, day), plan.menu.house.home)
    if not len(frame):
        return
    st.subheader(f"Comfort by comfort, {plain(day.label)}", anchor=False)
    home = plan.menu.house.home
    draw(level_chart(frame, colours=of_comforts(home.comforts, colours_in(plan))), f"{key} levels")
    st.caption(ABOUT_STRIPS)
    if folded:
        with st.expander("The comforts as a table"):
            show_frame(frame.drop(columns="behind"), f"{key} levels table", height=320)
