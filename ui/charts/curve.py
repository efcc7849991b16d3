"""Cost against coverage: a step line, one mark for each plan, shape and lightness by size."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import altair as alt
import pandas as pd

from planner.plan.plan import Plan
from planner.plan.starved import starved
from planner.report.choice_words import CALLED, size_of
from planner.report.words import count, money, proof, share
from planner.study.basis import Basis
from planner.study.owning import owning_cost
from ui.charts.outage import FIT
from ui.charts.places import Span, places_of, span_of

PICK = "picked"
HEIGHT_PX, NARROWEST_PX = 215.0, 380.0  # of the chart; labels have room from this width on
LAST = CALLED["nothing waits"]
FAR, LEAST_SPAN = 5.0, 0.05  # of the span of the others; their least span, of the dearest
STAR = "M0,-1L0.588,0.809L-0.951,-0.309L0.951,-0.309L-0.588,0.809Z"
HEXAGON = "M0,-1L0.87,-0.5L0.87,0.5L0,1L-0.87,0.5L-0.87,-0.5Z"
SHAPES = ("circle", "square", "triangle-up", "diamond", "cross", "triangle-down", STAR,
          "triangle-right", HEXAGON, "triangle-left")  # each has an area that can be filled
# All between 0.13 and 0.29 in relative luminance, so that each stands out by 3 : 1 from a light
# and from a dark ground; what tells them apart without colour is the shape.
COLOURS = ("#2f7fc0", "#c06a00", "#a05cc0", "#008f7a", "#d5484a", "#7d8a00", "#c9578f", "#808080")


def curve_frame(
    plans: Sequence[Plan], basis: Basis | None, pinned: Sequence[Plan],
    named: Mapping[str, Plan] | None = None,
) -> pd.DataFrame:
    """Lay out plans for the chart, cheapest first, then those with a name that stand beside them.

    Returns
    -------
    pandas.DataFrame, shape (plans, 16)
        Number from 1, generator, coverage (0-1, to a billionth), cost [USD], coverage [%], size,
        what is known of it, texts for the tip, its name if it has one, whether it stands on the
        curve, whether it is too dear to be drawn.
    """
    kept = [(plan.cost_usd, plan.coverage) for plan in pinned]
    names = {(plan.cost_usd, plan.coverage): name for name, plan in (named or {}).items()}
    on_curve = {(plan.cost_usd, plan.coverage) for plan in plans}
    beside = [plan for plan in (named or {}).values()
              if (plan.cost_usd, plan.coverage) not in on_curve]
    frame = pd.DataFrame([{
        "number": number,
        "generator": plan.supply.generator.id,
        "kept": round(plan.coverage, 9),
        "cost_usd": owning_cost(plan, basis).usd if basis else plan.cost_usd,
        "coverage_percent": 100.0 * plan.coverage,
        "size": plan.supply.generator.label,
        "short": size_of(plan),
        "proof": proof(plan.proof) if basis is None else "not proven for owning cost",
        "price": money(owning_cost(plan, basis).usd if basis else plan.cost_usd,
                       plan.menu.book.currency),
        "coverage": share(plan.coverage),
        "starved": ", ".join(part.label for part in starved(plan)) or "nothing",
        "turns": len(plan.choice.order),
        "pinned": (plan.cost_usd, plan.coverage) in kept,
        "name": names.get((plan.cost_usd, plan.coverage), ""),
        "on_curve": number <= len(plans),
    } for number, plan in enumerate((*plans, *beside), start=1)])
    return frame.assign(beyond=_too_dear(frame))


def curve_chart(
    frame: pd.DataFrame, chosen: int | None, *, cost_title: str, ink: str = "#12100b",
    goal: float | None = None, budget_usd: float | None = None,
) -> alt.LayerChart:
    """Draw plans by cost and coverage; an axis that does not begin at zero says so.

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
    spoken = frame.apply(_spoken, axis="columns")
    whole = frame.assign(spoken=spoken)
    far, near = whole[whole["beyond"]], whole[~whole["beyond"]]
    sizes = list(dict.fromkeys(near["size"]))
    across = span_of([*near["cost_usd"], *([budget_usd] if budget_usd is not None else [])])
    up = span_of([*near["coverage_percent"], 100.0 * goal if goal is not None else 100.0], 101.5)
    cost = alt.X("cost_usd:Q", title=cost_title, axis=alt.Axis(format=",.0f", tickCount=5),
                 scale=alt.Scale(domain=[across.low, across.high], nice=False))
    covered = alt.Y("coverage_percent:Q", title="Kept, by importance [%]",
                    axis=alt.Axis(labelExpr="datum.value > 100 ? '' : datum.label"),
                    scale=alt.Scale(domain=[up.low, up.high], nice=False))
    line = alt.Chart(near[near["on_curve"]]).mark_line(
        interpolate="step-after", strokeWidth=1.5, opacity=0.6, color=ink).encode(x=cost, y=covered)
    pick = alt.selection_point(name=PICK, fields=["number"], on="click", empty=False)
    marks = alt.Chart(near).mark_point(filled=True, size=190, opacity=1.0).encode(
        x=cost, y=covered,
        shape=alt.Shape("size:N", title=None, sort=sizes, legend=None,
                        scale=alt.Scale(domain=sizes, range=_enough(SHAPES, len(sizes)))),
        color=alt.Color("size:N", title=None, sort=sizes, legend=None,
                        scale=alt.Scale(domain=sizes, range=_enough(COLOURS, len(sizes)))),
        tooltip=[alt.Tooltip("number", title="Plan"), alt.Tooltip("size", title="Generator"),
                 alt.Tooltip("price", title="Cost"), alt.Tooltip("coverage", title="Coverage"),
                 alt.Tooltip("proof", title="Proof"),
                 alt.Tooltip("turns", title="Loads that take turns"),
                 alt.Tooltip("starved", title="Would not run")],
        description=alt.Description("spoken:N"),
    ).add_params(pick)
    layers = [line, *_goal(goal, budget_usd, ink), marks,
              *_labels(near, across, up, goal, ink)]
    for column, size, dash in (("pinned", 420, [3, 2]), ("chosen", 620, [1, 0])):
        ringed = near[near["pinned"]] if column == "pinned" else near[near["number"] == chosen]
        if len(ringed):
            layers.append(alt.Chart(ringed).mark_point(
                filled=False, shape="circle", size=size, strokeWidth=2, strokeDash=dash,
                color=ink).encode(x=cost, y=covered))
    for row in far.to_dict("records"):
        said = f"{row['name']}: {row['price']} →"
        layers.append(alt.Chart(pd.DataFrame({
            "cost_usd": [across.high], "coverage_percent": [up.low], "words": [said]})).mark_text(
            align="right", baseline="bottom", dx=-4, dy=-6, fontSize=12, color=ink).encode(
            x=cost, y=covered, text="words:N"))
    begins = _begins(across, up)
    return alt.LayerChart(
        layer=layers, height=HEIGHT_PX, autosize=FIT, description=f"{_description(frame)}{begins}",
        title=alt.TitleParams(begins, anchor="start", frame="group", fontSize=11,
                              fontWeight="normal"))


def _begins(across: Span, up: Span) -> str:
    """Say where axes begin that do not begin at zero; empty if both do."""
    said = [f"cost at {across.low:,g}" if across.low else "", f"kept at {up.low:g} %" if up.low
            else ""]
    said = [one for one in said if one]
    return f" The axes begin above zero: {', '.join(said)}." if said else ""


def _labels(
    near: pd.DataFrame, across: Span, up: Span, goal: float | None, ink: str
) -> list[alt.Chart]:
    """The name of each plan, else the first of a size its size, so that none lies on another."""
    first = ~near["size"].duplicated()
    words = [name or (size if new else "") for name, size, new in
             zip(near["name"], near["short"], first, strict=True)]
    placed = places_of([(across.px(x, NARROWEST_PX), up.px(y, HEIGHT_PX)) for x, y in
                        zip(near["cost_usd"], near["coverage_percent"], strict=True)],
                       words, NARROWEST_PX, HEIGHT_PX,
                       () if goal is None else (up.px(100.0 * goal, HEIGHT_PX),))
    rows = near.assign(words=words)
    return [alt.Chart(rows[[one == place for one in placed]]).mark_text(
        dy=place.up_px, align=place.align, fontSize=12, color=ink).encode(
        x=alt.X("cost_usd:Q"), y=alt.Y("coverage_percent:Q"), text=alt.Text("words:N"))
        for place in dict.fromkeys(placed)]


def _too_dear(frame: pd.DataFrame) -> list[bool]:
    """Whether a plan beside the curve costs so much more that the others would lie on a heap."""
    rest = frame[frame["name"] != LAST]["cost_usd"]
    if not len(rest):
        return [False] * len(frame)
    limit_usd = rest.min() + FAR * max(rest.max() - rest.min(), LEAST_SPAN * rest.max())
    return [name == LAST and cost_usd > limit_usd
            for name, cost_usd in zip(frame["name"], frame["cost_usd"], strict=True)]


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
