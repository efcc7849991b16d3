"""Quotes that went out: kept as they were, with the price book of their day."""

from __future__ import annotations

import json
import time

import streamlit as st

from planner.jobs.content import Quote
from planner.report.confidence_words import confidence_sentences
from planner.report.data import single_data
from planner.report.words import money
from planner.study.recommend import Recommendation
from ui.answers import Case, confidence, recommended_before
from ui.keeping import day_and_time
from ui.parts.ready import known_case
from ui.parts.said import aside, plain, say
from ui.session import Session


def show_quotes(found: Session) -> None:
    """List the quotes, and offer to keep the recommended plan as one."""
    job = found.keeper.job
    quotes = job.quotes if job else ()
    for number, one in enumerate(quotes, start=1):
        what, open_, plan = st.columns([5, 2, 2], vertical_alignment="center")
        what.markdown(f"**{day_and_time(one.at_s)}** · {plain(one.sentence)}")
        open_.button("Open as it was", key=f"quote {number}", width="stretch",
                     on_click=found.open_quote, args=(one,),
                     help="A job of its own with the home and the price book of that day")
        plan.download_button("Save its plan", one.plan, f"quote_{number}_plan.json",
                             "application/json", on_click="ignore", key=f"plan of {number}",
                             width="stretch")
    case = known_case(found)
    known = recommended_before(case) if case is not None else None
    if case is None or known is None:
        aside("Once a plan is found, on the other pages, it can be kept here as it goes out to the "
              "customer.")
        return
    sure = confidence(case, known).value
    say(*(confidence_sentences(sure)[:1] if sure is not None else ()))
    st.button("Keep the recommended plan as it goes out", key="keep quote",
              on_click=lambda: found.keeper.add_quote(quote_of(case, known)),
              help="Home, price book and plan stay as they are now, whatever changes later.")


def quote_of(case: Case, known: Recommendation) -> Quote:
    """The recommended plan as it goes out now."""
    plan, goal = known.plan, case.session.goal
    said = f"{plan.supply.generator.label}, {money(plan.cost_usd, plan.menu.book.currency)}"
    data = single_data(case.home, case.book, known,
                       goal.coverage if goal.by == "coverage" else None, of_its_size=False)
    return Quote(time.time(), said, plan.cost_usd, case.session.home, case.session.book,
                 json.dumps(data, indent=1))
