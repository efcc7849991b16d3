"""What every page begins with: its title and its question."""

from __future__ import annotations

import streamlit as st
from streamlit.delta_generator import DeltaGenerator

from ui.keeping import kept_words
from ui.parts.jobs.kept import show_in_address, show_kept
from ui.parts.said import plain
from ui.readings import home_of
from ui.session import Session
from ui.state import session


def begin(title: str, question: str, *, undo: bool = True) -> Session:
    """Write the title of a page, the question that it answers, and when the job was kept."""
    found = session()
    found.follow()
    show_in_address(found)
    show_kept(found)
    st.title(title, anchor=False)
    if found.has_home:
        job, facts = found.keeper.job, home_of(found).facts
        name = job.label if job else facts.label if facts else found.home_name
        customer = job.customer if job else ""
        said = (f"{plain(name)}{plain(f', for {customer}') if customer else ''} — {question}",
                kept_words(found.keeper))
        where, back, again = st.columns([8, 1, 1], vertical_alignment="center")
        where.caption(" · ".join(filter(None, said)))
        if undo:
            _offer_undo(found, back, again)
    else:
        st.caption(f"{question[:1].upper()}{question[1:]}")
    return found


def _offer_undo(found: Session, back: DeltaGenerator, again: DeltaGenerator) -> None:
    back.button("Undo", key="step back", on_click=found.step_back, type="tertiary",
                disabled=not found.past, help="Take the last change of the home back")
    again.button("Redo", key="step forward", on_click=found.step_forward, type="tertiary",
                 disabled=not found.undone, help="Do it again")
