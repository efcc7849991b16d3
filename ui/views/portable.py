"""By hand: what the cheapest way keeps and asks, held against the recommended plan."""

from __future__ import annotations

import streamlit as st

from planner.report.portable_words import (
    OF_PORTABLES,
    alone_sentences,
    always_sentence,
    basis_sentence,
    beside_sentence,
    broken_sentence,
    code_sentences,
    cooling_sentences,
    fuel_sentence,
    machine_sentence,
    missed_sentence,
    not_planned_sentence,
    option_sentence,
    verdict_sentence,
)
from planner.report.tables.portable import (
    NOTE_OF_OPTIONS,
    beside_table,
    days_table,
    groups_table,
    lines_table,
    options_table,
)
from planner.study.portable.option import ByHand
from planner.study.portable.options import ByHandAnswer
from planner.study.recommend import Recommendation
from ui.answers import Case, recommended, worked_by_hand
from ui.parts.cautions import show_cautions
from ui.parts.frame import begin
from ui.parts.next_step import show_next
from ui.parts.ready import what_can_be_planned
from ui.parts.said import aside, plain, points, say
from ui.parts.tables import show_table
from ui.parts.waiting import show_answer


def show() -> None:
    """Draw the page."""
    found = begin("By hand", "what does a portable generator do, and for whom?")
    case = what_can_be_planned(found)
    if case is None:
        return
    show_answer(worked_by_hand(case), "Groups of loads", lambda known: _show(known, case))
    show_next("views/beside.py", "Next: several sizes side by side")
    show_cautions(case.book)


def _show(known: ByHandAnswer, case: Case) -> None:
    st.warning(f"**▲** {plain(verdict_sentence(known))}")
    option = known.shown
    if option is None:
        say(not_planned_sentence())
        return
    st.subheader(plain(option_sentence(option)), anchor=False)
    show_answer(recommended(case), "The recommended plan",
                lambda plan: _show_beside(option, plan))
    points([one for one in (*cooling_sentences(option), broken_sentence(option),
                            missed_sentence(option), *alone_sentences(option)) if one])
    _show_more(option, known)
    points(list(OF_PORTABLES))


def _show_beside(option: ByHand, found: Recommendation) -> None:
    say(beside_sentence(option, found.plan))
    show_table(beside_table(option, found.plan), key="by hand beside")


def _show_more(option: ByHand, known: ByHandAnswer) -> None:
    with st.expander("Attention, fuel and who switches what"):
        points([fuel_sentence(option), basis_sentence(option)])
        show_table(days_table(option), key="by hand days")
        for day, _ in enumerate(option.house.home.days):
            say(always_sentence(option, day))
            if groups_table(option, day).items:
                show_table(groups_table(option, day), key=f"by hand groups {day}")
    with st.expander("Price, line by line; neutral and code"):
        show_table(lines_table(option), key="by hand price")
        points([machine_sentence(option), *code_sentences(option)])
    with st.expander("All portable generators of the price book"):
        show_table(options_table(known.options), key="by hand options")
        aside(NOTE_OF_OPTIONS)


show()
