"""Plans to begin a talk with, and the sizes that they are held against."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from planner.plan.plan import Plan
from planner.plan.starved import starved
from planner.report.choice_words import CALLED, air_cooled_sentence, given_up_sentence
from planner.report.comforts.family_comforts import differs_sentences
from planner.report.confidence_words import confidence_sentences, holds_in, of_100
from planner.report.plan_words import left_off, taking_turns
from planner.report.starved import starving_sentence
from planner.report.words import count, money, share
from planner.study.confidence import TO_QUOTE
from planner.study.options import Option, Options
from planner.study.recommend import Recommendation
from planner.study.reference import ShedsNothing
from ui.answers import Case, key_of
from ui.parts.said import aside, plain, say, strong
from ui.session import Session


def show_options(
    found: Options, said: Callable[[Plan], tuple[str, ...]], held: Callable[[ShedsNothing], str], *,
    sure: bool = False,
) -> None:
    """Draw the options as cards; `said` gives the sentences about each, `held` the reference's.

    `sure`: whether to say in how many houses each holds, which is for an estimator.
    """
    reference, currency = found.sheds_nothing, found.choices[0].plan.menu.book.currency
    cards: list[Option | ShedsNothing] = [*found.choices,
                                          *([] if reference is None else [reference])]
    for place, card in zip(st.columns(len(cards)), cards, strict=True):
        with place.container(border=True):
            if isinstance(card, ShedsNothing):
                _show_reference(card, currency, held)
            else:
                _show_option(card, said)
                if sure and card.confidence is not None:
                    aside(f"It {holds_in(card.confidence)}.")


def _show_option(option: Option, said: Callable[[Plan], tuple[str, ...]]) -> None:
    plan = option.plan
    st.markdown(f"**{plain(CALLED[option.name])}**")
    st.markdown(f"### {plain(money(plan.cost_usd, plan.menu.book.currency))}")
    st.markdown(plain(plan.supply.generator.label))
    if option.given_up:
        st.markdown(f"**▲** {plain(given_up_sentence(option))}")
    aside(*said(plan))
    if starved(plan):
        names = ", ".join(part.label for part in starved(plan))
        st.markdown(f"**▲ Would not run: {plain(names)}**")


def _show_reference(
    found: ShedsNothing, currency: str, held: Callable[[ShedsNothing], str]
) -> None:
    st.markdown(f"**{plain(CALLED['nothing waits' if found.nothing_waits else 'by the code'])}**")
    st.markdown(f"### {plain(money(found.cost_usd, currency))}")
    st.markdown(plain(found.generator.label))
    aside(held(found))


def show_air_cooled(found: Options) -> None:
    """Say in a line what the largest air-cooled size would cost, if it reaches the goal."""
    if found.air_cooled is not None:
        aside(air_cooled_sentence(found.air_cooled))


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


def show_sturdy(case: Case, sure: Recommendation) -> None:
    """Say how well the plan stands what is assumed, and let one be asked for that stands it."""
    found, lines = case.session, confidence_sentences(sure)
    if not lines:
        return
    strong(lines[0])
    aside(*lines[1:])
    if found.goal.sturdy:
        st.button("The cheapest in the house as it is assumed", key="take cheapest",
                  on_click=found.set_goal, kwargs={"sturdy": False})
    elif found.goal.by == "coverage" and sure.confidence and sure.confidence.share < TO_QUOTE:
        st.button(f"Look for one that holds in {of_100(TO_QUOTE)}", key="take sturdy",
                  on_click=found.set_goal, kwargs={"sturdy": True})


def in_brief(plan: Plan) -> tuple[str, ...]:
    """Say what a plan does, for an estimator: what is not as usual, what takes turns."""
    off = left_off(plan)
    left = (f", {count(len(off), 'is', 'are')} not on standby power" if off else
            "; every load is connected")
    return (*differs_sentences(plan), f"{share(plan.coverage)} kept; "
            f"{count(len(taking_turns(plan)), 'load takes', 'loads take')} turns{left}.")


def show_pin_button(found: Session, options: Options) -> None:
    """Draw a button that pins all options that give up nothing."""
    plans = [option.plan for option in options.choices if not option.given_up]

    def pin_all() -> None:
        for plan in plans:
            found.pin(key_of(plan))

    st.button("Pin these for the comparison", key="pin options", on_click=pin_all,
              disabled=all(key_of(plan) in found.pins for plan in plans))
