"""Three plans to begin a talk with."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from planner.plan.plan import Plan
from planner.plan.starved import starved
from planner.report.family_comforts import differs_sentences
from planner.report.family_words import PICKED
from planner.report.plan_words import left_off, room_sentence, taking_turns
from planner.report.starved import poor_sentences, starving_sentence
from planner.report.words import count, money, share
from planner.search.frontier import Frontier
from planner.study.picks import Pick, picks, three_of
from planner.study.recommend import Recommendation
from ui.answers import Case, key_of, recommended, reference
from ui.parts.said import aside, plain, say
from ui.state import Session


def options(case: Case, plans: Frontier) -> list[Pick]:
    """The three options of a home."""
    known = recommended(case).value
    return three_of(picks(plans.points, known.plan if known else None, reference(case).value))


def show_options(three: list[Pick], said: Callable[[Plan], tuple[str, ...]]) -> None:
    """Draw the options as cards; `said` gives the sentences about each."""
    for place, pick in zip(st.columns(len(three)), three, strict=True):
        plan = pick.plan
        with place.container(border=True):
            st.markdown(f"**{plain(PICKED[pick.name])}**")
            st.markdown(f"### {plain(money(plan.cost_usd, plan.menu.book.currency))}")
            st.markdown(plain(plan.supply.generator.label))
            aside(*said(plan))
            if starved(plan):
                names = ", ".join(part.label for part in starved(plan))
                st.markdown(f"**▲ Would not run: {plain(names)}**")
            for sentence in poor_sentences(plan):
                st.markdown(f"**▲** {plain(sentence)}")


def show_starving(case: Case, known: Recommendation) -> None:
    """Tell of the cheaper plan that leaves something without a turn, and let it be chosen."""
    found = case.session
    if known.starving is not None:
        say(starving_sentence(known.starving, known.plan))
        st.button("Use the cheaper plan anyway", key="take starving",
                  on_click=found.set_goal, kwargs={"none_starved": False})
    elif not found.goal.none_starved:
        st.button("Recommend only plans in which everything that matters runs", key="take fed",
                  on_click=found.set_goal, kwargs={"none_starved": True})


def in_brief(plan: Plan) -> tuple[str, ...]:
    """Say what a plan does, for an estimator: what is not as usual, what takes turns."""
    off = left_off(plan)
    return (*differs_sentences(plan), f"Coverage {share(plan.coverage)}; "
            f"{count(len(taking_turns(plan)), 'load takes', 'loads take')} turns, "
            f"{count(len(off), 'is', 'are') if off else 'none is'} not on standby power.",
            room_sentence(plan))


def show_pin_button(found: Session, three: list[Pick]) -> None:
    """Draw a button that pins all options."""

    def pin_all() -> None:
        for pick in three:
            found.pin(key_of(pick.plan))

    st.button("Pin these for the comparison", key="pin options", on_click=pin_all,
              disabled=all(key_of(pick.plan) in found.pins for pick in three))
