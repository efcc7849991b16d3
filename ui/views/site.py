"""The site: what the place asks of the recommended plan, what that costs, what is missing."""

from __future__ import annotations

import streamlit as st

from planner.case.text import parse_toml
from planner.errors import CaseError
from planner.plan.plan import Plan
from planner.plan.site.findings import site_findings
from planner.report.site.words import site_sentence, todo_sentences, works_sentence
from planner.report.tables.site import site_table
from planner.site.sheet.rows import Group
from planner.site.sheet.sheet import site_sheet
from planner.study.recommend import Recommendation
from ui.answers import recommended
from ui.parts.cautions import show_cautions
from ui.parts.drawings import show_drawings
from ui.parts.findings import show_findings, show_problem
from ui.parts.frame import begin
from ui.parts.next_step import show_next
from ui.parts.plan_view import show_headline
from ui.parts.ready import what_can_be_planned
from ui.parts.said import plain, points, say
from ui.parts.sheets.site_fields import show_site_fields
from ui.parts.tables import show_table
from ui.parts.waiting import show_answer
from ui.readings import home_of


def show() -> None:
    """Draw the page."""
    found = begin("The site", "what does the place ask for, and what does it cost?")
    if found.has_home:
        try:
            parse_toml(found.home_text, found.home_name)
        except CaseError as problem:
            show_problem(problem)
            return
        reading = home_of(found)
        show_site_fields(found, reading, is_open=reading.facts is not None
                         and reading.facts.site is None)
    case = what_can_be_planned(found)
    if case is None:
        return
    show_answer(recommended(case), "The recommended plan", _show)
    show_next("views/options.py", "Next: the options")
    show_cautions(case.book)


def _show(known: Recommendation) -> None:
    plan = known.plan
    sheet = site_sheet(plan)
    show_headline(plan)
    say(works_sentence(plan))
    if plan.menu.house.home.site is None:
        st.info("Nothing is known of the place: neither checked nor in the price. Fill in above "
                "what you know.")
    else:
        show_findings(site_findings(plan))
    st.subheader(plain(site_sentence(sheet).capitalize()), anchor=False)
    for group in sheet.groups:
        _show_group(plan, group)
    show_drawings(plan, sheet)


def _show_group(plan: Plan, group: Group) -> None:
    wrong = sum(row.status == "not ok" for row in group.rows)
    lacking = sum(row.status == "missing" for row in group.rows)
    said = ", ".join(text for text in (f"{wrong} not ok" if wrong else "",
                                       f"{lacking} missing" if lacking else "") if text)
    with st.expander(f"{group.title}: {said or 'nothing missing'}", expanded=bool(wrong)):
        show_table(site_table(group), key=f"site {plan.supply.generator.id} {group.key}")
        points(todo_sentences(group))


show()
