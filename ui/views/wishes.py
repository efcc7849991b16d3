"""What matters: importance, promises, what may wait; what each of it costs, live beside it."""

from __future__ import annotations

import streamlit as st

from planner.report.starved import raised_goal_sentence
from planner.report.tables.wishes import (
    free_sentences,
    held_against,
    how_it_counts,
    wish_sentences,
)
from planner.study.recommend import Recommendation
from planner.study.wish_cost import WishCost
from ui.answers import Case, confidence, prices_of_wishes, recommended
from ui.parts.cautions import show_cautions
from ui.parts.comforts import show_hardest
from ui.parts.frame import begin
from ui.parts.goal import show_goal
from ui.parts.next_step import show_next
from ui.parts.order import show_order
from ui.parts.picks import show_starving, show_sturdy
from ui.parts.plan_view import show_groups, show_headline, show_starved
from ui.parts.ready import what_can_be_planned
from ui.parts.said import aside, points
from ui.parts.sheets.wish_table import show_pairs, show_wishes
from ui.parts.waiting import show_answer


def show() -> None:
    """Draw the page."""
    found = begin("What matters", "what must keep working, and what does it cost?")
    if found.has_home:
        wishes, answer = st.columns([2, 1], gap="medium")
        with wishes:
            show_wishes(found)
            show_pairs(found)
        with answer:
            case = what_can_be_planned(found)
            if case is not None:
                _show_answer(case)
        if case is not None:
            known = recommended(case)
            if known.value is not None and known.settled:
                show_order(case, known.value)
            show_next("views/options.py", "Next: the options")
            show_cautions(case.book)
    else:
        what_can_be_planned(found)


def _show_answer(case: Case) -> None:
    st.header("Recommended", anchor=False)
    show_goal(case.session)
    answer = recommended(case)
    show_answer(answer, "The recommended plan", lambda known: show_headline(known.plan))
    known = answer.value
    if known is not None and not answer.stale:
        show_starved(known.plan)
        show_starving(case, known)
        show_hardest(known.plan)
        with st.expander("What is always on, takes turns, is off"):
            show_groups(known.plan)
    if known is not None and answer.settled:
        show_answer(confidence(case, known), "Houses like this",
                    lambda sure: show_sturdy(case, sure))
        st.header("What each wish costs", anchor=False)
        show_answer(prices_of_wishes(case, known), "Prices of the wishes",
                    lambda costs: _show_costs(known, costs))


def _show_costs(known: Recommendation, costs: tuple[WishCost, ...]) -> None:
    if held_against(known):
        aside(held_against(known))
    points(wish_sentences(costs) or ("No single wish changes the price.",))
    if known.starving is not None:
        aside(raised_goal_sentence(known.coverage))
    with st.expander("How it is counted; wishes that cost nothing"):
        aside(how_it_counts(known))
        points(free_sentences(costs) or ("Every wish costs something.",))


show()
