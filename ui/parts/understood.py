"""What the planner makes of the loads: its figures, what it assumed, what to verify first."""

from __future__ import annotations

import streamlit as st

from planner.facts.home import Home
from planner.report.tables.loads import ASSUMED, assumption_table, load_table
from planner.report.tables.verify import quiet_sentence, verify_table
from planner.report.words import count
from planner.study.recommend import Recommendation
from planner.study.verify import Doubt
from ui.answers import Case, doubts, recommended
from ui.parts.said import aside
from ui.parts.tables import show_table
from ui.parts.waiting import show_answer
from ui.readings import book_of
from ui.session import Session


def show_understood(found: Session, home: Home) -> None:
    """Draw the loads as understood, and the assumed values, ranked where asked for."""
    assumed = assumption_table(home)
    with st.expander("What the planner understands: draws, starts, legs, what may wait"):
        show_table(load_table(home), key="understood")
        aside(f"{ASSUMED} assumed, because the file does not say it: "
              f"{count(len(assumed.items), 'value')} in all.")
    with st.expander("Every assumed value with its source"):
        show_table(assumed, key="assumed", height=420)
    if st.toggle("Rank the assumed values by how much they matter: verify the first on site",
                 key="rank"):
        _show_ranked(found, home)


def _show_ranked(found: Session, home: Home) -> None:
    book = book_of(found).facts
    if book is None:
        st.info("The price book has to be corrected first.")
        return
    case = Case(found, home, book)

    def rank(known: Recommendation) -> None:
        show_answer(doubts(case, known), "Changing what is assumed", listed)

    def listed(ranked: tuple[Doubt, ...]) -> None:
        telling = [doubt for doubt in ranked if doubt.effect != "nothing"]
        if telling:
            show_table(verify_table(telling, book.currency), key="ranked")
        aside(quiet_sentence(ranked) or "Every assumed value matters.")

    show_answer(recommended(case), "The recommended plan", rank)
