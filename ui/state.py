"""The only file that touches Streamlit's session state: the visitor's session, and widgets."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import streamlit as st

from planner.jobs.project import is_project
from ui.demos import given_home
from ui.keeping import origin_of
from ui.presence import presence
from ui.session import Session
from ui.work import Desk

KEY = "on the table"
IN_ADDRESS = "job"  # the job, in the address of a page


def session() -> Session:
    """Give the visitor's session, a new one on the first visit."""
    if KEY not in st.session_state:
        st.session_state[KEY] = _begun()
    found = st.session_state[KEY]
    if not isinstance(found, Session):
        message = f"The state holds {type(found).__name__} where the session belongs."
        raise TypeError(message)
    return found


def _begun() -> Session:
    """Go on with the job that the address names, else that of the file that was given, or the last.

    A file that is as it was when a job began with it is that job.
    """
    begun = Session(desk=Desk(presence(), give_way))
    name, text = given_home()
    origin = origin_of(name, text) if text else None
    known = begun.keeper.last(st.query_params.get(IN_ADDRESS), origin)
    if known is not None:
        begun.take(known)
    elif text and is_project(text):
        begun.open_project(text, name)
    elif text:
        begun.open_home(name, text, origin or "")
    return begun


def give_way() -> None:
    """Let a page that waits be drawn anew, or another one be drawn, if the visitor asked for it.

    Looking at the state is where the server takes such a wish. Left until the waiting is over, a
    click on another page can get lost: what watches progress on this page asks for this page, and
    of wishes that pile up the last one wins.
    """
    _ = KEY in st.session_state


def widget(key: str) -> Any:  # noqa: ANN401
    """Give the value of a widget; None before it is drawn."""
    return st.session_state.get(key)


def bound(key: str, value: object) -> str:
    """Set a widget to the truth before it is drawn, and give back its key."""
    st.session_state[key] = value
    return key


def heard(key: str, take: Callable[[Any], None]) -> Callable[[], None]:
    """Make a callback that hands the new value of a widget on."""
    return lambda: take(widget(key))
