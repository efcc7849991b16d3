"""The plans to choose from as cards: what each is, costs, and lets wait; a button to choose it."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from planner.facts.home import Home
from planner.jobs.content import PlanKey
from planner.report.choice_words import (
    CALLED,
    against_recommended,
    card_sentences,
    dropped_phrases,
    why_missing,
    would_not_run,
)
from planner.report.confidence_words import holds_in
from planner.report.words import money
from planner.study.options import Option, OptionName, Options
from ui.answers import key_of
from ui.parts.said import aside, plain, strong
from ui.session import Session

ORDER: tuple[OptionName, ...] = ("cheaper", "recommended", "everything", "nothing waits")
COMING = "Being looked for."


def show_cards(
    found: Session, home: Home, known: Mapping[OptionName, Option], ways: Options | None,
    chosen: PlanKey | None,
) -> None:
    """Draw four places, equally high: a card in each, or what is coming, or why there is none.

    Parameters
    ----------
    found : Session
    home : Home
        The family's.
    known : mapping
        The options that are known by now, at least the recommended one.
    ways : Options or None
        All of them, once they are known; until then nothing can be chosen.
    chosen : PlanKey or None
        The chosen plan.
    """
    why = why_missing(ways) if ways is not None else {}
    with st.container(key="cards"):
        for name, place in zip(ORDER, st.columns(len(ORDER)), strict=True):
            with place:
                if name in known:
                    _show_card(found, home, known[name], known, ways is not None, chosen)
                else:
                    _show_gap(name, why.get(name, COMING))


def show_options(found: Options, home: Home) -> None:
    """Draw the cards for the family: nothing to choose, no word on houses like this."""
    for option, place in zip(found.cards, st.columns(len(found.cards)), strict=True):
        with place.container(border=True, height="stretch"):
            _show_option(option, found.recommended, home)


def _show_gap(name: OptionName, why: str) -> None:
    state = "waiting" if why == COMING else "without"
    with st.container(border=True, height="stretch", key=f"{state}-{name}"):
        st.caption(f"**{plain(CALLED[name])}**")
        aside(why)


def _show_card(
    found: Session, home: Home, option: Option, known: Mapping[OptionName, Option], sure: bool,
    chosen: PlanKey | None,
) -> None:
    mine = key_of(option.plan)
    state = "chosen" if chosen == mine and sure else "card" if sure else "waiting"
    with st.container(border=True, height="stretch", key=f"{state}-{option.name}"):
        with st.container(height="stretch", gap="xsmall"):
            _show_option(option, known["recommended"], home)
            if option.confidence is not None:
                aside(f"{holds_in(option.confidence).capitalize()}.")
        choose(found, option, disabled=not sure, chosen=chosen == mine)


def choose(found: Session, option: Option, *, disabled: bool, chosen: bool) -> None:
    """Draw the button that chooses an option; the recommended one follows the goal again."""
    point = None if option.name == "recommended" else key_of(option.plan)

    def take() -> None:
        found.picked = found.outage_plan = point

    st.button("Chosen" if chosen else f"Choose “{CALLED[option.name].lower()}”",
              key=f"choose {option.name}", on_click=take, disabled=disabled or chosen,
              width="stretch")


def _show_option(option: Option, recommended: Option, home: Home) -> None:
    plan = option.plan
    strong(CALLED[option.name])
    st.markdown(f"### {plain(money(plan.cost_usd, plan.menu.book.currency))}")
    st.markdown(plain(plan.supply.generator.label))
    more = against_recommended(option, recommended)
    if more:
        strong(more)
    for phrase in dropped_phrases(option, home):
        st.markdown(f"**▲ Drops {plain(phrase)}**")
    if would_not_run(option):
        st.markdown(f"**▲ {plain(would_not_run(option))}**")
    aside(*card_sentences(option, recommended))
