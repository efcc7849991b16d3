"""Options: which one, and why not the others."""

from __future__ import annotations

import streamlit as st

from planner.plan.plan import Plan
from planner.report.choice_words import (
    beside_sentences,
    in_a_sentence,
    reference_sentence,
    saving_sentence,
    spend_sentence,
)
from planner.report.tables.hours import hardest_day
from planner.search.frontier import Frontier
from planner.study.options import Option, OptionName, Options
from planner.study.recommend import Recommendation
from ui.answers import (
    Case,
    choices,
    curve,
    curve_shown,
    key_of,
    options_so_far,
    recommended,
    reference,
)
from ui.parts.cautions import show_cautions
from ui.parts.findings import show_problem
from ui.parts.frame import begin
from ui.parts.goal import show_goal_button
from ui.parts.options.cards import show_cards
from ui.parts.options.compared import compared, show_all_compared, show_comforts_compared
from ui.parts.options.curve import show_curve
from ui.parts.options.day import show_day, show_day_in_full
from ui.parts.options.folds import (
    show_cost_of_owning,
    show_every_plan,
    show_names,
    show_other_sizes,
    show_smaller,
)
from ui.parts.plan_view import show_loads, show_margin, show_price
from ui.parts.ready import what_can_be_planned
from ui.parts.said import aside, plain, say
from ui.parts.waiting import show_coming
from ui.work import Answer

KnownOptions = dict[OptionName, Option]


def show() -> None:
    """Draw the page."""
    with st.container(key="options"):
        found = begin("Options", "which one, and why not the others?")
        case = what_can_be_planned(found)
        if case is None:
            return
        first, goal = st.columns([3, 1], vertical_alignment="center")
        with goal, st.container(horizontal=True, horizontal_alignment="right"):
            show_goal_button(found, case.book.currency)
        answer = recommended(case)
        if answer.error is not None:
            show_problem(answer.error)
        ways = choices(case) if answer.work is None else Answer[Options](None)
        with first:
            _show_first_line(case, answer, ways)
        _show_answer(case, answer, ways)
        show_cautions(case.book)


def _show_answer(case: Case, answer: Answer[Recommendation], ways: Answer[Options]) -> None:
    settled = ways.value if ways.settled else None
    known = _known(case, answer, ways)
    if "recommended" not in known:
        _show_beside(answer, ways)
        return
    chosen = _chosen(case, known)
    if ways.work is None:
        show_cards(case.session, case.home, known, settled, key_of(chosen))
    else:
        _show_growing(case, answer, ways)
    _show_beside(answer, ways)
    named = compared(case, known)
    left, right = st.columns([2, 3], gap="large")
    with right:
        show_comforts_compared(case, named)
    with left:
        plans = curve(case)
        show_curve(case, plans, known, chosen)
    show_day(case, chosen)
    _show_folds(case, answer, ways, chosen, named, plans.value)


@st.fragment(run_every=0.4)
def _show_growing(
    case: Case, answer: Answer[Recommendation], ways: Answer[Options]
) -> None:
    """Draw the cards while they are being found: each appears in its place."""
    known = _known(case, answer, ways)
    show_cards(case.session, case.home, known, None, key_of(known["recommended"].plan))


def _known(case: Case, answer: Answer[Recommendation], ways: Answer[Options]) -> KnownOptions:
    """The options by name as far as they are known, cards first."""
    if ways.settled and ways.value is not None:
        cards, air = ways.value.cards, ways.value.air_cooled
        more = (air,) if air is not None and not any(one.is_same(air) for one in cards) else ()
        return {one.name: one for one in (*cards, *more)}
    found: KnownOptions = {}
    if answer.value is not None:
        plan = answer.value.plan
        found["recommended"] = Option("recommended", case.home, plan, (), answer.value.confidence)
        last = reference(case).value
        if last is not None:
            found["nothing waits"] = Option("nothing waits", case.home, last)
    return found | {one.name: one for one in options_so_far(ways)}


def _chosen(case: Case, known: KnownOptions) -> Plan:
    """The plan that was picked if it is still there, else the recommended one."""
    cards, points = [one.plan for one in known.values()], list(curve_shown(case))
    plans = cards + points if case.session.basis is None else points + cards
    return next((plan for plan in plans if key_of(plan) == case.session.picked),
                known["recommended"].plan)


def _show_first_line(
    case: Case, answer: Answer[Recommendation], ways: Answer[Options]
) -> None:
    known = _known(case, answer, ways)
    last = known.get("nothing waits")
    if ways.settled and ways.value is not None:
        st.markdown(f"#### {plain(in_a_sentence(ways.value))}")
    elif "recommended" in known:
        said = saving_sentence(known["recommended"].plan, last.plan if last else None)
        st.markdown(f"#### {plain(said)}")
    budget = case.session.can_spend_usd
    if budget is not None and "recommended" in known:
        aside(spend_sentence(known["recommended"].plan, budget))


def _show_beside(answer: Answer[Recommendation], ways: Answer[Options]) -> None:
    """What stands beside the cards; in its place, until that is known, how far the work is."""
    with st.container(key="beside"):
        if ways.settled and ways.value is not None:
            aside(" ".join(beside_sentences(ways.value)))
        else:
            show_coming((answer, "The recommended plan"), (ways, "The options"))


def _show_folds(
    case: Case, answer: Answer[Recommendation], ways: Answer[Options], chosen: Plan,
    named: dict[str, Plan], plans: Frontier | None,
) -> None:
    settled = ways.value if ways.settled else None
    left, middle, right = st.columns(3, gap="large")
    with left, st.expander("Why not smaller", type="compact"):
        if answer.value is not None and answer.settled and ways.work is None:
            show_smaller(case, answer.value)
    with middle:
        with st.expander("Owning cost", expanded=case.session.basis is not None, type="compact"):
            show_cost_of_owning(case.session, chosen)
        with st.expander("Every plan of the curve", type="compact"):
            if plans is not None:
                show_every_plan(case, plans)
    with right:
        with st.expander("Compare other sizes", type="compact"):
            show_other_sizes(case, chosen, settled)
        with st.expander("Safety margin, proof, calculated load", type="compact"):
            show_margin(chosen, "shown")
            if settled is not None and settled.sheds_nothing is not None:
                say(reference_sentence(settled.sheds_nothing, case.book.currency))
    with st.expander("Price, line by line", type="compact"):
        show_price(chosen, "shown")
    with st.expander("The chosen plan, comfort by comfort and load by load", type="compact"):
        show_loads(chosen, "shown")
        days = {day.id: day for day in case.home.days}
        show_day_in_full(chosen, days.get(case.session.outage.day) or hardest_day([chosen]))
    with st.expander("Option by option: every change, load by load, hour by hour", type="compact"):
        show_names(named)
        show_all_compared(case, named, chosen)


show()
