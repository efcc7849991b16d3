"""What stands behind folds on the page of the options: reasons, prices, proof, other plans."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from planner.jobs.content import PlanKey
from planner.plan.plan import Plan
from planner.report.ended_words import open_sentence
from planner.report.smaller_words import smaller_sections
from planner.report.tables.points import point_table
from planner.report.tables.smaller import smaller_table
from planner.report.words import money, share
from planner.search.frontier import Frontier
from planner.study.options import Options
from planner.study.recommend import Recommendation
from planner.study.why_smaller import SmallerSize
from ui.answers import Case, key_of, recommended, smaller
from ui.parts.options.pins import show_pins
from ui.parts.owning import show_basis, show_owning
from ui.parts.said import plain, points, strong
from ui.parts.tables import show_table
from ui.parts.waiting import show_answer
from ui.session import Session
from ui.state import bound

BY_HAND = "The cheapest way, no plan: a portable generator worked by hand"


def show_smaller(case: Case, known: Recommendation) -> None:
    """Say why none of the smaller sizes is recommended."""
    plan, goal = known.plan, known.coverage

    def explained(sizes: tuple[SmallerSize, ...]) -> None:
        if not sizes:
            st.markdown("The recommended one is the smallest generator of the price book.")
            return
        show_table(smaller_table(sizes, goal), key="smaller")
        for heading, sentences in smaller_sections(sizes, plan, goal):
            strong(heading)
            points(sentences)

    show_answer(smaller(case, known), "Smaller sizes", explained)


def show_cost_of_owning(found: Session, plan: Plan) -> None:
    """Draw the choice between the two costs, and what owning the chosen plan costs."""
    show_basis(found)
    if found.basis is not None:
        show_owning(plan, found.basis)


def show_every_plan(case: Case, plans: Frontier) -> None:
    """Draw the plans of the curve as a table, and let any of them be chosen."""
    found = case.session
    by_point = {key_of(plan): plan for plan in plans.points}
    numbers = {point: number for number, point in enumerate(by_point, start=1)}
    def called(point: PlanKey) -> str:
        plan = by_point[point]
        price = money(plan.cost_usd, plan.menu.book.currency)
        return f"{numbers[point]}: {price}, {share(plan.coverage)}, {plan.supply.generator.label}"

    among = "that was found " if open_sentence(plans) else ""
    st.caption(f"Every mark is a plan that no other {among}beats on both counts.")
    wanted = st.selectbox("Plan of the curve", list(by_point), placeholder="Choose a plan",
                          format_func=called, index=None, key="plan of the curve")

    def take() -> None:
        found.picked = found.outage_plan = wanted

    st.button("Choose this plan", key="choose plan", on_click=take, disabled=wanted is None)
    show_table(point_table(plans.points), key="points", numbered="Plan")


def show_other_sizes(case: Case, chosen: Plan, ways: Options | None) -> None:
    """Draw what is pinned for the comparison, and let sizes and plans be pinned."""
    found, here = case.session, key_of(chosen)
    labels = {one.id: one.label for one in case.book.generators if case.home.fuel in one.ratings}
    st.page_link("views/portable.py", label=BY_HAND)
    show_pins(case)
    size = st.selectbox("Generator", list(labels), format_func=labels.__getitem__, index=None,
                        key="size to pin", placeholder="Choose a size",
                        help="Pins its cheapest plan for the goal, else the one that keeps most. A "
                             "fifth plan replaces the oldest.")

    def pin() -> None:
        found.pin(PlanKey(str(size), found.goal.coverage))
        bound("size to pin", None)

    def pin_all() -> None:
        for plan in plans:
            found.pin(key_of(plan))

    with st.container(horizontal=True):
        st.button("Pin", key="pin size", on_click=pin, disabled=size is None)
        if here in found.pins:
            st.button("Unpin the chosen plan", key="unpin shown",
                      on_click=lambda: found.unpin(here))
        else:
            st.button("Pin the chosen plan", key="pin shown", on_click=lambda: found.pin(here))
        known = recommended(case).value
        if known is not None and key_of(known.plan) not in (*found.pins, here):
            st.button("Pin the recommended plan", key="pin recommended", on_click=found.pin,
                      args=(key_of(known.plan),))
        plans = [one.plan for one in ways.cards if not one.given_up] if ways is not None else []
        st.button("Pin all options", key="pin options", on_click=pin_all,
                  disabled=all(key_of(plan) in found.pins for plan in plans))


def show_names(named: Mapping[str, Plan]) -> None:
    """Say which generators stand behind the names of a comparison."""
    for name, plan in named.items():
        st.caption(f"**{plain(name)}**: {plain(plan.supply.generator.label)}")
