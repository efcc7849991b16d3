"""Priority order: the one that was found with its reasons, and one of the visitor's own."""

from __future__ import annotations

import streamlit as st

from planner.editing.values import edited
from planner.plan.plan import Plan
from planner.report.order_words import order_sentences
from planner.report.plan_words import taking_turns, turn_sentence
from planner.report.words import instead_of
from planner.study.own_order import OwnOrder, as_wishes, in_own_order
from planner.study.recommend import Recommendation
from ui.answers import Case, reasons
from ui.parts.order_list import order_list
from ui.parts.said import plain, points
from ui.parts.waiting import show_answer


def show_order(case: Case, known: Recommendation) -> None:
    """Draw both orders side by side."""
    plan = known.plan
    turns = taking_turns(plan)
    if not turns:
        return
    place = st.expander("Priority order: why this one, and one of your own")
    ours, own = place.columns(2, gap="large")
    with ours:
        st.subheader("Why this order was found", anchor=False)
        show_answer(reasons(case, known), "Why this order",
                    lambda found: points(order_sentences(plan, found, known.coverage,
                                                         known.cheapest)))
    with own:
        _show_own(case, plan)


def _show_own(case: Case, plan: Plan) -> None:
    found = case.session
    labels = {part.id: part.label for part in taking_turns(plan)}
    ids = found.own_order if sorted(found.own_order) == sorted(labels) else tuple(labels)
    st.subheader("Try an order of your own", anchor=False)
    st.caption("Drag, use the arrows, or Alt with the arrow keys.")

    def take(order: tuple[str, ...]) -> None:
        found.own_order = order

    order_list(ids, [labels[one] for one in ids], take, f"own order {' '.join(labels)}")
    if ids == tuple(labels):
        st.markdown("This is the order that was found.")
        return
    _show_tried(plan, in_own_order(plan, ids))

    def back() -> None:
        found.own_order = ()

    def keep() -> None:
        among = set(ids)
        kept = [pair for pair in case.home.never_before if not among.issuperset(pair)]
        pairs = [list(pair) for pair in (*kept, *as_wishes(ids))]
        found.edit_home(lambda text: edited(text, {("wishes", "never_before"): pairs}))
        found.own_order = ()

    left, right = st.columns(2)
    left.button("Back to the order that was found", key="order back", on_click=back,
                width="stretch")
    right.button("Keep this order as a wish", key="order keep", on_click=keep, width="stretch",
                 help="Replaces the wishes about who never goes ahead of whom among these loads.")


def _show_tried(plan: Plan, tried: OwnOrder) -> None:
    if tried.plan is None:
        st.error(f"**✖** This order does not work: {plain(tried.refusal)}")
        return
    text = ("With this order the same equipment keeps "
            f"{instead_of(tried.plan.coverage, plan.coverage)}.")
    (st.warning if tried.plan.coverage < plan.coverage else st.success)(text)
    points([turn_sentence(tried.plan, part) for part in taking_turns(tried.plan)])
