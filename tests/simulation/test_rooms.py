"""What is said of a room after many outages: its temperatures beside those with the utility."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from planner.facts.home import DesignDay, Use
from planner.report.outage import outage_data
from planner.report.tables.frames import frame
from planner.report.tables.outage import room_table
from planner.report.verdict import verdict_sentences
from planner.simulation.outcome.results import Results
from planner.simulation.run import outages
from planner.simulation.settings import Settings
from tests.homes import base, generator, home, load
from tests.simulation.plans import plan_of

DAYS = (DesignDay("hot", "hot", "summer", 0.5, 75.0, 97.0),
        DesignDay("cold", "cold", "winter", 0.5, 0.0, 18.0))
USE = {"summer": Use("cooling", balance_degf=70.0, design_degf=97.0, full_duty=0.8),
       "winter": Use("heating", balance_degf=62.0, design_degf=0.0, full_duty=0.8)}
HOURS = 24.0


def house(**changes):
    """A heat pump that heats and cools, a heater of another room, and an oven in its way."""
    return home(
        base(0.5), load("pump", 4.0, kind="heat pump", nature="room", compressor=True, use=USE,
                        **changes),
        load("board", 1.5, nature="room", use={"winter": USE["winter"]}, room="bedroom"),
        load("oven", 3.0, use={"every": Use("always")}, importance=1),
        days=DAYS, heating_set_degf=68.0, cooling_set_degf=78.0)


def played(kw, *turns, off=(), one=None):
    """Two seeds of a day on a generator of so many kW."""
    plan = plan_of(one or house(), generator(kw, 5000.0), *turns, off=off)
    return Results(plan, HOURS, tuple(outages(plan, seeds=2, hours=HOURS, workers=1)))


@pytest.fixture(scope="module")
def ample():
    """Everything runs at once."""
    return played(20.0)


@pytest.fixture(scope="module")
def tight():
    """The oven is always first, and beside it there is no room for the heat pump."""
    return played(6.0, "oven", "pump")


def test_with_power_for_everything_no_room_is_off(ample):
    """A plan that covers all keeps every room as the utility would: 0 degF·h off, on every day."""
    rooms = ample.rooms()
    assert {(one.id, one.day) for one in rooms} == {
        ("bedroom", "cold"), ("pump", "hot"), ("pump", "cold")}
    assert all(one.degree_h == 0.0 == one.unlivable_h for one in rooms)
    assert all(one.worst_degf == pytest.approx(one.utility_degf, abs=0.6) for one in rooms)
    assert not any("livable" in one for one in verdict_sentences(ample))


def test_the_set_points_are_those_of_the_home(ample):
    """68 degF when it heats, 78 when it cools."""
    assert {one.day: one.set_degf for one in ample.rooms() if one.id == "pump"} == {
        "hot": 78.0, "cold": 68.0}


def test_a_room_that_is_starved_shows_its_temperature(tight):
    """Cold in winter, hot in summer, and what the utility would keep beside it."""
    found = {one.day: one for one in tight.rooms() if one.id == "pump"}
    hot, cold = found["hot"], found["cold"]
    assert hot.worst_degf > 86.0 > hot.utility_degf > 78.0
    assert cold.worst_degf < 54.0 < cold.utility_degf < 68.0
    assert min(hot.degree_h, cold.degree_h) > 20.0
    assert min(hot.unlivable_h, cold.unlivable_h) > 1.0
    said = [one for one in verdict_sentences(tight)
            if one.startswith("Not livable, ") and ": pump, " in one]
    assert len(said) == 2
    assert f"{cold.worst_degf:.0f} degF" in said[1]


def test_a_room_that_the_plan_leaves_off_is_shown_but_not_held_against_it():
    """The family gave it up; its temperature stands in the table, the verdict is silent."""
    found = played(20.0, off=("board",), one=replace(house(), loads=tuple(
        replace(one, allowed=frozenset({"direct", "off"})) for one in house().loads)))
    bedroom = next(one for one in found.rooms() if one.id == "bedroom")
    assert not bedroom.connected
    assert bedroom.worst_degf < 54.0
    assert verdict_sentences(found) == []


def test_a_room_holds_what_is_said_in_data_and_tables(tight):
    """JSON and table give the same temperatures [degF]."""
    data = json.loads(json.dumps(outage_data(tight, Settings(), complete=True, log=None)))["rooms"]
    assert set(data) == {"bedroom", "pump"}
    assert data["pump"]["loads"] == ["pump"]
    table = frame(room_table(tight))
    assert len(table) == 3
    for row, one in zip(table.itertuples(), tight.rooms(), strict=True):
        told = data[one.id]["days"][one.day]
        assert row.worst_degf == one.worst_degf == pytest.approx(told["worst_degf"], abs=1e-6)
        assert told["with_utility_degf"] == pytest.approx(one.utility_degf, abs=1e-6)
        assert told["season"] == ("cooled" if one.day == "hot" else "heated")
