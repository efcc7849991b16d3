"""What was read of a list, in one box, and what of it was not understood, to be left out."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import streamlit as st

from planner.editing.new_home import not_read_in, without_not_read
from planner.errors import Finding, Severity
from ui.parts.said import plain, points
from ui.session import Session

MOST_SHOWN = 40


def show_left_over(found: Session) -> None:
    """Offer to leave out each phrase of a list that was not understood."""
    lines = not_read_in(found.home_text)
    if not lines:
        return
    with st.container(border=True):
        st.markdown("**▲ Not understood, and not in this home.** Write it in other words as a "
                    "load, or leave it out.")
        for number, line in enumerate(lines[:MOST_SHOWN]):
            what, out = st.columns([5, 1], vertical_alignment="center")
            what.markdown(plain(line))
            out.button("Leave it out", key=f"leave out {number}", width="stretch",
                       on_click=found.edit_home, args=(_without([line]),))
        if len(lines) > 1:
            st.button("Leave all of it out", key="leave all out", on_click=found.edit_home,
                      args=(_without(lines),))


def show_read(found: Session) -> None:
    """Say what was made of a list: the doubts, and the rest behind a fold.

    What is left over has a box of its own.
    """
    notes, shown = found.notes, " ".join(not_read_in(found.home_text))
    doubts = [one for one in notes if one.severity is not Severity.NOTE
              and not _is_in(one, shown)]
    told = [one for one in notes if one.severity is Severity.NOTE]
    if doubts:
        st.warning("**▲ Please look at these.**")
        points([_in_a_line(one) for one in doubts])
    if told:
        with st.expander(f"How the list was read ({len(told)})"):
            points([_in_a_line(one) for one in told])


def _is_in(one: Finding, shown: str) -> bool:
    """Whether a finding only says that a phrase is left over that is shown anyway."""
    phrase = one.sentence.removesuffix(" is not understood.").strip('"')
    return phrase != one.sentence and phrase in shown


def _in_a_line(one: Finding) -> str:
    where = one.where.rpartition(": ")[2]
    return f"{where}: {one.sentence} {one.remedy}".strip()


def _without(lines: Sequence[str]) -> Callable[[str], str]:
    return lambda text: without_not_read(text, lines)
