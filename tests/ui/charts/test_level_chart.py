"""How far each comfort is from as usual: the frame from the replay, and the strips of the chart."""

from __future__ import annotations

from dataclasses import replace

import pandas as pd
import pytest

from planner.facts.comfort import Comfort, Promise
from planner.facts.home import DesignDay, Use
from planner.plan.menu import menu_of
from planner.plan.plan import Plan
from planner.report.tables.levels import COLUMNS, level_frame, telling
from planner.service.choice import DIRECT, MODULE, Choice
from planner.service.house import house_of
from planner.service.supply import supply_of
from tests.homes import base, book, generator, home, load
from ui.charts.levels import HIGHEST, level_chart

HOT = DesignDay("hot", "Hot day", "summer", 1.0, 75.0, 97.0)
MORNING = (0.0,) * 6 + (0.5, 0.5, 0.5) + (0.0,) * 15


@pytest.fixture(scope="module")
def plan():
    """A room that is cooled by turns, a tank, and a light: two keep a level."""
    air = load("air", 3.5, nature="room", comfort="room", tons=3.0,
               use={"every": Use(kind="cooling", balance_degf=70.0, full_duty=0.85)})
    tank = load("tank", 4.5, nature="tank", comfort="water",
                use={"every": Use(kind="duty", hours=MORNING)})
    house = house_of(home(
        base(0.5, comfort="light"), air, tank, days=(HOT,), comforts=(
            Comfort("room", "Main floor", "room", ("air",), 4, promise=Promise(60.0, 82.0)),
            Comfort("water", "Hot water", "hot water", ("tank",), 3),
            Comfort("light", "Light", "clock", ("base",), 4))))
    size = generator(10.0, 1000.0)
    offered = book(size)
    return Plan(menu_of(house, offered, size, "whole-house"), supply_of(house, size, offered),
                Choice((DIRECT, MODULE, MODULE), (0, 0, 0), (1, 2)))


@pytest.fixture(scope="module")
def frame(plan):
    """Its hot day."""
    return level_frame(plan, HOT)


def test_only_what_keeps_a_level_is_in_the_frame(frame):
    """96 slots for the room and for the tank; a light has no level."""
    assert list(frame.columns) == list(COLUMNS)
    assert frame.groupby("comfort_id").size().to_dict() == {"room": 96, "water": 96}


def test_a_room_reads_in_degrees_up_to_its_promise(plan, frame):
    """The warmest slot is the worst temperature of the plan's judged day, the limit 82 degF."""
    room = frame[frame["comfort_id"] == "room"]
    assert set(room["limit"]) == {"82 degF promised"}
    warmest = max(float(text.removesuffix(" degF")) for text in room["reads"])
    assert warmest <= plan.comfort("room").worst[0] + 0.5
    assert room["behind"].max() == pytest.approx((warmest - 76.0) / (82.0 - 76.0), abs=0.1)


def test_a_tank_reads_in_what_is_left(frame):
    """Full at the least, lukewarm from 30 % left on."""
    tank = frame[frame["comfort_id"] == "water"]
    assert set(tank["limit"]) == {"lukewarm from 30 % left"}
    assert 0.0 <= tank["behind"].min() < tank["behind"].max()


def test_rooms_and_what_comes_near_its_limit_are_worth_a_strip(plan, frame):
    """A tank that stays nearly full is left out, one that is half way to lukewarm is not."""
    quiet = frame.assign(behind=0.0)
    assert set(telling(quiet, plan.menu.house.home)["comfort_id"]) == {"room"}
    near = frame.assign(behind=0.6)
    assert set(telling(near, plan.menu.house.home)["comfort_id"]) == {"room", "water"}


def test_a_day_of_another_home_is_refused(plan):
    """Nothing is shown for a day that the plan was not made for."""
    with pytest.raises(ValueError, match="not in tuple"):
        level_frame(plan, replace(HOT, id="other"))


def drawn(chart, kind):
    """Layer of a chart with a mark of this kind, and its rows."""
    spec = chart.to_dict()
    layer = next(one for one in spec["layer"] if one["mark"]["type"] == kind)
    return layer, pd.DataFrame(spec["datasets"][(layer.get("data") or spec["data"])["name"]])


def test_every_comfort_has_a_strip_of_its_own(frame):
    """No area leaves its strip, though a level is beyond its limit."""
    far = frame.assign(behind=frame["behind"] + 3.0 * HIGHEST)
    _, rows = drawn(level_chart(far, colours={}), "area")
    assert rows.groupby("comfort_id")["low"].first().to_dict() == {"room": 1.0, "water": 0.0}
    assert (rows["high"] < rows["low"] + 1.0).all()


def test_the_limit_is_a_line_with_its_words(frame):
    """One broken line for each comfort, the same share of each strip high."""
    _, rules = drawn(level_chart(frame, colours={}), "rule")
    _, words = drawn(level_chart(frame, colours={}), "text")
    assert (rules["at"] - rules["low"]).round(9).nunique() == 1
    assert words["limit"].tolist() == ["82 degF promised", "lukewarm from 30 % left"]


def test_the_axis_has_its_unit_and_the_picture_is_said(frame):
    """Time in h; who does not see it hears the furthest of each comfort."""
    spec = level_chart(frame, colours={}).to_dict()
    assert spec["layer"][0]["encoding"]["x"]["axis"]["title"] == "Time of day [h]"
    for word in ("Main floor", "Hot water", "82 degF", "30 % left"):
        assert word in spec["description"]
    assert "keeps a level" in level_chart(frame.iloc[:0], colours={}).to_dict()["description"]


def test_labels_stand_as_text(frame):
    """A label with quotes and slashes stays one label."""
    odd = frame.assign(comfort=frame["comfort"].map(lambda one: f'{one} "a\\b\''))
    axis = drawn(level_chart(odd, colours={}), "area")[0]["encoding"]["y"]["axis"]
    assert '"Main floor \\"a\\\\b\'"' in axis["labelExpr"]
