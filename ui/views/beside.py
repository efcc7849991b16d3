"""Side by side: what changes from one size to another, what it costs and gains."""

from __future__ import annotations

from itertools import pairwise

import streamlit as st

from planner.facts.home import DesignDay
from planner.jobs.content import PlanKey
from planner.plan.plan import Plan
from planner.report.change_words import change_sentences
from planner.report.smaller_words import smaller_sections
from planner.report.step_words import step_sentence
from planner.report.tables.comparison import alike, comparison_table, told_apart
from planner.report.tables.hours import fully_served, hardest_day, where_short
from planner.report.tables.smaller import smaller_table
from planner.study.recommend import Recommendation
from planner.study.why_smaller import SmallerSize
from ui.answers import Case, key_of, of_size, recommended, reference, smaller
from ui.parts.cautions import show_cautions
from ui.parts.comforts import show_hardest
from ui.parts.frame import begin
from ui.parts.next_step import show_next
from ui.parts.pins import show_pins
from ui.parts.plan_view import show_headline, show_starved
from ui.parts.ready import what_can_be_planned
from ui.parts.said import aside, plain, points, say, strong
from ui.parts.tables import show_table
from ui.parts.waiting import show_answer
from ui.state import bound

PER_ROW = {1: 1, 2: 2, 3: 3, 4: 2, 5: 3}  # no card gets too narrow to read
ALL_DAYS = "All design days, by their weights"
UNSHED = "No load shedding: "
NO_REFERENCE = "No load shedding: no generator of the price book carries the whole house."


def show() -> None:
    """Draw the page."""
    found = begin("Side by side", "what changes from one size to the next, and what does it cost?")
    case = what_can_be_planned(found)
    if case is None:
        return
    chosen, pins = st.columns(2, gap="large")
    with chosen:
        _show_choosing(case)
    with pins:
        show_pins(case)
    if found.pins:
        show_answer(of_size(case, found.pins), "The pinned plans",
                    lambda plans: _show_plans(case, plans))
    else:
        show_answer(recommended(case), "The recommended plan",
                    lambda known: _show_plans(case, (known.plan,)))
    known = recommended(case)
    if known.value is not None and known.settled:
        _show_smaller(case, known.value)
    elif found.pins:
        show_answer(known, "The recommended plan", lambda _: None)
    st.page_link("views/portable.py",
                 label="The cheapest way, no plan: a portable generator worked by hand")
    show_next("views/outage.py", "Next: what the outage is like")
    show_cautions(case.book)


def _show_choosing(case: Case) -> None:
    found = case.session
    labels = {one.id: one.label for one in case.book.generators if case.home.fuel in one.ratings}
    st.subheader("Add a size", anchor=False)
    size_place, button_place = st.columns([3, 1], vertical_alignment="bottom")
    size = size_place.selectbox("Generator", list(labels), format_func=labels.__getitem__,
                                index=None, key="size to pin", placeholder="Choose a size",
                                help="Pins its cheapest plan for the goal, else the one that "
                                     "keeps most. A fifth plan replaces the oldest.")

    def pin() -> None:
        found.pin(PlanKey(str(size), found.goal.coverage))
        bound("size to pin", None)

    button_place.button("Pin", key="pin size", on_click=pin, disabled=size is None,
                        width="stretch")
    known = recommended(case).value
    if known is not None and key_of(known.plan) not in found.pins:
        st.button("Pin the recommended plan", key="pin recommended",
                  on_click=found.pin, args=(key_of(known.plan),))


def _show_plans(case: Case, plans: tuple[Plan | None, ...]) -> None:
    known = sorted((plan for plan in plans if plan is not None), key=lambda one: one.cost_usd)
    if not known:
        st.info("None of the pinned sizes has a plan for this home.")
        return
    shown = reference(case)
    named = told_apart(known, shown.value)
    first, base = _base(case, named)
    per_row = PER_ROW.get(len(named), 3)
    for start in range(0, len(named), per_row):
        row = list(named.items())[start : start + per_row]
        for place, (name, plan) in zip(st.columns(per_row), row, strict=False):
            with place.container(border=True):
                _show_card(name, plan, first, base)
    if shown.value is None and shown.work is None:
        say(NO_REFERENCE)
    if len(named) > 1:
        st.header("What changes", anchor=False)
        points([step_sentence(one, other, (_said(name), _said(following)))
                for (name, one), (following, other) in pairwise(named.items())])
        show_table(comparison_table(named), key="comparison")
        same = alike(named)
        if same:
            aside(f"The same in all: {', '.join(same)}.")
    _show_hours(case, named)


def _base(case: Case, named: dict[str, Plan]) -> tuple[str, Plan]:
    """What the others are held against: the recommended plan if it is there, else the cheapest."""
    known = recommended(case).value
    return next(((name, plan) for name, plan in named.items()
                 if known is not None and key_of(plan) == key_of(known.plan)),
                next(iter(named.items())))


def _said(name: str) -> str:
    bare = name.removeprefix(UNSHED)
    return bare if bare == name else f"{bare} without load shedding"


def _show_hours(case: Case, named: dict[str, Plan]) -> None:
    with st.expander("Hours a day that each load gets"):
        _show_hours_on(case, named)


def _show_hours_on(case: Case, named: dict[str, Plan]) -> None:
    days: dict[str, DesignDay | None] = {day.id: day for day in case.home.days}
    days[ALL_DAYS] = None
    labels = {name: ALL_DAYS if day is None else day.label for name, day in days.items()}
    hardest = list(days.values()).index(hardest_day(named.values()))
    chosen = st.radio("On which day", list(days), index=hardest, horizontal=True, key="hours on",
                      format_func=lambda name: plain(labels[name]))
    day = days.get(str(chosen))
    short = where_short(named, day)
    if short.items:
        show_table(short, key="hours")
    aside(f"All that they ask for, in every plan: {', '.join(fully_served(named, day)) or 'none'}.")


def _show_card(name: str, plan: Plan, first: str, base: Plan) -> None:
    if name.startswith(UNSHED):
        st.caption("For comparison, with no load shedding")
    show_headline(plan)
    show_starved(plan)
    show_hardest(plan, all_of_them=False)
    if plan is not base:
        with st.expander(f"Against {plain(first)}"):
            points(change_sentences(base, plan))


def _show_smaller(case: Case, known: Recommendation) -> None:
    plan, goal = known.plan, known.coverage

    def explained(sizes: tuple[SmallerSize, ...]) -> None:
        if not sizes:
            st.markdown("The recommended one is the smallest generator of the price book.")
            return
        show_table(smaller_table(sizes, goal), key="smaller")
        for heading, sentences in smaller_sections(sizes, plan, goal):
            strong(heading)
            points(sentences)

    with st.expander("Why not smaller"):
        show_answer(smaller(case, known), "Smaller sizes", explained)


show()
