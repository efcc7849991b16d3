"""An outage in two pictures: the demand under its limit, and a strip of time for every load.

A load has one colour in both, in every plan and on every day (`ui.charts.colours`); what it does is
told by the height of its bar. Nothing paints a background, and what is not filled is drawn in tones
that stand out from white and from near-black alike.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

import altair as alt
import numpy as np
import pandas as pd

from planner.report.tables.day import DROPPED, NO_POWER, REST, RUNS, WAITS
from planner.report.words import rating, span
from ui.charts.colours import CROSS, REST_COLOUR

Width = int | Literal["container"]

DAY_TITLE = "Time of day [h]"
LOSS_TITLE = "Time since the loss [h]"
REST_LABEL = "everything else"
LABELS_PX = 180  # left of both charts, so that an hour stands above the same hour
BESIDE_PX = LABELS_PX + 30  # the other chart has a title, too
LONGEST_NAME = 28
HEADROOM = 1.12
TOPS = "dashes: highest load of each step, starts included"

# the width takes in labels; the height does not, or legends would squeeze what they explain
FIT = alt.AutoSizeParams(type="fit-x", contains="padding")

EDGE = "#8a8a8a"
MARK = "#c8501e"
PLAIN = "#7c7c7c"

# state -> height as a share of the strip, and how it is said
STRIPS: dict[str, tuple[float, str]] = {
    RUNS: (0.86, "full height: running"),
    WAITS: (0.5, "half height, pale: waiting"),
    DROPPED: (0.2, "cross: dropped"),
    NO_POWER: (0.86, "hollow: without power"),
    REST: (0.07, "thin line: not wanted"),
}
PALE = 0.25
IN_A_LINE = 3  # states explained in one line above the strips


def demand_chart(
    frame: pd.DataFrame, capacity_kw: float, rating_kw: float | None = None, *,
    colours: Mapping[str, str], hour_title: str = DAY_TITLE, width: Width = "container",
    strips_beside: bool = False,
) -> alt.LayerChart:
    """Draw the demand of all loads as a stack of steps under the limit of the generator.

    Parameters
    ----------
    frame : pandas.DataFrame
        ``hour`` (start of a slot; equal steps), ``load``, ``load_id``, ``kw``, as
        `planner.report.tables` has it for a planned day and for a simulated outage; with
        ``top_kw`` the highest load of each slot is drawn as a dash above it.
    capacity_kw : float
        What may be used without end [kW].
    rating_kw : float, optional
        What the generator can give at the site [kW]; an engine has nothing above it.
    colours : mapping of str to str
        By the ids of the loads that stand apart, from the bottom up; the others are one.
    hour_title : str
        Title of the time axis, with its unit.
    width : int or "container"
        In pixels, or as wide as the place it is put in.
    strips_beside : bool
        Whether a strip chart beside it names the loads by their colours; else a legend does, and
        the hours stand above those of a strip chart below.

    Returns
    -------
    altair.LayerChart
        A band for each load that stands apart and is on. Its `description` says what it shows, for
        those who do not see it.
    """
    stack = _stacked(frame, list(colours))
    names = list(dict.fromkeys(stack["name"]))
    step_h = _step_h(frame)
    first_h = float(frame["hour"].min()) if len(frame) else 0.0
    last_h = float(frame["hour"].max()) + step_h if len(frame) else 24.0
    ceiling = HEADROOM * max(capacity_kw, rating_kw or 0.0, _highest_kw(frame))
    x = alt.X("hour:Q", axis=hours_axis(first_h, last_h, hour_title),
              scale=alt.Scale(domain=[first_h, last_h], nice=False))
    y = alt.Y("low_kw:Q", title="Demand [kW]", scale=alt.Scale(domain=[0.0, ceiling], nice=False),
              axis=alt.Axis() if strips_beside else
              alt.Axis(minExtent=LABELS_PX, maxExtent=LABELS_PX))
    colour = alt.Color(
        "name:N", title=None, sort=None, scale=alt.Scale(domain=names, range=[
            colours.get(one, REST_COLOUR) for one in stack.drop_duplicates("name")["owner"]]),
        legend=None if strips_beside else alt.Legend(
            orient="bottom", columns=3, symbolType="square", symbolSize=130,
            symbolStrokeColor=EDGE, symbolStrokeWidth=0.8, labelLimit=220))
    tips = [alt.Tooltip("name:N", title="Load"), alt.Tooltip("time:N", title="Time"),
            alt.Tooltip("kw:Q", title="Load [kW]", format=".2f"),
            alt.Tooltip("total_kw:Q", title="All loads [kW]", format=".2f")]
    fills = alt.Chart(stack).mark_area(
        interpolate="step-after", fillOpacity=1.0, stroke=EDGE,
        strokeWidth=0.5 if last_h - first_h <= 120 * step_h else 0.2,
    ).encode(x=x, y=y, y2="high_kw:Q", color=colour, order=alt.Order("rank:Q"))
    touch = alt.Chart(stack).transform_filter("datum.kw > 0 && datum.end_h > datum.hour").mark_rect(
        opacity=0.0).encode(x=x, x2="end_h:Q", y=y, y2="high_kw:Q", tooltip=tips)
    layers: list[alt.Chart] = [fills, touch]
    if "top_kw" in frame:
        layers.append(_tops(frame, step_h, x))
    layers += _limit(capacity_kw, f"limit {rating(capacity_kw)} kW", first_h, firm=True)
    if rating_kw is not None:
        layers += _limit(rating_kw, f"rating here {rating(rating_kw)} kW", first_h, firm=False)
    return alt.LayerChart(
        layer=layers, width=width, height=280, autosize=FIT,
        title=alt.TitleParams(TOPS if "top_kw" in frame else "", anchor="start", frame="group",
                              fontSize=11, fontWeight="normal"),
        description=_demand_words(frame, capacity_kw, rating_kw, hour_title))


def strip_chart(
    frame: pd.DataFrame, *, colours: Mapping[str, str], hour_title: str = DAY_TITLE,
    width: Width = "container",
) -> alt.LayerChart:
    """Draw a strip of time for every load: what it does when.

    Parameters
    ----------
    frame : pandas.DataFrame
        ``load``, ``load_id``, ``start_h``, ``end_h``, ``state``, as `planner.report.tables` has
        it; strips stand in the order of the frame.
    colours : mapping of str to str
        By the ids of the loads that stand apart; the others are grey.
    hour_title : str
        Title of the time axis, with its unit.
    width : int or "container"
        In pixels, or as wide as the place it is put in.

    Returns
    -------
    altair.LayerChart
        A state is told by the height of its bar: full, half, a thin line, hollow, and a cross for
        a call that is given up; its title says which. Its `description` sums it up in words.
    """
    spans = frame.assign(
        name=_names(frame), middle_h=(frame["start_h"] + frame["end_h"]) / 2.0,
        time=[f"{clock(one)} to {clock(after)}" for one, after in
              zip(frame["start_h"], frame["end_h"], strict=True)])
    names = list(dict.fromkeys(spans["name"]))
    states = [state for state in STRIPS if (frame["state"] == state).any()]
    first_h = float(frame["start_h"].min()) if len(frame) else 0.0
    last_h = float(frame["end_h"].max()) if len(frame) else 24.0
    x = alt.X("start_h:Q", axis=hours_axis(first_h, last_h, hour_title),
              scale=alt.Scale(domain=[first_h, last_h], nice=False))
    y = alt.Y("name:N", title=None, sort=names, scale=alt.Scale(domain=names),
              axis=alt.Axis(minExtent=BESIDE_PX, maxExtent=BESIDE_PX, labelLimit=LABELS_PX,
                            labelOverlap=False, labelFlush=False, ticks=False,
                            domain=False, labelPadding=8))
    owners = spans.drop_duplicates("name")
    colour = alt.Color("name:N", legend=None, scale=alt.Scale(
        domain=names, range=[colours.get(one, REST_COLOUR) for one in owners["load_id"]]))
    tips = [alt.Tooltip("name:N", title="Load"), alt.Tooltip("state:N", title="State"),
            alt.Tooltip("time:N", title="Time")]
    layers: list[alt.Chart] = []
    for state in states:
        one = alt.Chart(spans[spans["state"] == state])
        bar = one.mark_bar(**_bar(state))
        layers.append(bar.encode(x=x, x2="end_h:Q", y=y, tooltip=tips, **(
            {"stroke": colour} if state == NO_POWER else {"color": colour})))
        if state == DROPPED:
            layers.append(one.mark_text(
                text="×", fontSize=19, fontWeight="bold", color=CROSS, baseline="middle",
            ).encode(x=alt.X("middle_h:Q"), y=y, tooltip=tips))
    words = [STRIPS[state][1] for state in states]
    said = ["; ".join(part) for part in (words[:IN_A_LINE], words[IN_A_LINE:]) if part]
    return alt.LayerChart(
        layer=layers, width=width, height=alt.Step(16), autosize=FIT,
        title=alt.TitleParams(said, anchor="start", frame="bounds", fontSize=11,
                              fontWeight="normal"),
        description=_strip_words(spans))


def _stacked(frame: pd.DataFrame, apart: list[str]) -> pd.DataFrame:
    """Fold the loads that do not stand apart into one, stack the rest, close the last step."""
    named = frame.assign(name=_names(frame)).astype({"hour": "float64", "kw": "float64"})
    rank = {load_id: place for place, load_id in enumerate(apart)}
    named = named.assign(owner=named["load_id"].where(named["load_id"].isin(apart), ""),
                         rank=[rank.get(load_id, len(apart)) for load_id in named["load_id"]])
    named.loc[named["owner"] == "", "name"] = REST_LABEL
    folded = named.groupby(["rank", "name", "owner", "hour"], as_index=False)["kw"].sum()
    by_hour = folded.groupby("hour")["kw"]
    step_h = _step_h(frame)
    folded = folded.assign(high_kw=by_hour.cumsum(), total_kw=by_hour.transform("sum"),
                           end_h=folded["hour"] + step_h)
    folded = folded.assign(low_kw=folded["high_kw"] - folded["kw"], time=[
        f"{clock(one)} to {clock(one + step_h)}" for one in folded["hour"]])
    ends = folded[folded["hour"] == folded["hour"].max()]
    closed: pd.DataFrame = pd.concat([folded, ends.assign(hour=ends["end_h"])], ignore_index=True)
    return closed


def _names(frame: pd.DataFrame) -> list[str]:
    """Labels; with the id behind it where two loads have the same, or the one of the rest."""
    owners = frame.groupby("load")["load_id"].nunique()
    return [_shortened(f"{label} ({load_id})" if owners[label] > 1 or label == REST_LABEL
                       else label)
            for label, load_id in zip(frame["load"], frame["load_id"], strict=True)]


def _shortened(name: str) -> str:
    """Cut a long name in its middle: what tells names apart often stands at the end."""
    if len(name) <= LONGEST_NAME:
        return name
    tail = LONGEST_NAME // 2 - 1
    return f"{name[: LONGEST_NAME - tail - 1].rstrip()}…{name[-tail:].lstrip()}"


def _tops(frame: pd.DataFrame, step_h: float, x: alt.X) -> alt.Chart:
    tops = frame[["hour", "top_kw"]].drop_duplicates("hour")
    tops = tops.assign(end_h=tops["hour"] + step_h)
    tip = [alt.Tooltip("top_kw:Q", title="Highest load, starts included [kW]", format=".2f")]
    dashes: alt.Chart = alt.Chart(tops).mark_rule(stroke=PLAIN, strokeWidth=1.6).encode(
        x=x, x2="end_h:Q", y=alt.Y("top_kw:Q"), tooltip=tip)
    return dashes


def _limit(kw: float, text: str, at_h: float, *, firm: bool) -> list[alt.Chart]:
    """Draw a rule with its text above its left end; the firm limit is a full line."""
    row = pd.DataFrame({"kw": [kw], "hour": [at_h], "text": [text]})
    line = alt.Chart(row).mark_rule(
        stroke=MARK, strokeWidth=2.0 if firm else 1.2, strokeDash=[1, 0] if firm else [6, 4])
    words = alt.Chart(row).mark_text(align="left", baseline="bottom", dx=4, dy=-3, fontSize=12,
                                     fontWeight="bold" if firm else "normal")
    return [line.encode(y=alt.Y("kw:Q"), tooltip=[alt.Tooltip("text:N", title="Limit")]),
            words.encode(x=alt.X("hour:Q"), y=alt.Y("kw:Q"), text="text:N")]


def _bar(state: str) -> dict[str, Any]:
    height: dict[str, Any] = {"height": {"band": STRIPS[state][0]}}
    if state == NO_POWER:
        return {**height, "fillOpacity": 0.0, "strokeWidth": 1.2}
    if state == WAITS:
        return {**height, "fillOpacity": PALE, "stroke": EDGE, "strokeWidth": 1.0}
    return {**height, "fillOpacity": 0.5 if state == REST else 1.0}


def hours_axis(first_h: float, last_h: float, title: str) -> alt.Axis:
    """Ticks at full hours that divide a day."""
    step = next((one for one in (1, 3, 6, 12, 24, 48, 120) if last_h - first_h <= 12 * one), 240)
    ticks = list(range(int(np.ceil(first_h / step)) * step, int(last_h) + 1, step))
    return alt.Axis(title=title, values=ticks, format="d", grid=True, gridOpacity=0.35,
                    labelFlush=False)


def _step_h(frame: pd.DataFrame) -> float:
    hours = np.sort(frame["hour"].unique())
    return float(hours[1] - hours[0]) if len(hours) > 1 else 0.25


def _highest_kw(frame: pd.DataFrame) -> float:
    tops = [frame.groupby("hour")["kw"].sum().max()]
    if "top_kw" in frame:
        tops.append(frame["top_kw"].max())
    return float(max(tops)) if len(frame) else 0.0


def clock(hour: float) -> str:
    """Write an hour of the day, or since the loss: ``06:15``."""
    whole, rest = divmod(round(60.0 * hour), 60)
    return f"{whole:02d}:{rest:02d}"


def _demand_words(
    frame: pd.DataFrame, capacity_kw: float, rating_kw: float | None, hour_title: str
) -> str:
    if not len(frame):
        return f"No load is on; the limit is {rating(capacity_kw)} kW."
    totals = frame.groupby("hour")["kw"].sum()
    peak_h = float(totals.index[int(totals.argmax())])
    by, _, _ = hour_title.partition(" [")
    given = "" if rating_kw is None else f"; rating here {rating(rating_kw)} kW"
    tops = "" if "top_kw" not in frame else (
        f" The highest load within a step, starts included, is {frame['top_kw'].max():.1f} kW.")
    return (f"Demand of {frame['load_id'].nunique()} loads in kW, stacked, by {by.lower()}: the "
            f"peak is {totals.max():.1f} kW at {clock(peak_h)}, the limit {rating(capacity_kw)} kW"
            f"{given}.{tops}")


def _strip_words(spans: pd.DataFrame) -> str:
    def who(state: str) -> str:
        mine = spans[spans["state"] == state]
        hours = (mine["end_h"] - mine["start_h"]).groupby(mine["name"], sort=False).sum()
        return "; ".join(str(label) if state == DROPPED else f"{label} {span(float(spent))}"
                         for label, spent in hours.items()) or "none"

    return (f"When each of {spans['name'].nunique()} loads runs, and when it does not. "
            f"Waiting: {who(WAITS)}. Refused and lost: {who(DROPPED)}. "
            f"Without power: {who(NO_POWER)}.")
