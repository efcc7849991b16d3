"""Cost against coverage on the page of the options: a mark for every plan, to click."""

from __future__ import annotations

from collections.abc import Mapping

import streamlit as st

from planner.jobs.content import PlanKey
from planner.plan.plan import Plan
from planner.report.choice_words import CALLED
from planner.report.tables.points import point_table
from planner.search.frontier import Frontier
from planner.study.options import Option, OptionName
from ui.answers import Case, curve_so_far, key_of, of_size
from ui.charts.curve import PICK, curve_chart, curve_frame
from ui.parts.drawing import draw, ink
from ui.parts.patience import show_patience
from ui.parts.said import aside
from ui.parts.tables import show_table
from ui.parts.waiting import show_answer
from ui.state import widget
from ui.work import Answer

OF_OWNING = ("These are the plans that no other beats on owning cost, among those that no plan of "
             "their own size beats on installed cost. The proof is about installed cost.")


def show_curve(
    case: Case, plans: Answer[Frontier], known: Mapping[OptionName, Option], chosen: Plan
) -> None:
    """Draw the curve, or how far the work on it is with what was found so far."""
    with st.container(key="curve-place"):
        show_answer(plans, "Cost against coverage",
                    lambda value: _show_chart(case, value, known, chosen))
        if plans.value is None and plans.work is not None and plans.work.found:
            st.caption("Found so far; others may beat these.")
            show_table(point_table(curve_so_far(plans.work)), key="so far")


def _show_chart(
    case: Case, plans: Frontier, known: Mapping[OptionName, Option], chosen: Plan
) -> None:
    found = case.session
    pinned = [plan for plan in (of_size(case, found.pins).value or ()) if plan is not None]
    goal, basis = found.goal, found.basis
    frame = curve_frame(plans.points, basis, pinned,
                        {CALLED[name]: one.plan for name, one in known.items()})
    keys = {int(row["number"]): PlanKey(str(row["generator"]), float(row["kept"]))
            for row in frame.to_dict("records")}
    shown = next((number for number, key in keys.items() if key == key_of(chosen)), None)
    chart = curve_chart(
        frame, shown, ink=ink(),
        cost_title="Owning cost [USD]" if basis else "Installed cost [USD]",
        goal=goal.coverage if goal.by == "coverage" else None,
        budget_usd=goal.budget_usd if goal.by == "budget" and basis is None else None)

    def picked() -> None:
        rows = (widget("curve") or {}).get("selection", {}).get(PICK) or []
        if rows:
            found.picked = found.outage_plan = keys[int(rows[0]["number"])]

    draw(chart, "curve", select=(PICK, picked))
    st.caption("Ring: chosen. Broken line: the goal. Click a mark to choose it.")
    if basis is None:
        show_patience(found, plans)
    else:
        aside(OF_OWNING)
