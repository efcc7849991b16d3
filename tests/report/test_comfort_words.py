"""What a comfort is like is said in its unit, and never better than it is."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.facts.comfort import Comfort, Promise
from planner.facts.home import DesignDay, Use
from planner.report.comforts.comfort_words import (
    comfort_phrase,
    comfort_sentence,
    day_phrase,
    hardest_day,
    is_as_usual,
    shown_days,
)
from planner.report.comforts.promise_words import beyond_promise_sentences, promise_words
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from planner.service.house import house_of
from planner.service.replay import Service, replay
from planner.service.supply import supply_of
from tests.homes import ALL, base, car, clock, events, food, home, load, room, task
from tests.homes import tank as water_heater
from tests.report.plans import book, generator

DAYS = (DesignDay("mild", "mild day", "mild", 1.0, 60.0, 70.0),
        DesignDay("hot", "hot day", "summer", 1.0, 80.0, 95.0),
        DesignDay("cold", "cold day", "winter", 1.0, 10.0, 20.0))
AIR = {"summer": room("x", 1.0).use["every"], "mild": Use(kind="never"),
       "winter": Use(kind="never")}
HEAT = {"winter": room("x", 1.0, cools=False).use["every"], "mild": Use(kind="never"),
        "summer": Use(kind="never")}
MEALS = Comfort("meals", "Supper", "meals", ("range",), 4)
LOADS = (
    base(0.5, label="Lights"),
    room("air", 3.0, comfort="floor", use=AIR, allowed=ALL),
    room("heat", 3.0, comfort="floor", cools=False, use=HEAT, allowed=ALL),
    water_heater("tank", label="Hot water", allowed=ALL),
    task("range", 5.0, (7.0, 0.5), (18.0, 1.0), comfort="meals", pause_slots=1, allowed=ALL),
    task("washer", 2.0, (9.0, 1.0), (14.0, 1.0), wait_h=2.0, allowed=ALL),
    car("car", allowed=ALL), food("fridge", allowed=ALL),
    clock("tv", 0.2, (18.0, 4.0), allowed=ALL))
HOUSE = house_of(home(*LOADS, days=DAYS, comforts=(
    Comfort("floor", "Main floor", "room", ("air", "heat"), 5), MEALS)))
AS_USUAL = {
    "floor": "no warmer than 77 degF", "meals": "never cut", "tank": "always hot",
    "washer": "all done", "car": "all 82 miles by 6:00", "fridge": "food safe", "tv": "as always"}
WITHOUT = {
    "meals": "2 of 2 meals cut", "tank": "no hot water", "washer": "not done",
    "car": "56 of 82 miles by 6:00", "fridge": "food spoils", "tv": "without power"}


def kept_of(house, how, *turns, kw=40.0):
    """Replay connections by load id, the others direct, on an engine that bears any start."""
    sizes = book(generator(kw, 1000.0))
    connection = tuple(how.get(load_id, DIRECT) for load_id in house.ids)
    found = replay(house, supply_of(house, sizes.generators[0], sizes), Choice(
        connection, (0,) * house.count, tuple(house.index(one) for one in turns)))
    assert isinstance(found, Service), str(found)
    return {one.comfort.id: one for one in found.kept}


def test_with_power_for_all_everything_is_as_usual():
    """Each comfort says so in its own words, rooms with what the thermostat lets them drift."""
    found = kept_of(HOUSE, {})
    assert {key: comfort_phrase(one, HOUSE) for key, one in found.items()} == AS_USUAL
    assert all(is_as_usual(one) for one in found.values())


def test_without_power_everything_is_missed():
    """All showers, meals, washes; of 200 miles two days of 72 are gone as the car last leaves."""
    found = kept_of(HOUSE, dict.fromkeys(HOUSE.ids[1:], OFF))
    said = {key: comfort_phrase(one, HOUSE) for key, one in found.items()}
    assert {key: said[key] for key in WITHOUT} == WITHOUT
    assert not any(is_as_usual(one) for one in found.values())


def test_a_sentence_begins_with_the_name_of_the_comfort():
    """So that a list of them can be read alone."""
    found = kept_of(HOUSE, {"range": OFF})
    assert comfort_sentence(found["meals"], HOUSE) == "Supper: 2 of 2 meals cut"


def test_a_room_is_told_for_heat_and_for_cold_and_not_for_days_without_need():
    """The hardest of either season, the harder first; on the mild day nothing is needed."""
    found = kept_of(HOUSE, {"air": OFF})["floor"]
    assert [HOUSE.home.days[day].id for day in shown_days(found, HOUSE)] == ["hot", "cold"]
    assert hardest_day(found, HOUSE) == 1
    assert day_phrase(found, HOUSE, 0) == "not needed"
    assert day_phrase(found, HOUSE, 1).startswith("no warmer than ")
    assert day_phrase(found, HOUSE, 2).startswith("no colder than ")


def test_a_meal_is_counted_among_those_of_the_day():
    """The wash stands in the way of breakfast only."""
    house = house_of(home(
        base(0.5), task("washer", 5.0, (7.0, 0.5)),
        task("range", 5.0, (7.0, 0.5), (18.0, 1.0), comfort="meals"), comforts=(MEALS,)))
    found = kept_of(house, {"washer": MODULE, "range": MODULE}, "washer", "range", kw=8.0)
    assert comfort_phrase(found["meals"], house) == "1 of 2 meals cut"


def at_worst(one, house, value):
    """The same with another worst value on all days."""
    return replace(one, worst=np.full(len(house.weights), value),
                   by_day=np.full(len(house.weights), 0.5))


@pytest.mark.parametrize(("showers", "said"), [
    (0.0, "always hot"), (0.04, "always hot"), (0.06, "one shower lukewarm"),
    (0.5, "one shower lukewarm"), (0.51, "one shower cold"), (1.0, "one shower cold"),
    (1.01, "2 showers cold"), (99.0, "no hot water")])
def test_showers_are_counted_up(showers, said):
    """A part of one is lukewarm, more is cold; a gallon in a day nobody notices."""
    found = kept_of(HOUSE, {})["tank"]
    assert day_phrase(at_worst(found, HOUSE, showers), HOUSE, 1) == said


@pytest.mark.parametrize(("degf", "said"), [
    (78.0, "no warmer than 78 degF"), (78.01, "no warmer than 79 degF"),
    (82.0000001, "no warmer than 82 degF")])
def test_a_cooled_room_is_rounded_up(degf, said):
    """Rounding of floats alone does not make a degree."""
    found = kept_of(HOUSE, {})["floor"]
    assert day_phrase(at_worst(found, HOUSE, degf), HOUSE, 1) == said


@pytest.mark.parametrize(("miles", "said"), [
    (81.99, "81 of 82 miles by 6:00"), (82.0, "all 82 miles by 6:00"),
    (200.0, "all 82 miles by 6:00"), (-3.0, "0 of 82 miles by 6:00")])
def test_miles_are_rounded_down(miles, said):
    """A mile that is not there is not promised. 3 h at 7.2 kW are 72 miles, and 10 to spare."""
    found = kept_of(HOUSE, {})["car"]
    assert day_phrase(at_worst(found, HOUSE, miles), HOUSE, 1) == said


@given(st.floats(40.0, 110.0))
def test_no_room_is_said_to_be_better_than_it_is(degf):
    """For any temperature, in either season; within a degree."""
    found = at_worst(kept_of(HOUSE, {})["floor"], HOUSE, degf)
    warm, cold = (float(day_phrase(found, HOUSE, day).split()[3]) for day in (1, 2))
    assert degf - 1e-5 <= warm < degf + 1.0
    assert degf - 1.0 < cold <= degf + 1e-5


def test_what_the_utility_does_not_keep_either_is_not_blamed_on_the_generator():
    """An air conditioner sized for 78 degF: at 95 it is as warm with the utility."""
    small = replace(room("air", 3.0).use["every"], design_degf=78.0)
    house = house_of(home(base(0.5), room("air", 3.0, use={"every": small}), days=DAYS[1:2]))
    found = kept_of(house, {})["air"]
    assert comfort_phrase(found, house).endswith(" degF, as with the utility")
    assert found.kept == pytest.approx(1.0)


def test_a_car_that_lasts_says_so():
    """200 miles in the battery, three days of 24: nothing is lost without a charge."""
    house = house_of(home(base(0.5), car("car", use=events((18.0, 1.0)), allowed=ALL)))
    found = kept_of(house, {"car": OFF})["car"]
    assert comfort_phrase(found, house) == "needs no charge within 3 days"


def test_what_is_never_wanted_is_said_to_be_so():
    """Neither kept nor missed."""
    house = house_of(home(base(0.5), load("spare", 1.0, use={"every": Use(kind="never")})))
    assert comfort_phrase(kept_of(house, {})["spare"], house) == "not needed"


@pytest.mark.parametrize(("kind", "promise", "said"), [
    ("room", Promise(60.0, 82.0), "60 to 82 degF"),
    ("room", Promise(warmest_degf=82.0), "no warmer than 82 degF"),
    ("room", Promise(coldest_degf=60.0), "no colder than 60 degF"),
    ("meals", Promise(uncut=True), "never cut"), ("food", Promise(safe=True), "food safe"),
    ("pit", Promise(safe=True), "never overflows"),
    ("hot water", Promise(cold_showers=0.0), "no cold shower"),
    ("hot water", Promise(cold_showers=1.0), "at most one shower cold"),
    ("hot water", Promise(cold_showers=2.0), "at most 2 showers cold"),
    ("car", Promise(miles=40.0, by_h=7.0), "40 miles by 7:00"),
    ("car", Promise(miles=40.0), "40 miles"), ("room", None, ""), ("meals", Promise(), "")])
def test_a_promise_is_said_in_its_unit(kind, promise, said):
    """Nothing is said where nothing is promised."""
    assert promise_words(replace(MEALS, kind=kind, promise=promise)) == said


def test_a_promise_that_the_utility_breaks_is_said():
    """Where the air conditioner is sized for 78 degF no generator keeps a room below 82 degF."""
    small = replace(room("air", 3.0).use["every"], design_degf=78.0)
    house = house_of(home(
        base(0.5), room("air", 3.0, use={"every": small}, comfort="room"), days=DAYS[1:2],
        comforts=(Comfort("room", "Upstairs", "room", ("air",), 5, promise=Promise(60.0, 82.0)),)))
    (said,) = beyond_promise_sentences(house)
    assert said.startswith("No generator keeps Upstairs at 82 degF: on hot day it is ")
    assert said.endswith(" degF with the utility.")
    assert beyond_promise_sentences(HOUSE) == ()
