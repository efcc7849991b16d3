"""What every page begins with: its title and its question."""

from __future__ import annotations

import streamlit as st

from ui.parts.said import plain
from ui.readings import home_of
from ui.state import Session, session


def begin(title: str, question: str) -> Session:
    """Write the title of a page and the question that it answers."""
    found = session()
    st.title(title, anchor=False)
    if found.has_home:
        facts = home_of(found).facts
        name = facts.label if facts else found.home_name
        st.caption(f"{plain(name)} — {question}")
    else:
        st.caption(f"{question[:1].upper()}{question[1:]}")
    return found
