"""For the family: choose what matters, see what happens and what it costs."""

from __future__ import annotations

from itertools import cycle

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from planner.errors import NotFoundError, PlannerError
from planner.facts.comfort import Comfort
from planner.plan.plan import Plan
from planner.report.comforts.family_comforts import (
    ALWAYS,
    BY_HAND,
    IMPORTANCE,
    MATTERS,
    MUST,
    OFF,
    SOMEBODY,
    TURNS,
    can_be_chosen,
    happens_sentences,
    in_short,
    matters,
    said_sentences,
)
from planner.report.family_words import (
    HOW_WISHES_ARE_PRICED,
    free_wishes,
    not_in_the_price,
    price_of_wishes,
)
from planner.report.site.fuel import fuel_sentences
from planner.report.site.words import noise_sentences, place_sentences
from planner.report.tables.hours import hardest_day
from planner.report.tables.wishes import held_against
from planner.report.words import money
from planner.study.recommend import Recommendation
from planner.study.wish_cost import WishCost
from ui.answers import Case, choices, prices_of_wishes, recommended
from ui.comfort_edits import with_rank
from ui.parts.cautions import show_cautions
from ui.parts.comforts import show_levels
from ui.parts.findings import show_problem
from ui.parts.frame import begin
from ui.parts.options.cards import show_options
from ui.parts.printing import show_print_button
from ui.parts.ready import what_can_be_planned
from ui.parts.said import aside, plain, points
from ui.parts.waiting import show_answer
from ui.state import bound, heard
from ui.work import Answer

IN_A_ROW = (ALWAYS, TURNS, BY_HAND, OFF)
MOST_WISHES = 5  # at first sight, the dearest
MOST_TOLD = 3  # on a card, of what is less than usual


def show() -> None:
    """Draw the page."""
    with st.container(key="family"):
        found = begin("When the power fails", "what would you like to keep working?", undo=False)
        case = what_can_be_planned(found)
        if case is None:
            return
        like, asked = st.columns([3, 2], gap="large")
        answer = recommended(case)
        with like:
            if answer.error is not None:
                _show_no_plan(answer.error)
            else:
                show_answer(answer, "Your plan", lambda known: _show_plan(known.plan))
        with asked:
            if answer.value is not None:
                _show_price(answer.value.plan)
            with st.container(key="not-on-paper"):
                _show_choices(case)
            with st.container(key="only-on-paper"):
                st.header("What matters to you", anchor=False)
                points(said_sentences(case.home))
        if answer.error is None:
            _show_rest(case, answer, asked)
        show_cautions(None if answer.error is not None else case.book)


def _show_rest(case: Case, answer: Answer[Recommendation], beside: DeltaGenerator) -> None:
    if answer.value is not None and answer.settled:
        found = answer.value
        ways = choices(case)  # asked for first: it is there before the prices of all wishes
        with beside:
            st.header("What your wishes cost", anchor=False)
            show_answer(prices_of_wishes(case, answer.value), "What your wishes cost",
                        lambda costs: _show_wishes(found, costs))
        st.header("Ways to do it", anchor=False)
        show_answer(ways, "Other ways to do it", lambda found: show_options(found, case.home))
    with st.container(key="not-on-paper-either", horizontal=True):
        show_print_button()
        if st.button("Watch an outage", key="watch"):
            st.switch_page("views/outage.py")


def _show_no_plan(problem: PlannerError) -> None:
    if isinstance(problem, NotFoundError):
        st.markdown("## No plan was found yet")
        st.markdown("It is not known whether anything in the price book can do what was asked for. "
                    "Ask for a little less beside this, or let your estimator look into it.")
    else:
        st.markdown("## No plan is possible yet")
        st.markdown("Nothing in the price book can do what was asked for. Ask for a little less "
                    "beside this, or let your estimator look into it.")
    with st.expander("For the estimator"):
        show_problem(problem)


def _show_choices(case: Case) -> None:
    st.header("What matters to you?", anchor=False)
    for comfort, place in zip(can_be_chosen(case.home), cycle(st.columns(2)), strict=False):
        with place:
            _show_choice(case, comfort)
    if recommended(case).value is not None:
        st.caption("Everything else works as always.")


def _show_choice(case: Case, comfort: Comfort) -> None:
    def take(word: str | None) -> None:
        if word is None:
            return
        case.session.edit_home(lambda text: with_rank(
            text, comfort, IMPORTANCE.get(word, comfort.importance), must_run=word == MUST))

    key = f"matters {comfort.id}"
    st.selectbox(plain(comfort.label), MATTERS, key=bound(key, matters(case.home, comfort)),
                 on_change=heard(key, take))


def _show_plan(plan: Plan) -> None:
    st.header("What would happen", anchor=False)
    st.markdown(f"**{plain(in_short(plan))}**")
    for danger in place_sentences(plan.menu.house.home):
        st.error(plain(danger))
    for heading, lines in happens_sentences(plan).items():
        if lines:
            st.subheader(heading, anchor=False)
            if heading in IN_A_ROW:
                st.markdown(plain(", ".join(lines)))
            else:
                points(lines)
        if lines and heading == BY_HAND:
            aside(SOMEBODY)
    show_levels(plan, hardest_day([plan]), "family", folded=False)


def _show_price(plan: Plan) -> None:
    st.header("What it would cost", anchor=False)
    st.markdown(f"## {plain(money(plan.cost_usd, plan.menu.book.currency))}")
    st.markdown(plain(f"With the {plan.supply.generator.label}, installed. "
                      f"{not_in_the_price(plan)}"))
    points([*fuel_sentences(plan), *noise_sentences(plan)])


def _show_wishes(found: Recommendation, costs: tuple[WishCost, ...]) -> None:
    if held_against(found):
        aside(held_against(found))
    said = price_of_wishes(costs) or ("No single wish changes the price.",)
    points(said[:MOST_WISHES])
    free = free_wishes(costs)
    with st.expander("How wishes are priced" if len(said) <= MOST_WISHES else
                     "More, and how wishes are priced"):
        if said[MOST_WISHES:]:
            points(said[MOST_WISHES:])
        aside(HOW_WISHES_ARE_PRICED)
        if free:
            st.markdown(plain(free))


show()
