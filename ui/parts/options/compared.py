"""Plans held against each other: comfort by comfort, and behind a fold all that differs."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

import streamlit as st

from planner.facts.home import DesignDay
from planner.plan.plan import Plan
from planner.report.change_words import change_sentences
from planner.report.choice_words import CALLED
from planner.report.step_words import step_sentence
from planner.report.tables.comparison import (
    alike,
    comforts_compared,
    comparison_table,
    told_apart,
)
from planner.report.tables.hours import fully_served, hardest_day, where_short
from planner.report.words import count
from planner.study.options import Option, OptionName
from ui.answers import Case, key_of, of_size, reference
from ui.parts.said import aside, plain, points, say, strong
from ui.parts.tables import show_table, show_written
from ui.parts.waiting import show_answer
from ui.session import MOST_PINS

ALL_DAYS = "All design days, by their weights"
UNSHED = "No load shedding: "
NONE_HAS_A_PLAN = "None of the pinned sizes has a plan for this home."


def compared(case: Case, known: Mapping[OptionName, Option]) -> dict[str, Plan]:
    """Give the plans to compare by their names: those that are pinned, else the options."""
    found = case.session
    if not found.pins:
        shown = sorted(list(known.values())[:MOST_PINS], key=lambda one: one.plan.cost_usd)
        return {CALLED[one.name]: one.plan for one in shown}
    pinned = [plan for plan in (of_size(case, found.pins).value or ()) if plan is not None]
    if not pinned:
        return {}
    return told_apart(sorted(pinned, key=lambda one: one.cost_usd), reference(case).value)


def show_comforts_compared(case: Case, named: Mapping[str, Plan]) -> None:
    """Write comfort by comfort what the plans differ in, in the unit of each."""
    strong("The pinned plans, comfort by comfort" if case.session.pins else
           "What changes")
    if case.session.pins:
        show_answer(of_size(case, case.session.pins), "The pinned plans", lambda _: None)
    if not named:
        st.info(NONE_HAS_A_PLAN)
        return
    show_written(comforts_compared(named))
    same = alike(named)
    if same:
        aside(f"The same in all: {count(len(same), 'other')}.")


def show_all_compared(case: Case, named: Mapping[str, Plan], base: Plan) -> None:
    """Draw all that the plans differ in: step by step, load by load, hour by hour."""
    if not named:
        say(NONE_HAS_A_PLAN)
        return
    points([step_sentence(one, other, (_said(name), _said(following)))
            for (name, one), (following, other) in pairwise(named.items())])
    show_table(comparison_table(named), key="comparison")
    same = alike(named)
    if same:
        aside(f"The same in all: {', '.join(same)}.")
    for name, plan in named.items():
        if key_of(plan) != key_of(base):
            strong(f"{name} against the chosen plan")
            points(change_sentences(base, plan))
    _show_hours(case, dict(named))


def _said(name: str) -> str:
    bare = name.removeprefix(UNSHED)
    if bare != name:
        return f"{bare} without load shedding"
    return f"plan “{name}”" if name in CALLED.values() else name


def _show_hours(case: Case, named: dict[str, Plan]) -> None:
    days: dict[str, DesignDay | None] = {day.id: day for day in case.home.days}
    days[ALL_DAYS] = None
    labels = {name: ALL_DAYS if day is None else day.label for name, day in days.items()}
    hardest = list(days.values()).index(hardest_day(named.values()))
    strong("Hours a day that each load gets")
    chosen = st.radio("On which day", list(days), index=hardest, horizontal=True, key="hours on",
                      format_func=lambda name: plain(labels[name]))
    day = days.get(str(chosen))
    short = where_short(named, day)
    if short.items:
        show_table(short, key="hours")
    aside(f"All that they ask for, in every plan: {', '.join(fully_served(named, day)) or 'none'}.")
