"""The outage: a planned day, and an outage played second by second."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import streamlit as st

from planner.facts.home import DesignDay
from planner.jobs.content import PlanKey
from planner.plan.generator_lines import to_verify_of_generator
from planner.plan.plan import Plan
from planner.report.tables import day as planned
from planner.report.tables import played
from planner.report.tables.hours import hardest_day
from planner.report.tables.lived import FOOTNOTE as LIVED
from planner.report.tables.lived import lived_table
from planner.report.tables.outage import (
    comfort_table,
    equipment_table,
    outage_table,
    room_table,
    weights_sentence,
)
from planner.report.tables.settings import settings_table
from planner.report.verdict import verdict_sentences
from planner.report.words import count, share
from planner.simulation.outage import Outage
from planner.simulation.outcome.results import Results
from planner.simulation.settings import Settings
from ui.answers import Case, many_outages, of_size, one_outage, recommended
from ui.charts.outage import LOSS_TITLE, demand_chart, strip_chart
from ui.parts.cautions import show_cautions
from ui.parts.comforts import colours_in, show_levels
from ui.parts.drawing import draw
from ui.parts.findings import show_findings
from ui.parts.frame import begin
from ui.parts.next_step import show_next
from ui.parts.plan_view import show_headline, show_starved
from ui.parts.ready import what_can_be_planned
from ui.parts.said import plain, points
from ui.parts.tables import show_frame, show_table
from ui.parts.waiting import show_answer
from ui.session import Session
from ui.state import bound, heard

RECOMMENDED = "recommended"
STRIPS = ("Each strip is a load in its colour: what it does when. In a simulated outage a load "
          "that ran at all in a span is shown as running.")


def show() -> None:
    """Draw the page."""
    found = begin("The outage", "what is it like, hour by hour?")
    case = what_can_be_planned(found)
    if case is None:
        return
    show_answer(recommended(case), "The recommended plan",
                lambda known: _show_chosen(case, known.plan))
    show_next("views/family.py", "Next: the page for the family")
    show_cautions(case.book)


def _show_chosen(case: Case, plan: Plan) -> None:
    found = case.session
    choices: list[PlanKey | str] = [RECOMMENDED, *found.pins]
    if found.picked is not None and found.picked not in found.pins:
        choices.append(found.picked)
    labels = {one.id: one.label for one in case.book.generators}

    def named(point: PlanKey | str) -> str:
        if isinstance(point, str):
            return f"Recommended: {plan.supply.generator.label}"
        return (f"{'Pinned' if point in found.pins else 'Shown'}: {labels.get(point.generator)}, "
                f"{share(point.coverage)}")

    played_point = found.outage_plan if found.outage_plan in choices else None

    def take_plan(point: PlanKey | str) -> None:
        found.outage_plan = None if isinstance(point, str) else point

    st.selectbox("Plan", choices, format_func=named,
                    key=bound("outage plan", played_point or RECOMMENDED),
                    on_change=heard("outage plan", take_plan))
    days = {day.id: day for day in case.home.days}
    day = days.get(found.outage.day) or hardest_day([plan])
    st.radio("Day", list(days), format_func=lambda one: plain(days[one].label),
             horizontal=True,
             key=bound("outage day", day.id), on_change=heard("outage day", lambda one: _wish(
                 found, day=one or day.id)))
    if played_point is None:
        _show_plan(case, plan, day)
        return


    def show_of_size(plans: tuple[Plan | None, ...]) -> None:
        for one in plans:
            if one is None:
                st.info("This size no longer has a plan for this home.")
            else:
                _show_plan(case, one, day)

    show_answer(of_size(case, (played_point,), "outage plan"), "The plan", show_of_size)


def _show_plan(case: Case, plan: Plan, day: DesignDay) -> None:
    show_headline(plan)
    show_starved(plan)
    as_planned, as_played, often = st.tabs(
        ["The day as planned", "One outage, second by second", "Many outages"])
    with as_planned:
        _show_planned(plan, day)
    with as_played:
        _show_played(case, plan, day)
    with often:
        _show_often(case, plan)


def _show_planned(plan: Plan, day: DesignDay) -> None:
    demand, strips = planned.demand_frame(plan, day), planned.strip_frame(plan, day)
    st.subheader("Demand under the generator's limit", anchor=False)
    draw(demand_chart(demand, plan.supply.capacity_kw, colours=colours_in(plan)), "planned demand")
    show_levels(plan, day, "planned")
    with st.expander("Load by load"):
        draw(strip_chart(strips, colours=colours_in(plan)), "planned strips")
        st.caption(STRIPS)
    with st.expander("The same as tables"):
        show_frame(planned.demand_frame(plan, day), "planned demand table")
        show_frame(strips, "planned strips table")


def _show_played(case: Case, plan: Plan, day: DesignDay) -> None:
    found, wish = case.session, case.session.outage
    first, second, third = st.columns(3, vertical_alignment="bottom")
    first.number_input("Power fails at hour", 0.0, 23.75, step=0.25,
                       key=bound("outage start", wish.start_h),
                       on_change=heard("outage start", lambda new: _wish(found, start_h=new)))
    second.number_input("Hours without power", 1.0, 168.0, step=1.0,
                        key=bound("outage length", wish.hours),
                        on_change=heard("outage length", lambda new: _wish(found, hours=new)))
    third.number_input("Number of the random outage", 0, 9999, step=1,
                       key=bound("outage seed", wish.seed),
                       on_change=heard("outage seed", lambda new: _wish(found, seed=new)),
                       help="Use is random but repeatable: another number gives another outage.")
    show_answer(one_outage(case, plan, day), "The outage",
                lambda outage: _show_outage(plan, outage))


def _show_outage(plan: Plan, outage: Outage) -> None:
    demand, strips = played.demand_frame(outage), played.strip_frame(plan, outage)
    st.subheader("Demand under the generator's limits", anchor=False)
    colours = colours_in(plan)
    draw(demand_chart(demand, plan.supply.capacity_kw, plan.supply.derated_kw, colours=colours,
                      hour_title=LOSS_TITLE), "played demand")
    st.caption("Dashes: the highest load in each step, starts included. Above the lower line no "
               "load is let in; at the upper one the engine has no more to give: it slows down, "
               "and loads are shed.")
    st.subheader("Load by load", anchor=False)
    draw(strip_chart(strips, colours=colours, hour_title=LOSS_TITLE), "played strips")
    st.caption(STRIPS)
    events = played.event_frame(outage)
    st.markdown(f"**What happened: {count(len(events), 'event')}**")
    show_frame(events, "events", height=320)
    with st.expander("The charts as tables"):
        show_frame(demand, "played demand table", height=320)
        show_frame(strips, "played strips table", height=320)


def _show_often(case: Case, plan: Plan) -> None:
    st.markdown("Several outages on every design day, for comfort and for what the generator goes "
                "through.")
    if not st.toggle("Simulate them", key="play many"):
        return
    show_answer(many_outages(case, plan), "The outages", _show_results)


def _show_results(results: Results) -> None:
    points(verdict_sentences(results) or ["No problem was found with the plan."])
    show_table(lived_table(results), key="lived")
    st.caption(LIVED)
    show_table(outage_table(results), key="comfort")
    if comfort_table(results).items:
        show_table(comfort_table(results), key="food and water")
    show_table(room_table(results), key="rooms")
    show_table(equipment_table(results), key="equipment")
    if results.plan.price.controller is not None:
        with st.expander("Settings of the controller"):
            show_table(settings_table(results.plan, Settings()), key="settings")
    show_findings(to_verify_of_generator(results.plan))
    st.caption(plain(weights_sentence(results)))
    st.caption("Energy it got: of what the same outage would have used with unlimited power, at "
               "most 100 %. ±: 95 % interval of the mean.")


def _wish(found: Session, **changes: Any) -> None:  # noqa: ANN401
    found.outage = replace(found.outage, **changes)


show()
