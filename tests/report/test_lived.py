"""Comforts of simulated outages in words, tables and data."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from planner.facts.comfort import Comfort, Promise
from planner.facts.home import DesignDay
from planner.report.comforts.lived_words import promise_sentences
from planner.report.outage import outage_data
from planner.report.tables.lived import lived_table
from planner.simulation.outcome.results import Results
from planner.simulation.run import outages
from planner.simulation.settings import Settings
from tests.homes import base, car, food, generator, home, room, task
from tests.simulation.plans import plan_of

HOT = DesignDay("hot", "Hot day", "summer", 1.0, 74.0, 97.0)
HOURS = 48.0


@pytest.fixture(scope="module")
def results():
    """A room that is promised 80 degF, a meal and a refrigerator; two seeds of two days."""
    hall = Comfort("hall", "Hall", "room", ("air",), 5, promise=Promise(warmest_degf=80.0))
    supper = Comfort("supper", "Supper", "meals", ("range",), 4, promise=Promise(uncut=True))
    house = home(base(0.5), room("air", 3.0, comfort="hall"),
                 task("range", 4.0, (18.0, 1.0), comfort="supper", pause_slots=1),
                 food("fridge", importance=5), comforts=(hall, supper), days=(HOT,))
    plan = plan_of(house, generator(20.0, 5000.0), "range")
    return Results(plan, HOURS, tuple(outages(plan, seeds=2, hours=HOURS)))


def worse(results, comfort_id, **figures):
    """The same outages with some figures of one comfort set to others in the first of them."""
    first, *others = results.summaries
    comforts = tuple(replace(one, **figures) if one.id == comfort_id else one
                     for one in first.comforts)
    return Results(results.plan, results.hours, (replace(first, comforts=comforts), *others))


def cells(results):
    """Rows of the table by comfort, cells by heading."""
    table = lived_table(results)
    return {row[0]: dict(zip(table.headings, row, strict=True)) for row in table.cells}


def test_what_is_kept_is_said_in_the_words_of_the_plan(results):
    """With power for all: temperatures of both, and nothing cut or spoiled."""
    found = cells(results)
    assert found["Hall"]["Worst, simulated"].startswith("no warmer than 7")
    assert found["Supper"]["Worst, simulated"] == found["Supper"]["Worst, planned"] == "never cut"
    assert found["fridge"]["Worst, simulated"] == "food safe"
    assert found["Supper"]["Kept, simulated"] == "100 %"
    assert promise_sentences(results) == []


def test_the_worst_outage_is_shown(results):
    """A supper that was cut once, food that was lost."""
    found = cells(worse(results, "supper", worst=1.0, lost=1.0))
    assert found["Supper"]["Worst, simulated"] == "1 of 1 meal cut"
    assert found["Supper"]["Kept, simulated"] == "50.0 %"
    assert cells(worse(results, "fridge", worst=1.0))["fridge"]["Worst, simulated"] == "food spoils"


@pytest.mark.parametrize(("figures", "said"), [
    ({"worst": 80.9}, None), ({"worst": 83.2}, "Hall, Hot day: 83 degF, in 1 of 2 outages"),
    ({"worst": 83.2, "utility_worst": 83.0}, None)])
def test_a_promise_about_a_room_is_held_within_a_degree_and_the_utility(results, figures, said):
    """A degree is not told, nor what the utility does not keep."""
    told = promise_sentences(worse(results, "hall", **figures))
    assert told == ([] if said is None else [f"Promises that an outage did not keep: {said}."])


def test_a_meal_that_is_cut_breaks_its_promise(results):
    """Said with how often."""
    assert promise_sentences(worse(results, "supper", worst=1.0)) == [
        "Promises that an outage did not keep: Supper, Hot day: 1 of 1 meal cut, in 1 of 2 "
        "outages."]


@pytest.fixture(scope="module")
def driven():
    """A car that is promised 190 miles by 7:30 and is away from 6 to 18 h; charged, and never."""
    wagon = Comfort("wagon", "Wagon", "car", ("car",), 3, promise=Promise(miles=190.0, by_h=7.5))
    house = home(base(0.5), car("car", comfort="wagon", allowed=frozenset({"direct", "off"})),
                 comforts=(wagon,), days=(HOT,))
    return tuple(
        Results(plan, HOURS, tuple(outages(plan, seeds=1, hours=HOURS)))
        for plan in (plan_of(house, generator(20.0, 5000.0)),
                     plan_of(house, generator(20.0, 5000.0), off=("car",))))


def test_the_hour_of_a_car_is_held_against_its_promise(driven):
    """Full in the morning it keeps it; without a charge 72 miles a day are missing."""
    charged, never = driven
    assert charged.summaries[0].comforts[0].by_hour == pytest.approx(200.0, abs=0.1)
    assert promise_sentences(charged) == []
    lived = never.summaries[0].comforts[0]
    assert lived.by_hour == pytest.approx(200.0 - 72.0, abs=20.0)
    assert lived.utility_by_hour == pytest.approx(200.0, abs=0.1)
    assert promise_sentences(never) == [
        f"Promises that an outage did not keep: Wagon, Hot day: {int(lived.by_hour)} of 190 miles "
        "by 7:30, in 1 of 1 outages."]


def test_data_hold_every_comfort_in_its_unit(results):
    """Kept with its interval, worst, and every design day; fit for JSON."""
    data = json.loads(json.dumps(outage_data(results, Settings(), complete=True, log=None)))
    hall = data["comforts"]["hall"]
    assert (hall["unit"], hall["kind"], hall["day"]) == ("degF", "room", "hot")
    assert hall["days"]["hot"].keys() == {
        "kept", "planned_kept", "worst", "usual", "with_utility", "planned"}
    assert hall["worst"] == pytest.approx(results.comforts()[0].days[0].worst, abs=1e-5)
    assert data["comforts"]["supper"]["kept"]["mean"] == 1.0
