"""Which loads heat or cool the same room: by name, by what they blow through, else each its own."""

from __future__ import annotations

import random
from dataclasses import replace

from planner.facts.home import Use
from planner.wiring.rooms import rooms_by_rule
from tests.homes import base, home, load

COOLS = {"summer": Use("cooling", balance_degf=70.0)}
HEATS = {"winter": Use("heating", balance_degf=60.0, design_degf=10.0)}
BOTH = COOLS | HEATS


def rooms(*loads):
    """Ids of the loads of every room."""
    return {room.id: room.loads for room in rooms_by_rule(home(*loads))}


def heat_pump_house():
    """Heat pump and two stages of back-up heat behind one air handler."""
    through = {"requires": ("handler",)}
    return (load("z-pump", 3.0, kind="heat pump", compressor=True, use=BOTH, **through),
            load("stage-2", 5.0, kind="heat pump back-up heat", use=HEATS, **through),
            load("stage-1", 5.0, kind="heat pump back-up heat", use=HEATS, **through),
            load("handler", 0.5, kind="air handler", use=BOTH))


def test_what_blows_through_one_air_mover_is_one_room():
    """Compressors first, back-up heat last and in the order of the file."""
    assert rooms(*heat_pump_house()) == {"handler": ("z-pump", "handler", "stage-2", "stage-1")}


def test_back_up_heat_belongs_to_the_heat_pump():
    """Without an air mover between them it has the room of the first heat pump, by id."""
    pumps = [load(name, 3.0, kind="heat pump", compressor=True, use=BOTH) for name in ("b", "a")]
    strip = load("strip", 5.0, kind="heat pump back-up heat", use=HEATS)
    assert rooms(*pumps, strip) == {"a": ("a", "strip"), "b": ("b",)}
    assert rooms(strip) == {"strip": ("strip",)}


def test_window_units_and_baseboards_have_rooms_by_rule_their_own():
    """Nothing joins them, so each holds its own."""
    window = load("window", 1.0, kind="room air conditioner", use=COOLS)
    board = load("board", 1.5, kind="electric baseboard heat", use=HEATS)
    assert rooms(window, board, base(1.0)) == {"window": ("window",), "board": ("board",)}


def test_a_name_joins_and_divides():
    """Loads of one name share a room; a named one leaves the room of its air mover."""
    window = load("window", 1.0, kind="room air conditioner", use=COOLS, room="bedroom")
    board = load("board", 1.5, kind="electric baseboard heat", use=HEATS, room="bedroom")
    pump, second, first, handler = heat_pump_house()
    assert rooms(window, board, pump, replace(second, room="den"), first, handler) == {
        "bedroom": ("board", "window"), "den": ("stage-2",),
        "handler": ("z-pump", "handler", "stage-1")}


def test_one_furnace_under_two_named_air_conditioners_serves_the_first():
    """Both leave its room, so the furnace belongs to the first of theirs, by name."""
    furnace = load("furnace", 0.5, kind="gas furnace", use=HEATS)
    up = load("a-up", 3.0, use=COOLS, requires=("furnace",), room="up")
    down = load("b-down", 3.0, use=COOLS, requires=("furnace",), room="down")
    assert rooms(furnace, up, down) == {"down": ("b-down", "furnace"), "up": ("a-up",)}
    assert rooms(furnace, replace(up, room=""), down) == {
        "down": ("b-down",), "furnace": ("a-up", "furnace")}


def test_a_named_air_mover_takes_its_loads_along():
    """The name of the furnace is that of the room of what blows through it."""
    furnace = load("furnace", 0.5, kind="gas furnace", use=HEATS, room="house")
    air = load("air", 3.0, use=COOLS, requires=("furnace",))
    assert rooms(furnace, air) == {"house": ("air", "furnace")}


def test_circulators_of_one_boiler_are_zones():
    """A boiler moves no air: what needs it does not share a room by that."""
    boiler = load("boiler", 0.2, kind="gas boiler", use=HEATS)
    zones = [load(f"zone-{n}", 0.1, kind="boiler circulator", use=HEATS, requires=("boiler",))
             for n in (1, 2)]
    assert set(rooms(boiler, *zones)) == {"boiler", "zone-1", "zone-2"}


def test_a_pipe_is_no_room_to_live_in():
    """Heat tape keeps a temperature of its own, but nobody is cold there."""
    found = {room.id: room.lived_in for room in rooms_by_rule(home(
        load("tape", 0.3, kind="heat tape", use=HEATS),
        load("board", 1.5, kind="electric baseboard heat", use=HEATS)))}
    assert found == {"tape": False, "board": True}


def test_the_order_of_the_file_changes_no_room():
    """Shuffled, the same rooms with the same loads, and the same stages but for back-up heat."""
    loads = [*heat_pump_house(), load("window", 1.0, use=COOLS), base(1.0),
             load("attic", 0.2, kind="attic fan", use=COOLS)]
    there = rooms(*loads)
    for seed in range(20):
        random.Random(seed).shuffle(loads)
        now = rooms(*loads)
        assert {key: set(one) for key, one in now.items()} == {
            key: set(one) for key, one in there.items()}
        assert now["handler"][:2] == there["handler"][:2]
