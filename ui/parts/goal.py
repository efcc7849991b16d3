"""The goal: how much is to be kept, or what may be spent; to drag or to type."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from planner.report.words import from_percent, in_percent, money, share
from ui.session import Session
from ui.state import bound, heard

NAMES = {"coverage": "Keep at least", "budget": "Spend at most"}
MOST_USD = 60_000.0  # of the slider; more can be typed
DEAREST_USD = 1_000_000.0
ALL = 100.0


def show_goal(found: Session) -> None:
    """Draw the goal and take its changes."""
    goal = found.goal
    st.segmented_control(
        "Goal", list(NAMES), format_func=NAMES.__getitem__, key=bound("goal by", goal.by),
        on_change=heard("goal by", lambda by: found.set_goal(by=by or goal.by)))
    if goal.by == "coverage":
        _slide_or_type("coverage", "Kept, by importance [%]", ALL, 0.5, in_percent(goal.coverage),
                       lambda percent: found.set_goal(coverage=from_percent(percent)))
    else:
        most_usd = max(MOST_USD, goal.budget_usd)
        _slide_or_type("budget", "Budget [USD]", most_usd, 50.0, goal.budget_usd,
                       lambda usd: found.set_goal(budget_usd=usd))


def show_goal_button(found: Session, currency: str) -> None:
    """Draw a button that says the goal and opens to change it."""
    goal = found.goal
    said = share(goal.coverage) if goal.by == "coverage" else money(goal.budget_usd, currency)
    with st.popover(f"Goal: {NAMES[goal.by].lower()} {said}"):
        show_goal(found)


def _slide_or_type(
    name: str, label: str, most: float, step: float, value: float, take: Callable[[float], None]
) -> None:
    slide, write = st.columns([3, 2], vertical_alignment="bottom")
    slide.slider(label, 0.0, most, step=step, format="%g",
                 key=bound(f"{name} slide", min(value, most)),
                 on_change=heard(f"{name} slide", take))
    write.number_input(f"{label}, typed", 0.0, most if most == ALL else DEAREST_USD, step=step,
                       format="%g", key=bound(f"{name} typed", value),
                       on_change=heard(f"{name} typed", take), label_visibility="collapsed")
