"""Comforts and the loads that serve them."""

from __future__ import annotations

from dataclasses import replace

from planner.facts.comfort import Comfort, Promise
from planner.facts.home import Use
from planner.wiring.comforts import ALONE, KIND_OF, ORDER, in_order, seasons_of, with_comforts
from planner.wiring.promises import promise_text
from planner.wiring.rooms import only_woken, rooms_of
from tests.homes import home, load

COOLS = {"summer": Use(kind="cooling")}
HEATS = {"winter": Use(kind="heating")}
BOTH = {**COOLS, **HEATS}


def year(*loads):
    """A home with a summer and a winter day, without comforts."""
    one = home(*loads)
    (day,) = one.days
    return replace(one, comforts=(), days=(
        replace(day, id="hot", season="summer", weight=0.5, high_degf=95.0),
        replace(day, id="cold", season="winter", weight=0.5, low_degf=10.0, high_degf=20.0)))


def test_every_nature_serves_one_kind_and_every_kind_has_a_place():
    """What is only woken serves none; meals are tasks that a file groups."""
    assert set(KIND_OF.values()) | {"meals"} == set(ORDER)
    assert "woken" not in KIND_OF
    assert set(ORDER) > ALONE


def test_loads_take_what_their_comfort_says():
    """Importance is the comfort's, 0 without one; must-run of a comfort is that of its first."""
    one = year(load("a", 1.0, importance=1), load("b", 1.0, importance=2),
               load("spare", 1.0, importance=5), load("own", 1.0, must_run=True))
    found = with_comforts(one, (
        Comfort("light", "Light", "clock", ("b", "a"), 4, must_run=True),
        Comfort("own", "Own", "clock", ("own",), 0)))
    assert [(ld.id, ld.comfort, ld.importance, ld.must_run) for ld in found.loads] == [
        ("a", "light", 4, False), ("b", "light", 4, True), ("spare", "", 0, False),
        ("own", "own", 0, True)]


def test_the_order_of_comforts_is_by_kind_and_id():
    """However they are given."""
    some = [Comfort(name, name, kind, (name,), 1)
            for name, kind in (("b", "clock"), ("z", "room"), ("a", "clock"), ("m", "food"))]
    assert [one.id for one in in_order(some)] == ["z", "m", "a", "b"]
    assert in_order(some[::-1]) == in_order(some)


def test_a_blower_that_is_needed_in_its_only_season_is_woken():
    """One that heats by itself in winter is not; an air handler has no heat of its own."""
    pump = load("pump", 3.0, kind="heat pump", use=COOLS, requires=("blower",))
    blower = load("blower", 0.5, kind="furnace blower", use=BOTH)
    assert only_woken(year(pump, blower)) == set()
    assert only_woken(year(pump, replace(blower, use=COOLS))) == {"blower"}
    assert only_woken(year(pump, replace(blower, kind="air handler"))) == {"blower"}
    assert only_woken(year(replace(pump, use=BOTH), blower)) == {"blower"}
    assert only_woken(year(replace(blower, kind="air handler"))) == set()


def test_a_circle_wakes_nobody():
    """Two loads that need each other are an error elsewhere; neither is taken for woken here."""
    one = load("a", 1.0, use=BOTH, requires=("b",))
    other = load("b", 1.0, use=BOTH, requires=("a",))
    assert only_woken(year(one, other)) == set()


def test_the_rooms_of_a_home_with_comforts_are_its_comforts():
    """In the order that they give their loads, those left out of the home passed over."""
    one = year(load("a", 1.0, use=BOTH), load("b", 1.0, use=HEATS))
    den = Comfort("den", "Den", "room", ("b", "gone", "a"), 3)
    found = rooms_of(replace(one, comforts=(den, Comfort("x", "X", "clock", ("c",), 1))))
    assert [(room.id, room.label, room.loads) for room in found] == [("den", "Den", ("b", "a"))]


def test_a_room_is_held_on_the_sides_of_its_loads():
    """Cooled, heated, or both over the year."""
    one = year(load("a", 1.0, use=COOLS), load("b", 1.0, use=HEATS))
    rooms = [Comfort("r", "R", "room", names, 1) for names in (("a",), ("b",), ("a", "b"))]
    assert [seasons_of(one, room) for room in rooms] == [
        (True, False), (False, True), (True, True)]


def test_promises_are_said_as_a_file_writes_them():
    """Both sides of a room, showers, miles by an hour, and what is simply kept."""
    assert [promise_text(one) for one in (
        None, Promise(coldest_degf=60.0, warmest_degf=82.5), Promise(uncut=True),
        Promise(safe=True), Promise(cold_showers=0.0), Promise(cold_showers=1.0),
        Promise(cold_showers=2.0), Promise(miles=40.0, by_h=7.0))] == [
        "", "60 degF, 82.5 degF", "never cut", "safe", "no cold shower",
        "at most 1 cold shower", "at most 2 cold showers", "40 mi by 7:00"]
