"""Cost against coverage: a step line, one mark for each plan, shape and lightness by size."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import altair as alt
import pandas as pd

from planner.plan.plan import Plan
from planner.plan.starved import starved
from planner.report.words import count, money, proof, share
from planner.study.basis import Basis
from planner.study.owning import owning_cost

PICK = "picked"
STAR = "M0,-1L0.588,0.809L-0.951,-0.309L0.951,-0.309L-0.588,0.809Z"
HEXAGON = "M0,-1L0.87,-0.5L0.87,0.5L0,1L-0.87,0.5L-0.87,-0.5Z"
SHAPES = ("circle", "square", "triangle-up", "diamond", "cross", "triangle-down", STAR,
          "triangle-right", HEXAGON, "triangle-left")  # each has an area that can be filled
# All between 0.13 and 0.29 in relative luminance, so that each stands out by 3 : 1 from a light
# and from a dark ground; what tells them apart without colour is the shape.
COLOURS = ("#2f7fc0", "#c06a00", "#a05cc0", "#008f7a", "#d5484a", "#7d8a00", "#c9578f", "#808080")


def curve_frame(plans: Sequence[Plan], basis: Basis | None, pinned: Sequence[Plan]) -> pd.DataFrame:
    """Lay out plans for the chart, cheapest first.

    Returns
    -------
    pandas.DataFrame, shape (plans, 10)
        Number from 1, cost [USD], coverage [%], size, what is known of it, texts for the tip.
    """
    kept = [(plan.cost_usd, plan.coverage) for plan in pinned]
    return pd.DataFrame([{
        "number": number,
        "cost_usd": owning_cost(plan, basis).usd if basis else plan.cost_usd,
        "coverage_percent": 100.0 * plan.coverage,
        "size": plan.supply.generator.label,
        "proof": proof(plan.proof) if basis is None else "not proven for owning cost",
        "price": money(owning_cost(plan, basis).usd if basis else plan.cost_usd,
                       plan.menu.book.currency),
        "coverage": share(plan.coverage),
        "starved": ", ".join(part.label for part in starved(plan)) or "nothing",
        "turns": len(plan.choice.order),
        "pinned": (plan.cost_usd, plan.coverage) in kept,
    } for number, plan in enumerate(plans, start=1)])


def curve_chart(
    frame: pd.DataFrame, chosen: int | None, *, cost_title: str, ink: str = "#12100b",
    goal: float | None = None, budget_usd: float | None = None,
) -> alt.LayerChart:
    """Draw plans by cost and coverage.

    Parameters
    ----------
    frame : pandas.DataFrame
        From `curve_frame`.
    chosen : int or None
        Number of the plan that is shown in full.
    cost_title : str
        What the cost is, with its unit.
    ink : str
        Colour of lines and numbers.
    goal : float, optional
        Coverage to reach, 0-1: a line.
    budget_usd : float, optional
        What may be spent: a line.
    """
    sizes = list(dict.fromkeys(frame["size"]))
    cost = alt.X("cost_usd:Q", title=cost_title, scale=alt.Scale(zero=False, nice=True, padding=30),
                 axis=alt.Axis(format=",.0f"))
    covered = alt.Y("coverage_percent:Q", title="Kept, by importance [%]",
                    scale=alt.Scale(
                        domain=[min(frame["coverage_percent"].min(), 100.0 * (goal or 1.0)) - 2.0,
                                101.0], nice=False))
    line = alt.Chart(frame).mark_line(interpolate="step-after", strokeWidth=1.5, opacity=0.6,
                                      color=ink).encode(x=cost, y=covered)
    legend = alt.Legend(orient="bottom", columns=1, labelLimit=260)
    spoken = frame.apply(_spoken, axis="columns")
    frame = frame.assign(spoken=spoken)
    pick = alt.selection_point(name=PICK, fields=["number"], on="click", empty=False)
    marks = alt.Chart(frame).mark_point(filled=True, size=190, opacity=1.0).encode(
        x=cost, y=covered,
        shape=alt.Shape("size:N", title="Generator", sort=sizes, legend=legend,
                        scale=alt.Scale(domain=sizes, range=_enough(SHAPES, len(sizes)))),
        color=alt.Color("size:N", title="Generator", sort=sizes, legend=legend,
                        scale=alt.Scale(domain=sizes, range=_enough(COLOURS, len(sizes)))),
        tooltip=[alt.Tooltip("number", title="Plan"), alt.Tooltip("size", title="Generator"),
                 alt.Tooltip("price", title="Cost"), alt.Tooltip("coverage", title="Coverage"),
                 alt.Tooltip("proof", title="Proof"),
                 alt.Tooltip("turns", title="Loads that take turns"),
                 alt.Tooltip("starved", title="Would not run")],
        description=alt.Description("spoken:N"),
    ).add_params(pick)
    numbers = alt.Chart(frame).mark_text(dy=-17, fontSize=12, color=ink).encode(
        x=cost, y=covered, text=alt.Text("number:Q"))
    layers = [line, *_goal(goal, budget_usd, ink), marks, numbers]
    for column, size, dash in (("pinned", 420, [3, 2]), ("chosen", 620, [1, 0])):
        ringed = frame[frame["pinned"]] if column == "pinned" else frame[frame["number"] == chosen]
        if len(ringed):
            layers.append(alt.Chart(ringed).mark_point(
                filled=False, shape="circle", size=size, strokeWidth=2, strokeDash=dash,
                color=ink).encode(x=cost, y=covered))
    return alt.LayerChart(layer=layers).properties(height=430, description=_description(frame))


def _goal(goal: float | None, budget_usd: float | None, ink: str) -> list[alt.Chart]:
    if goal is not None:
        at = pd.DataFrame({"coverage_percent": [100.0 * goal]})
        return [alt.Chart(at).mark_rule(strokeDash=[6, 4], strokeWidth=2, color=ink,
                                          description="Goal").encode(
            y=alt.Y("coverage_percent:Q"))]
    if budget_usd is not None:
        at = pd.DataFrame({"cost_usd": [budget_usd]})
        return [alt.Chart(at).mark_rule(strokeDash=[6, 4], strokeWidth=2, color=ink,
                                          description="Budget").encode(
            x=alt.X("cost_usd:Q"))]
    return []


def _spoken(row: pd.Series[Any]) -> str:
    """What a mark says to those who do not see it."""
    return (f"Plan {row['number']}: {row['price']}, coverage {row['coverage']}, {row['size']}, "
            f"would not run: {row['starved']}")


def _enough(kinds: Sequence[str], number: int) -> list[str]:
    return [kinds[place % len(kinds)] for place in range(number)]


def _description(frame: pd.DataFrame) -> str:
    first, last = frame.iloc[0], frame.iloc[-1]
    return (f"Cost against coverage, {count(len(frame), 'plan')}: from {first['price']} with "
            f"{first['coverage']} ({first['size']}) to {last['price']} with {last['coverage']} "
            f"({last['size']}).")
