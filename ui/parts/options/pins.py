"""The pinned plans: which they are, and how to let them go."""

from __future__ import annotations

import streamlit as st

from planner.jobs.content import PlanKey
from planner.plan.plan import Plan
from planner.report.words import money, share
from ui.answers import Case, of_size
from ui.parts.said import plain
from ui.parts.waiting import show_answer
from ui.session import MOST_PINS


def show_pins(case: Case) -> None:
    """Draw the pinned plans."""
    pins = case.session.pins
    st.markdown(f"**Pinned for the comparison: {len(pins)} of {MOST_PINS}**")
    if not pins:
        st.caption("Nothing yet.")
        return
    show_answer(of_size(case, pins), "The pinned plans", lambda plans: _list(case, pins, plans))


def _list(case: Case, pins: tuple[PlanKey, ...], plans: tuple[Plan | None, ...]) -> None:
    labels = {one.id: one.label for one in case.book.generators}
    for point, plan in zip(pins, plans, strict=False):
        line = st.container(horizontal=True, vertical_alignment="center")
        size = labels.get(point.generator, point.generator)
        line.markdown(plain(
            f"{size}: no longer has a plan." if plan is None else
            f"{size}: {money(plan.cost_usd, case.book.currency)}, {share(plan.coverage)}."))
        line.button("Unpin", key=f"unpin {point.generator} {point.coverage}",
                    on_click=case.session.unpin, args=(point,))
