"""An answer on a page: the answer, the last one marked as stale, progress, or the reason."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import streamlit as st

from ui.parts.findings import show_problem
from ui.work import Answer, Work

Value = TypeVar("Value")


def show_answer(answer: Answer[Value], what: str, show: Callable[[Value], None]) -> None:
    """Draw an answer; while it is in work, how far it is, and the last one if there was one.

    Parameters
    ----------
    answer : Answer
        What is known now.
    what : str
        What is being worked on, for the progress line.
    show : callable
        Draws the value.
    """
    if answer.work is not None:
        if answer.stale:
            st.warning("**▲ Out of date.** This belongs to what was asked before your last "
                       f"change. {what} is being recalculated.")
        elif answer.provisional:
            st.info("**Provisional.** It is still being held against what may be different in a "
                    "house like this; it may change.")
        _watch(answer.work, what)
    if answer.error is not None:
        show_problem(answer.error)
    elif answer.value is not None:
        show(answer.value)


def show_coming(*coming: tuple[Answer[Any], str]) -> None:
    """Say in one line what is still being worked on.

    Parameters
    ----------
    coming : tuple of (Answer, str)
        Answers and what each is about; of those in work the first is told.
    """
    for answer, what in coming:
        if answer.work is not None:
            _watch(answer.work, f"▲ Out of date. {what}" if answer.stale else
                   f"Provisional. {what}" if answer.provisional else what)
            return


@st.fragment(run_every=0.3)
def _watch(work: Work, what: str) -> None:
    """Look after some work until it is done, then draw the page again."""
    said = ("waiting for other work to finish" if work.waiting
            else "being calculated; you can go on meanwhile")
    st.progress(work.share, text=f"{what}: {said}")  # a click on another page is taken here
    if work.done:
        st.rerun()
