"""By hand: what the cheapest way keeps and asks, held against the recommended plan."""

from __future__ import annotations

from typing import Any

import pandas as pd
import streamlit as st

from planner.report.portable.breaks import broken_sentences, missed_sentence
from planner.report.portable.groups import always_sentence, change_sentences, never_sentence
from planner.report.portable.steps import (
    DANGERS,
    KEEPING,
    SOURCE_OF_STEPS,
    keeper_sentence,
    sections_of_steps,
)
from planner.report.portable.words import (
    alone_sentences,
    basis_sentence,
    beside_sentence,
    code_sentences,
    cooling_sentences,
    fuel_sentence,
    machine_sentence,
    noise_sentence,
    not_planned_sentence,
    option_sentence,
    verdict_sentence,
)
from planner.report.tables.column import Table
from planner.report.tables.portable import (
    NOTE_OF_OPTIONS,
    NOTE_OF_WORK,
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
from ui.parts.said import aside, plain, points, say, strong
from ui.parts.tables import show_table
from ui.parts.waiting import show_answer


def show() -> None:
    """Draw the page."""
    found = begin("By hand", "what does a portable generator do, and for whom?")
    case = what_can_be_planned(found)
    if case is None:
        return
    _show_dangers()
    show_answer(worked_by_hand(case), "Groups of loads", lambda known: _show(known, case))
    show_next("views/options.py", "Next: the options")
    show_cautions(case.book)


def _show_dangers() -> None:
    st.warning("**▲ What kills**\n\n" + "\n".join(f"- {plain(one)}" for one in DANGERS))


def _show(known: ByHandAnswer, case: Case) -> None:
    st.warning(f"**▲** {plain(verdict_sentence(known))}")
    option = known.shown
    if option is None:
        say(not_planned_sentence())
        return
    points([*broken_sentences(option), *([missed_sentence(option)] if option.missed else [])])
    st.subheader(plain(option_sentence(option)), anchor=False)
    points([noise_sentence(option), *cooling_sentences(option), *alone_sentences(option)])
    _show_steps(option)
    show_answer(recommended(case), "The recommended plan",
                lambda plan: _show_beside(option, plan))
    _show_more(option, known)


def _show_steps(option: ByHand) -> None:
    with st.expander("What to do, step by step", expanded=True):
        for heading, steps in sections_of_steps(option):
            strong(heading)
            st.markdown("\n".join(f"{place}. {plain(step)}"
                                  for place, step in enumerate(steps, start=1)))
        say(keeper_sentence(option))
        aside(SOURCE_OF_STEPS)


def _show_beside(option: ByHand, found: Recommendation) -> None:
    say(beside_sentence(option, found.plan))
    _show_whole(beside_table(option, found.plan))


def _show_more(option: ByHand, known: ByHandAnswer) -> None:
    with st.expander("What is on and off from hour to hour"):
        for day, _ in enumerate(option.house.home.days):
            _show_day(option, day)
    with st.expander("Attention and fuel"):
        show_table(days_table(option), key="by hand days")
        aside(NOTE_OF_WORK)
        points([fuel_sentence(option), KEEPING, basis_sentence(option)])
    with st.expander("Price, line by line; neutral and code"):
        show_table(lines_table(option), key="by hand price")
        points([machine_sentence(option), *code_sentences(option)])
    with st.expander("All portable generators of the price book"):
        _show_whole(options_table(known.options))
        aside(NOTE_OF_OPTIONS)


def _show_day(option: ByHand, day: int) -> None:
    said = (always_sentence(option, day), never_sentence(option, day),
            *change_sentences(option, day))
    points([one for one in said if one])
    if groups_table(option, day).items:
        _show_whole(groups_table(option, day))


def _show_whole(table: Table[Any]) -> None:
    """Draw a table whose cells are read to their end: they wrap where there is no room."""
    st.table(pd.DataFrame([[plain(cell) for cell in row] for row in table.cells],
                          columns=table.headings), hide_index=True, alt=table.title)


show()
