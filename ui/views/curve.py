"""Cost and coverage: what every dollar buys, over the whole price book."""

from __future__ import annotations

import streamlit as st

from planner.jobs.content import PlanKey
from planner.plan.plan import Plan
from planner.report.choice_words import in_a_sentence, reference_sentence
from planner.report.ended_words import open_sentence
from planner.report.tables.points import point_table
from planner.report.words import money, share
from planner.search.frontier import Frontier
from planner.study.options import Options
from ui.answers import Case, choices, curve, curve_so_far, key_of, of_size, recommended
from ui.charts.curve import PICK, curve_chart, curve_frame
from ui.parts.cautions import show_cautions
from ui.parts.comforts import show_hardest
from ui.parts.drawing import draw, ink
from ui.parts.frame import begin
from ui.parts.goal import show_goal
from ui.parts.next_step import show_next
from ui.parts.owning import show_basis, show_owning
from ui.parts.patience import show_patience
from ui.parts.picks import in_brief, show_air_cooled, show_options, show_pin_button
from ui.parts.pins import show_pins
from ui.parts.plan_view import show_details, show_groups, show_headline, show_starved
from ui.parts.ready import what_can_be_planned
from ui.parts.said import aside, strong
from ui.parts.tables import show_table
from ui.parts.waiting import show_answer
from ui.state import bound, heard, widget

OF_OWNING = ("These are the plans that no other beats on owning cost, among those that no plan of "
             "their own size beats on installed cost. The proof is about installed cost.")


def show() -> None:
    """Draw the page."""
    found = begin("Cost and coverage", "what does every dollar buy?")
    case = what_can_be_planned(found)
    if case is None:
        return
    goal, basis = st.columns(2, gap="large")
    with goal:
        show_goal(found)
    with basis:
        show_basis(found)
    answer = curve(case)
    show_answer(answer, "Cost against coverage", lambda plans: _show_curve(case, plans))
    if answer.value is None and answer.work is not None and answer.work.found:
        st.caption("Found so far; others may beat these.")
        show_table(point_table(curve_so_far(answer.work)), key="so far")
    show_next("views/beside.py", "Next: the pinned plans side by side")
    show_cautions(case.book)


def _show_curve(case: Case, plans: Frontier) -> None:
    found = case.session
    pinned = [plan for plan in (of_size(case, found.pins).value or ()) if plan is not None]
    shown = _shown(case, plans)
    by_number = dict(enumerate(plans.points, start=1))
    numbers = {key_of(plan): number for number, plan in by_number.items()}
    goal, basis = found.goal, found.basis
    frame = curve_frame(plans.points, basis, pinned)
    chart = curve_chart(
        frame, numbers.get(key_of(shown)) if shown else None,
        ink=ink(), cost_title="Owning cost [USD]" if basis else "Installed cost [USD]",
        goal=goal.coverage if goal.by == "coverage" else None,
        budget_usd=goal.budget_usd if goal.by == "budget" and basis is None else None)

    def picked() -> None:
        rows = (widget("curve") or {}).get("selection", {}).get(PICK) or []
        if rows:
            found.picked = key_of(by_number[int(rows[0]["number"])])

    show_answer(choices(case), "The options", lambda ways: _show_choices(case, ways))
    left, right = st.columns([3, 2], gap="large")
    with left:
        draw(chart, "curve", select=(PICK, picked))
        known = "that was found " if open_sentence(plans) else ""
        st.caption(f"Every mark is a plan that no other {known}beats on both counts. Solid ring: "
                   "shown beside. Broken ring: pinned. Broken line: the goal. Click a mark to read "
                   "its plan.")
        with st.expander("The same as a table"):
            show_table(point_table(plans.points), key="points", numbered="Plan")
        if basis is None:
            show_patience(found, plans)
        else:
            aside(OF_OWNING)
        show_pins(case)
    with right:
        if shown is not None:
            _show_picked(case, plans, shown)
    if shown is not None:
        st.header("The plan shown, in full", anchor=False)
        with st.expander("What is always on, takes turns, is off"):
            show_groups(shown)
        show_details(shown, "shown")


def _show_choices(case: Case, ways: Options) -> None:
    strong(in_a_sentence(ways))
    show_options(ways, in_brief, reference_sentence, sure=True)
    with st.container(horizontal=True, vertical_alignment="center"):
        show_air_cooled(ways)
        show_pin_button(case.session, ways)


def _shown(case: Case, plans: Frontier) -> Plan | None:
    """The plan that was picked if it is still there, else the recommended one."""
    for plan in plans.points:
        if key_of(plan) == case.session.picked:
            return plan
    known = recommended(case).value
    return known.plan if known else next(iter(plans.points), None)


def _show_picked(case: Case, plans: Frontier, shown: Plan) -> None:
    found = case.session
    by_point = {key_of(plan): plan for plan in plans.points}
    numbers = {point: number for number, point in enumerate(by_point, start=1)}
    here = key_of(shown)

    def take(point: PlanKey | None) -> None:
        found.picked = point

    st.selectbox("Plan shown", list(by_point), placeholder="The recommended plan",
                 format_func=lambda point: _called(numbers[point], by_point[point]),
                 key=bound("plan shown", here if here in by_point else None),
                 on_change=heard("plan shown", take))
    if here in found.pins:
        st.button("Unpin this plan", key="unpin shown", on_click=lambda: found.unpin(here))
    else:
        st.button("Pin this plan for the comparison", key="pin shown",
                  on_click=lambda: found.pin(here))
    show_headline(shown)
    show_starved(shown)
    show_hardest(shown, all_of_them=False)
    if found.basis is not None:
        show_owning(shown, found.basis)


def _called(number: int, plan: Plan) -> str:
    price = money(plan.cost_usd, plan.menu.book.currency)
    return f"{number}: {price}, {share(plan.coverage)}, {plan.supply.generator.label}"


show()
