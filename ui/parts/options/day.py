"""The outage day of the chosen plan: demand under the limit, a strip for each load beside it."""

from __future__ import annotations

import streamlit as st

from planner.facts.home import DesignDay
from planner.jobs.content import OutageWish
from planner.plan.plan import Plan
from planner.report.choice_words import sized
from planner.report.tables import day as planned
from planner.report.tables.hours import hardest_day
from ui.answers import Case
from ui.charts.outage import demand_chart, strip_chart
from ui.parts.comforts import colours_in, show_levels
from ui.parts.drawing import draw
from ui.parts.next_step import show_next
from ui.parts.plan_view import show_starved, warnings_of
from ui.parts.said import plain, strong
from ui.parts.tables import show_frame
from ui.state import bound, heard


def show_day(case: Case, plan: Plan) -> None:
    """Draw a design day of a plan, with a switch between the days."""
    found = case.session
    days = {day.id: day for day in case.home.days}
    wished = days.get(found.outage.day) or hardest_day([plan])
    labels = {name: plain(day.label) for name, day in days.items()}

    def take(name: str | None) -> None:
        wish = found.outage
        found.outage = OutageWish(name or wish.day, wish.start_h, wish.hours, wish.seed)

    head, switch, watch = st.columns([4, 5, 2], vertical_alignment="center")
    with head:
        strong(f"An outage day: {sized(plan)}")
    with watch, st.container(horizontal=True, horizontal_alignment="right"):
        show_next("views/outage.py", "Watch an outage")
    with switch:
        st.segmented_control("Day", list(days), format_func=labels.__getitem__,
                             label_visibility="collapsed",
                             key=bound("option day", wished.id),
                             on_change=heard("option day", take))
    for sentence in warnings_of(plan):
        st.caption(f"**▲** {plain(sentence)}")
    show_starved(plan)
    _show_charts(plan, wished)


def show_day_in_full(plan: Plan, day: DesignDay) -> None:
    """Draw how far each comfort is behind, the strips of all loads, and the charts as tables."""
    show_levels(plan, day, "option", folded=False)
    strips = planned.strip_frame(plan, day)
    draw(strip_chart(strips, colours=colours_in(plan)), "option strips of all")
    strong("The charts as tables")
    show_frame(planned.demand_frame(plan, day), "option demand table", height=320)
    show_frame(strips, "option strips table", height=320)


def _show_charts(plan: Plan, day: DesignDay) -> None:
    colours = colours_in(plan)
    demand, strips = planned.demand_frame(plan, day), planned.strip_frame(plan, day)
    telling = planned.telling_strips(plan, strips, list(colours))
    left, right = st.columns(2, gap="medium")
    with left:
        draw(demand_chart(demand, plan.supply.capacity_kw, colours=colours,
                          strips_beside=True), "option demand")
    with right:
        draw(strip_chart(telling, colours=colours), "option strips")
        st.caption("Grey: everything else, always connected.")
