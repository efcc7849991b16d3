"""Wishes: what must run, what matters, what may wait; what each of it costs, live beside it."""

from __future__ import annotations

import streamlit as st

from planner.plan.plan import Plan
from planner.report.tables.wishes import HOW_IT_COUNTS, free_sentences, wish_sentences
from planner.report.words import share
from planner.study.wish_cost import WishCost
from ui.answers import Table, prices_of_wishes, reached, recommended
from ui.parts.cautions import show_cautions
from ui.parts.frame import begin, what_can_be_planned
from ui.parts.goal import show_goal
from ui.parts.order import show_order
from ui.parts.picks import show_fed
from ui.parts.plan_view import show_groups, show_headline, show_starved
from ui.parts.said import aside, points
from ui.parts.waiting import show_answer
from ui.parts.wish_table import show_pairs, show_wishes


def show() -> None:
    """Draw the page."""
    found = begin("Wishes", "what must run, what matters, what may wait?")
    if found.has_home:
        wishes, answer = st.columns([3, 2], gap="large")
        with wishes:
            show_wishes(found)
            show_pairs(found)
        with answer:
            table = what_can_be_planned(found)
            if table is not None:
                _show_answer(table)
        if table is not None:
            plan = recommended(table)
            if plan.value is not None and not plan.stale:
                show_order(table, plan.value)
            st.page_link("views/curve.py", label="Next: what every dollar buys")
            show_cautions(table.book)
    else:
        what_can_be_planned(found)


def _show_answer(table: Table) -> None:
    st.subheader("Recommended")
    show_goal(table.session)
    plan = recommended(table)
    show_answer(plan, "The recommended plan", show_headline)
    if plan.value is not None and not plan.stale:
        show_starved(plan.value)
        show_fed(table, plan.value)
        with st.expander("What it does", expanded=True):
            show_groups(plan.value)
        st.subheader("What each wish costs")
        show_answer(prices_of_wishes(table, plan.value), "Prices of the wishes",
                    lambda costs: _show_costs(table, costs, plan.value))


def _show_costs(table: Table, costs: tuple[WishCost, ...], plan: Plan | None) -> None:
    points(wish_sentences(costs) or ("No single wish changes the price.",))
    if plan is not None:
        aside(f"Each for the same coverage of {share(reached(table.session.goal, plan))}. "
              f"{HOW_IT_COUNTS}")
    with st.expander("Wishes that cost nothing"):
        points(free_sentences(costs) or ("Every wish has its price.",))


show()
