"""How far each comfort is from what is usual: a strip of the day for each, with its limit."""

from __future__ import annotations

import json
from collections.abc import Mapping

import altair as alt
import pandas as pd

from ui.charts.colours import REST_COLOUR
from ui.charts.outage import (
    BESIDE_PX,
    DAY_TITLE,
    EDGE,
    FIT,
    LABELS_PX,
    MARK,
    Width,
    clock,
    hours_axis,
)

STRIP_PX = 66
HIGHEST = 1.25  # of the limit: what is beyond is cut off, and said
TOUCH = 0.78  # of a strip's height; above it the words of its limit stand clear of the next strip


def level_chart(
    frame: pd.DataFrame, *, colours: Mapping[str, str], hour_title: str = DAY_TITLE,
    width: Width = "container",
) -> alt.LayerChart:
    """Draw a strip for each comfort that keeps a level: the higher, the further behind.

    Parameters
    ----------
    frame : pandas.DataFrame
        As `planner.report.tables.levels` has it.
    colours : mapping of str to str
        By the ids of the comforts: that of the load that serves it; the others are grey.
    hour_title : str
        Title of the time axis, with its unit.
    width : int or "container"
        In pixels, or as wide as the place it is put in.

    Returns
    -------
    altair.LayerChart
        An area for each comfort from as usual up to where it is in each step, and a broken line
        at its limit. Its `description` says the furthest of each in words.
    """
    names = list(dict.fromkeys(frame["comfort_id"]))
    place = {name: len(names) - 1 - number for number, name in enumerate(names)}
    rows = frame.astype({"hour": "float64", "behind": "float64"})
    base = rows["comfort_id"].map(place).astype("float64")
    step_h = 24.0 / max(1, rows.groupby("comfort_id").size().max() if len(rows) else 1)
    rows = rows.assign(low=base, high=base + rows["behind"].clip(upper=HIGHEST) / HIGHEST * TOUCH,
                       top=base + TOUCH, end_h=rows["hour"] + step_h,
                       time=[f"{clock(one)} to {clock(one + step_h)}" for one in rows["hour"]])
    closed = pd.concat([rows, rows[rows["hour"] == rows["hour"].max()].assign(hour=24.0)],
                       ignore_index=True)
    last = rows.drop_duplicates("comfort_id").assign(hour=0.0, end_h=24.0)
    last = last.assign(at=last["low"] + TOUCH / HIGHEST)
    labels = {str(place[name]): label for name, label in
              zip(last["comfort_id"], last["comfort"], strict=True)}
    x = alt.X("hour:Q", axis=hours_axis(0.0, 24.0, hour_title),
              scale=alt.Scale(domain=[0.0, 24.0], nice=False))
    scale = alt.Scale(domain=[0.0, float(max(1, len(names)))], nice=False)
    y = alt.Y("low:Q", title=None, scale=scale, axis=alt.Axis(
        values=list(range(len(names))), format="d", grid=True, ticks=False, domain=False,
        labelExpr=f"({json.dumps(labels)})[datum.label]", labelBaseline="bottom",
        labelLimit=LABELS_PX, minExtent=BESIDE_PX, maxExtent=BESIDE_PX, labelPadding=8))
    fill = alt.Color("comfort_id:N", legend=None, scale=alt.Scale(
        domain=names, range=[colours.get(name, REST_COLOUR) for name in names]))
    areas = alt.Chart(closed).mark_area(interpolate="step-after", fillOpacity=0.85,
                                        stroke=EDGE, strokeWidth=0.5).encode(
        x=x, y=y, y2="high:Q", color=fill)
    limits = alt.Chart(last).mark_rule(stroke=MARK, strokeWidth=1.4, strokeDash=[6, 4]).encode(
        x=x, x2="end_h:Q", y=alt.Y("at:Q", scale=scale))
    words = alt.Chart(last).mark_text(align="left", baseline="bottom", dx=4, dy=-2,
                                      fontSize=11).encode(
        x=x, y=alt.Y("at:Q", scale=scale), text="limit:N")
    touch = alt.Chart(rows).mark_rect(opacity=0.0).encode(
        x=x, x2="end_h:Q", y=y, y2="top:Q",
        tooltip=[alt.Tooltip("comfort:N", title="Comfort"), alt.Tooltip("time:N", title="Time"),
                 alt.Tooltip("reads:N", title="Level"), alt.Tooltip("limit:N", title="Limit")])
    return alt.LayerChart(layer=[areas, limits, words, touch], width=width,
                          height=STRIP_PX * max(1, len(names)), autosize=FIT,
                          description=_words(frame))


def _words(frame: pd.DataFrame) -> str:
    if not len(frame):
        return "No comfort of this home keeps a level on this day."
    worst = frame.loc[frame.groupby("comfort_id", sort=False)["behind"].idxmax()]
    said = "; ".join(f"{row['comfort']} {row['reads']} at {clock(float(row['hour']))} "
                     f"({row['limit']})" for row in worst.to_dict("records"))
    return f"How far each comfort is from as usual, by time of day. The furthest: {said}."
