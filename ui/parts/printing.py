"""A button that prints the page."""

from __future__ import annotations

import streamlit as st

_CSS = """
button { min-height: 2.5rem; padding: 0 1rem; font: inherit; cursor: pointer;
         color: var(--st-text-color); background: var(--st-background-color);
         border: 1px solid var(--st-border-color); border-radius: var(--st-button-radius); }
button:focus-visible { outline: 3px solid var(--st-primary-color); }
"""
_JS = """
export default function ({ parentElement }) {
  parentElement.querySelector("button").onclick = () => window.print();
}
"""
_component = st.components.v2.component(
    "standby-planner print button", html='<button type="button">Print this page</button>',
    css=_CSS, js=_JS)


def show_print_button() -> None:
    """Draw the button."""
    _component(key="print")

