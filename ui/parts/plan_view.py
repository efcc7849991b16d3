"""One plan on a page: what its comforts are like, what takes turns, what is off, the price."""

from __future__ import annotations

import streamlit as st

from planner.plan.average import average_of
from planner.plan.plan import LoadPlan, Plan
from planner.report.code_words import wiring_sentences
from planner.report.plan_words import (
    always_on,
    average_sentence,
    bearing_sentences,
    calculated_sentence,
    capacity_sentence,
    left_off_words,
    proof_words,
    taking_turns,
    tight_sentence,
    turn_sentence,
)
from planner.report.starved import poor_sentences, starved_sentences
from planner.report.tables.plan import WAITS_OF_A_PLAN, load_table, price_table
from planner.report.words import money, rating, share
from ui.parts.comforts import show_comforts
from ui.parts.plan_demand import show_plan_demand
from ui.parts.said import aside, plain, points, strong
from ui.parts.tables import show_table

KEPT = "Coverage: the share of the comforts that is kept, by importance; 100 % is as usual."


def show_headline(plan: Plan) -> None:
    """Write what a plan is and costs in a few large figures."""
    supply = plan.supply
    st.markdown(f"### {plain(supply.generator.label)}")
    st.markdown(f"#### {plain(money(plan.cost_usd, plan.menu.book.currency))} installed, "
                f"{plain(share(plan.coverage))} kept", help=KEPT)
    aside(f"Rating at this site {rating(supply.derated_kw)} kW, {plan.price.transfer.label}")
    for sentence in warnings_of(plan):
        st.warning(f"**▲** {plain(sentence)}")


def warnings_of(plan: Plan) -> tuple[str, ...]:
    """Say what an estimator has to know before this plan is sold."""
    average = "" if average_of(plan).is_kept else average_sentence(plan)
    return tuple(one for one in (tight_sentence(plan), average, *wiring_sentences(plan)) if one)


def show_price(plan: Plan, key: str) -> None:
    """Draw the price of a plan, line by line."""
    show_table(price_table(plan), key=f"{key} price")
    aside(f"Total {money(plan.cost_usd, plan.menu.book.currency)}.")


def show_margin(plan: Plan, key: str) -> None:
    """Say what a plan can carry and bear, how good it is known to be, and what the code asks."""
    points([capacity_sentence(plan), calculated_sentence(plan), *bearing_sentences(plan)])
    if plan.proof.bound is not None:
        aside(f"Proof: {proof_words(plan)}.")
    show_plan_demand(plan, key)


def show_loads(plan: Plan, key: str) -> None:
    """Draw what each comfort and each load of a plan gets."""
    show_comforts(plan, key)
    show_groups(plan)
    show_table(load_table(plan), key=f"{key} loads")
    aside(WAITS_OF_A_PLAN)


def show_groups(plan: Plan) -> None:
    """Say which loads are always on, take turns, or are off."""
    on, turns, off = always_on(plan), taking_turns(plan), left_off_words(plan)
    by_hand = tuple(part for part in plan.loads if part.connection == "by hand")
    strong("Always on")
    st.markdown(_names(on) or "Nothing.")
    strong("Take turns, in this order" if turns else "Takes turns")
    if turns:
        st.markdown("\n".join(f"{place}. {plain(turn_sentence(plan, part))}"
                              for place, part in enumerate(turns, start=1)))
    else:
        st.markdown("Nothing.")
    if by_hand:
        strong("Switched off by hand")
        st.markdown(_names(by_hand))
    strong("Not on standby power")
    st.markdown(", ".join(plain(one) for one in off) or "Nothing is left off.")


def show_starved(plan: Plan) -> None:
    """Warn of loads that get next to nothing."""
    for sentence in (*starved_sentences(plan), *poor_sentences(plan)):
        st.warning(f"**▲** {plain(sentence)}")


def _names(parts: tuple[LoadPlan, ...]) -> str:
    return ", ".join(plain(part.label) for part in parts)
