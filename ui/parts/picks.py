"""What else might be recommended: a plan that starves something, one for fewer houses."""

from __future__ import annotations

import streamlit as st

from planner.report.confidence_words import confidence_sentences, of_100
from planner.report.starved import starving_sentence
from planner.study.confidence import TO_QUOTE
from planner.study.recommend import Recommendation
from ui.answers import Case
from ui.parts.said import aside, say, strong


def show_starving(case: Case, known: Recommendation) -> None:
    """Tell of the cheaper plan that leaves something without a turn, and let it be chosen."""
    found = case.session
    if known.starving is not None:
        say(starving_sentence(known.starving, known.plan))
        st.button("Use the cheaper plan anyway", key="take starving",
                  on_click=found.set_goal, kwargs={"none_starved": False})
    elif not found.goal.none_starved:
        st.button("Recommend only plans in which everything that matters runs", key="take fed",
                  on_click=found.set_goal, kwargs={"none_starved": True})


def show_sturdy(case: Case, sure: Recommendation) -> None:
    """Say how well the plan stands what is assumed, and let one be asked for that stands it."""
    found, lines = case.session, confidence_sentences(sure)
    if not lines:
        return
    strong(lines[0])
    aside(*lines[1:])
    if found.goal.sturdy:
        st.button("The cheapest in the house as it is assumed", key="take cheapest",
                  on_click=found.set_goal, kwargs={"sturdy": False})
    elif found.goal.by == "coverage" and sure.confidence and sure.confidence.share < TO_QUOTE:
        st.button(f"Look for one that holds in {of_100(TO_QUOTE)}", key="take sturdy",
                  on_click=found.set_goal, kwargs={"sturdy": True})
