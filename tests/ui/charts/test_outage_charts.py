"""The pictures of an outage: what is in them, what they say, how they tell things apart."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import altair as alt
import pandas as pd
import pytest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.facts.home import DesignDay
from planner.report.tables import day, played
from planner.simulation.outage import simulate
from tests.homes import base, cheapest, events, generator, home, load
from tests.simulation.plans import plan_of
from ui.charts.colours import CROSS, PALETTE, REST_COLOUR, colours_of
from ui.charts.outage import (
    LOSS_TITLE,
    MARK,
    REST_LABEL,
    demand_chart,
    strip_chart,
)

CASES = Path(__file__).parents[3] / "cases"
HOT = DesignDay("hot", "hot", "summer", 1.0, 70.0, 95.0)


@pytest.fixture(scope="module")
def plan():
    """A suburban house of eighteen loads, planned for 90 % coverage."""
    house, _ = read_home(CASES / "suburban.toml")
    offered, _ = read_book(CASES / "demo_price_book.toml")
    return cheapest(house, offered, 0.9)


@pytest.fixture(scope="module")
def demand(plan):
    """Its hot day as a frame."""
    return day.demand_frame(plan, plan.menu.house.home.days[0])


@pytest.fixture(scope="module")
def small():
    """A range that cannot wait behind a dryer, a spa that is off: all states but waiting."""
    house = home(base(0.5), load("dryer", 4.0, use=events((6.0, 1.0))),
                 load("range", 4.0, use=events((6.0, 1.0))),
                 load("spa", 2.0, use=events((20.0, 1.0)),
                      allowed=frozenset({"direct", "module", "off"})), days=(HOT,))
    return plan_of(house, generator(6.0, 5000.0), "dryer", "range", off=("spa",))


def colours(plan):
    """Colours of the loads of a plan's home."""
    return colours_of(day.standing_apart(plan.menu.house, len(PALETTE)))


def drawn(spec, layer):
    """Rows behind one layer of a chart."""
    data = layer.get("data") or spec["data"]
    return pd.DataFrame(spec["datasets"][data["name"]])


def layers_of(spec, kind):
    """Layers with a mark of this kind."""
    return [layer for layer in spec["layer"] if layer["mark"]["type"] == kind]


def luminance(colour):
    """Relative luminance of a colour by WCAG 2 (from memory)."""
    parts = [int(colour[place:place + 2], 16) / 255.0 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
                        for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one, other):
    """Contrast ratio of two colours by WCAG 2 (from memory)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_the_stack_is_as_high_as_the_demand(plan, demand):
    """Top edge of the stack = demand of the replay, no band overlaps another."""
    spec = demand_chart(demand, plan.supply.capacity_kw, colours=colours(plan)).to_dict()
    rows = drawn(spec, layers_of(spec, "area")[0])
    rows = rows[rows["end_h"] > rows["hour"]]
    top = rows.groupby("hour")["high_kw"].max().to_numpy()
    assert top == pytest.approx(plan.service.load_kw[:96])
    for _, slot in rows.sort_values("rank").groupby("hour"):
        assert slot["low_kw"].to_numpy()[1:] == pytest.approx(slot["high_kw"].to_numpy()[:-1])
        assert slot["low_kw"].iloc[0] == 0.0


def test_at_most_seven_loads_are_told_apart_and_a_large_short_one_is_among_them(plan, demand):
    """The rest is folded and comes last; the range runs an hour a day and is not hidden in it."""
    spec = demand_chart(demand, plan.supply.capacity_kw, colours=colours(plan)).to_dict()
    names = layers_of(spec, "area")[0]["encoding"]["color"]["scale"]["domain"]
    assert len(colours(plan)) == len(PALETTE) == 7
    assert names[-1] == REST_LABEL
    assert "Range" in names
    assert len(names) <= len(PALETTE) + 1


def test_few_loads_are_not_folded(small):
    """Two loads that run are two bands, each in its own colour; the spa has the third."""
    spec = demand_chart(day.demand_frame(small, HOT), 6.0, colours=colours(small)).to_dict()
    scale = layers_of(spec, "area")[0]["encoding"]["color"]["scale"]
    mine = colours(small)
    assert set(scale["domain"]) == {"base", "dryer"}
    assert dict(zip(scale["domain"], scale["range"], strict=True)) == {
        "base": mine["base"], "dryer": mine["dryer"]}
    assert len(set(mine.values())) == len(mine) == 4


def test_a_load_has_one_colour_in_every_chart_plan_and_day(plan):
    """Stacks and strips of two plans on all days agree; seven loads have a colour of their own."""
    house = plan.menu.house.home
    offered, _ = read_book(CASES / "demo_price_book.toml")
    seen = {}
    for one in (plan, cheapest(house, offered, 0.999)):
        mine = colours(one)
        for design_day in house.days:
            for spec in (demand_chart(day.demand_frame(one, design_day), 9.0, colours=mine),
                         strip_chart(day.strip_frame(one, design_day), colours=mine)):
                for layer in spec.to_dict()["layer"]:
                    told = layer["encoding"].get("color", layer["encoding"].get("stroke"))
                    scale = (told or {}).get("scale", {})
                    for name, colour in zip(scale.get("domain", ()), scale.get("range", ()),
                                            strict=True):
                        seen.setdefault(name, set()).add(colour)
    assert {name: found for name, found in seen.items() if len(found) != 1} == {}
    apart = [found for found in seen.values() if found != {REST_COLOUR}]
    assert len(apart) == len({*map(frozenset, apart)}) == len(PALETTE)


def test_every_touched_step_tells_load_time_and_kw(plan, demand):
    """One place to touch per load and step, with its own numbers."""
    spec = demand_chart(demand, plan.supply.capacity_kw, colours=colours(plan)).to_dict()
    touch = layers_of(spec, "rect")[0]
    assert [tip["field"] for tip in touch["encoding"]["tooltip"]] == [
        "name", "time", "kw", "total_kw"]
    rows = drawn(spec, touch)
    noon = rows[(rows["name"] == "Pool pump") & (rows["hour"] == 12.0)].iloc[0]
    expected = demand[(demand["load"] == "Pool pump") & (demand["hour"] == 12.0)]["kw"].iloc[0]
    assert (noon["time"], noon["kw"]) == ("12:00 to 12:15", pytest.approx(expected))


def test_limits_are_drawn_and_said_with_their_unit(demand):
    """Each limit is a rule at its kW, its text above its beginning, its unit in it."""
    spec = demand_chart(demand, 14.355, 15.79, colours={}).to_dict()
    said = [drawn(spec, layer).iloc[0] for layer in layers_of(spec, "text")]
    assert [(row["text"], row["kw"], row["hour"]) for row in said] == [
        ("limit 14.3 kW", 14.355, 0.0), ("rating here 15.7 kW", 15.79, 0.0)]
    assert [drawn(spec, layer)["kw"].iloc[0] for layer in layers_of(spec, "rule")] == [
        14.355, 15.79]
    alone = demand_chart(demand, 14.355, colours={}).to_dict()
    assert len(layers_of(alone, "rule")) == 1


@pytest.mark.parametrize("capacity_kw", [3.0, 40.0])
def test_nothing_is_drawn_beyond_the_axis(demand, capacity_kw):
    """The axis reaches beyond the limit and the peak, whichever is higher."""
    spec = demand_chart(demand, capacity_kw, colours={}).to_dict()
    top = layers_of(spec, "area")[0]["encoding"]["y"]["scale"]["domain"][1]
    assert top > max(capacity_kw, demand.groupby("hour")["kw"].sum().max())


def test_axes_have_units(plan, demand):
    """Time in h, demand in kW."""
    spec = demand_chart(demand, plan.supply.capacity_kw, colours=colours(plan)).to_dict()
    axes = layers_of(spec, "area")[0]["encoding"]
    assert axes["x"]["axis"]["title"] == "Time of day [h]"
    assert axes["y"]["title"] == "Demand [kW]"
    assert axes["x"]["axis"]["values"] == [0, 3, 6, 9, 12, 15, 18, 21, 24]
    frame = day.strip_frame(plan, plan.menu.house.home.days[0])
    strips = strip_chart(frame, colours=colours(plan)).to_dict()
    assert strips["layer"][0]["encoding"]["x"]["axis"]["title"] == "Time of day [h]"


def test_the_picture_is_said_in_words(small):
    """Who cannot see it hears of the peak, when it is, and of the limit."""
    spec = demand_chart(day.demand_frame(small, HOT), 6.0, 6.6, colours=colours(small)).to_dict()
    assert spec["description"] == (
        "Demand of 2 loads in kW, stacked, by time of day: the peak is 4.5 kW at 06:00, the limit "
        "6.0 kW; rating here 6.6 kW.")
    strips = strip_chart(day.strip_frame(small, HOT), colours=colours(small)).to_dict()
    assert strips["description"] == (
        "When each of 4 loads runs, and when it does not. Waiting: none. Refused and lost: "
        "range. Without power: spa 1 h.")


def test_bands_can_be_told_apart_in_grey_and_on_any_background():
    """Neighbours of the stack differ in lightness; limits and crosses stand out from any ground."""
    light = [luminance(colour) for colour in PALETTE]
    assert all(max(one, after) > 1.3 * min(one, after)
               for one, after in pairwise(light))
    assert contrast(REST_COLOUR, "#ffffff") >= 3.0
    assert contrast(REST_COLOUR, "#0e1117") >= 3.0
    spec = demand_chart(pd.DataFrame({"hour": [0.0], "load": ["a"], "load_id": ["a"],
                                      "kw": [1.0]}), 2.0, colours={}).to_dict()
    assert all("color" not in layer["mark"] for layer in layers_of(spec, "text"))  # the page's ink
    for colour in (layers_of(spec, "rule")[0]["mark"]["stroke"], MARK, CROSS):
        assert contrast(colour, "#ffffff") >= 3.0
        assert contrast(colour, "#0e1117") >= 3.0
    assert "background" not in spec


def test_what_is_always_connected_and_small_has_no_strip_of_its_own_at_first_sight(plan):
    """All that takes turns or is off has a strip, and all with a colour; the others are direct."""
    frame = day.strip_frame(plan, plan.menu.house.home.days[0])
    told = set(day.telling_strips(plan, frame, list(colours(plan)))["load_id"])
    ids = {part.id: part.connection for part in plan.loads}
    assert told >= {one for one, how in ids.items() if how != "direct"} | set(colours(plan))
    assert {ids[one] for one in set(ids) - told} == {"direct"}


def test_strips_stand_in_the_order_of_the_frame(plan):
    """Eighteen strips, as the table of the plan lists its loads, each with its name."""
    frame = day.strip_frame(plan, plan.menu.house.home.days[0])
    spec = strip_chart(frame, colours=colours(plan)).to_dict()
    order = list(dict.fromkeys(frame["load"]))
    assert len(order) == 18
    for layer in spec["layer"]:
        assert layer["encoding"]["y"]["sort"] == order
        assert layer["encoding"]["y"]["axis"]["labelOverlap"] is False
    assert spec["height"]["step"] >= 16


def test_a_state_is_told_by_height_and_filling(small):
    """No two states share height and filling; a dropped call has a cross in the middle of it."""
    frame = day.strip_frame(small, HOT)
    spec = strip_chart(frame, colours=colours(small)).to_dict()
    shapes = {(layer["mark"]["height"]["band"], layer["mark"]["fillOpacity"])
              for layer in layers_of(spec, "bar")}
    assert len(shapes) == len(layers_of(spec, "bar")) == frame["state"].nunique() == 4
    cross = layers_of(spec, "text")[0]
    assert cross["mark"]["text"] == "×"
    rows = drawn(spec, cross)
    assert rows[rows["state"] == "dropped"]["middle_h"].tolist() == [6.5]


def test_the_title_has_the_states_that_occur(small):
    """What does not occur is not explained; what does is said in words with its shape."""
    spec = strip_chart(day.strip_frame(small, HOT), colours=colours(small)).to_dict()
    said = "; ".join(spec["title"]["text"])
    for word in ("full height", "cross", "hollow", "thin line"):
        assert word in said
    assert "half height" not in said


def test_loads_with_one_label_stay_two():
    """Two loads called alike, or like the rest, are told apart by their ids."""
    house = home(base(0.5, label=REST_LABEL), load("a", 1.0, label="pump"),
                 load("b", 2.0, label="pump"), days=(HOT,))
    found = plan_of(house, generator(9.0, 5000.0))
    spec = demand_chart(day.demand_frame(found, HOT), 6.0, colours=colours(found)).to_dict()
    names = layers_of(spec, "area")[0]["encoding"]["color"]["scale"]["domain"]
    assert sorted(names) == [f"{REST_LABEL} (base)", "pump (a)", "pump (b)"]
    strips = strip_chart(day.strip_frame(found, HOT), colours=colours(found)).to_dict()
    assert len(strips["layer"][0]["encoding"]["y"]["sort"]) == 3


def test_a_played_outage_shows_its_highest_loads_as_dashes(plan):
    """Three days from the loss on, within the rows that a chart may hold, peaks inside the axis."""
    outage = simulate(plan, plan.menu.house.home.days[0], 0, hours=72.0)
    frame = played.demand_frame(outage)
    spec = demand_chart(frame, plan.supply.capacity_kw, colours=colours(plan),
                        hour_title=LOSS_TITLE).to_dict()
    dashes = layers_of(spec, "rule")[0]
    assert drawn(spec, dashes)["top_kw"].max() == pytest.approx(frame["top_kw"].max())
    assert layers_of(spec, "area")[0]["encoding"]["y"]["scale"]["domain"][1] > frame["top_kw"].max()
    assert "dashes" in spec["title"]["text"]
    assert f"is {frame['top_kw'].max():.1f} kW." in spec["description"]
    strips = strip_chart(played.strip_frame(plan, outage), colours=colours(plan),
                         hour_title=LOSS_TITLE).to_dict()
    assert strips["layer"][0]["encoding"]["x"]["axis"]["title"] == LOSS_TITLE
    assert strips["layer"][0]["encoding"]["x"]["scale"]["domain"] == [0.0, 72.25]


def test_an_empty_frame_is_an_empty_picture():
    """A day on which nothing is on still has its limit and a sentence."""
    frame = pd.DataFrame(columns=list(day.DEMAND_COLUMNS))
    spec = demand_chart(frame, 6.0, colours={}).to_dict()
    assert spec["description"] == "No load is on; the limit is 6.0 kW."
    assert drawn(spec, layers_of(spec, "text")[0])["text"].tolist() == ["limit 6.0 kW"]
    empty = pd.DataFrame(columns=list(day.STRIP_COLUMNS))
    assert isinstance(strip_chart(empty, colours={}), alt.LayerChart)
