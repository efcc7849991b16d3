"""What a file says of comforts is taken, and what it leaves out is filled and marked."""

from __future__ import annotations

import pytest

from planner.case.library import groups, kinds
from planner.facts.comfort import Promise
from tests.case.files import HEAD, load_text, read_text

AIR = load_text("air", "central air conditioner", 'requires = ["blower"]')
BLOWER = load_text("blower", "furnace blower", 'room = "Main floor"')
RANGE = load_text("range", "range")
HOUSE = (AIR + BLOWER + RANGE + load_text("oven", "wall oven") + load_text("tank",
         "electric water heater") + load_text("fridge", "refrigerator")
         + load_text("lights", "lighting and receptacles") + load_text("router", "router")
         + load_text("dryer", "electric dryer") + load_text("washer", "clothes washer")
         + load_text("sump", "sump pump") + load_text("car", "vehicle charger"))


def comfort_text(comfort_id, *lines):
    """Text of one comfort."""
    return "\n".join(["", "[[comforts]]", f'id = "{comfort_id}"', *lines, ""])


def comforts(folder, *texts):
    """Comforts of a home by their id."""
    return {one.id: one for one in read_text(folder, HEAD + "".join(texts)).comforts}


def keys(comfort):
    """What of a comfort is assumed."""
    return {one.key for one in comfort.assumed}


def test_the_library_says_which_comfort_a_load_serves(tmp_path):
    """Rooms by their thermostat, one for each store, one for all tasks and clocks alike."""
    home = read_text(tmp_path, HEAD + HOUSE)
    assert {one.id: (one.label, one.kind, one.loads) for one in home.comforts} == {
        "main-floor": ("Main floor", "room", ("air", "blower")),
        "hot-water": ("Hot water", "hot water", ("tank",)),
        "meals": ("Meals", "meals", ("oven", "range")),
        "laundry": ("Clean clothes", "task", ("dryer", "washer")),
        "car": ("Miles in the car", "car", ("car",)),
        "food": ("Food", "food", ("fridge",)),
        "pit": ("Sump pit", "pit", ("sump",)),
        "light-and-outlets": ("Light and outlets", "clock", ("lights",)),
        "network": ("Internet and office", "clock", ("router",)),
    }
    assert all(load.comfort and "comfort" in {one.key for one in load.assumed}
               for load in home.loads)


def test_importance_unless_the_family_says_otherwise(tmp_path):
    """As the design lists it, and marked as assumed."""
    found = comforts(tmp_path, HOUSE, load_text("window", "room air conditioner"),
                     load_text("spa", "spa"), load_text("dishwasher", "dishwasher"))
    assert {name: one.importance for name, one in found.items()} == {
        "main-floor": 5, "window": 3, "hot-water": 4, "meals": 4, "laundry": 2, "car": 2,
        "dishes": 1, "food": 5, "pit": 5, "light-and-outlets": 4, "network": 3, "spa": 0}
    assert all("importance" in keys(one) for one in found.values())
    assert found["pit"].must_run
    assert not found["food"].must_run


def test_a_comfort_takes_the_highest_importance_of_its_loads(tmp_path):
    """Of those that have one; and each load has that of its comfort."""
    text = HEAD + AIR + BLOWER + load_text("range", "range", "importance = 2") + load_text(
        "oven", "wall oven", "importance = 3") + load_text("micro", "microwave")
    home = read_text(tmp_path, text)
    meals = next(one for one in home.comforts if one.id == "meals")
    assert meals.importance == 3
    assert "importance" not in keys(meals)
    assert {home.load(name).importance for name in meals.loads} == {3}


def test_an_unranked_light_counts_as_usual_beside_a_ranked_one(tmp_path):
    """A light by the pool that hardly matters does not make all light matter less."""
    pool = load_text("pool", "lighting and receptacles", "importance = 1")
    assert comforts(tmp_path, pool)["light-and-outlets"].importance == 1
    both = comforts(tmp_path, pool, load_text("lights", "lighting and receptacles"))
    assert both["light-and-outlets"].importance == 4


def test_a_comfort_of_the_file_says_what_matters(tmp_path):
    """Its own importance beats that of its loads; label, must-run, set points are taken."""
    found = comforts(
        tmp_path, HOUSE, comfort_text("meals", "importance = 1", "must_run = true"),
        comfort_text("main-floor", 'label = "Downstairs"', 'time_constant = "20 h"',
                     'heating_set_point = "64 degF"', 'cooling_set_point = "80 degF"'))
    assert (found["meals"].importance, found["meals"].must_run) == (1, True)
    room = found["main-floor"]
    assert (room.label, room.time_constant_h) == ("Downstairs", 20.0)
    assert (room.heating_set_degf, room.cooling_set_degf) == (64.0, 80.0)
    assert "time_constant" not in keys(room)


def test_must_run_of_a_comfort_means_its_first_load_and_of_a_load_that_load(tmp_path):
    """The first of the meals is the oven, by id; the range may be refused."""
    home = read_text(tmp_path, HEAD + HOUSE + comfort_text("meals", "must_run = true"))
    assert [load.id for load in home.loads if load.must_run] == ["oven", "sump"]
    text = HOUSE.replace('kind = "range"', 'kind = "range"\nmust_run = true')
    home = read_text(tmp_path, HEAD + text)
    assert [load.id for load in home.loads if load.must_run] == ["range", "sump"]
    assert not next(one for one in home.comforts if one.id == "meals").must_run


def test_what_must_run_by_the_library_can_be_given_up(tmp_path):
    """At the comfort or at the load."""
    home = read_text(tmp_path, HEAD + HOUSE + comfort_text("pit", "must_run = false"))
    assert not home.load("sump").must_run
    assert "must_run" not in {one.key for one in home.load("sump").assumed}
    text = HOUSE.replace('kind = "sump pump"', 'kind = "sump pump"\nmust_run = false')
    home = read_text(tmp_path, HEAD + text)
    assert not home.load("sump").must_run
    assert not next(one for one in home.comforts if one.id == "pit").must_run


def test_loads_of_a_comfort_stand_in_the_order_of_the_file(tmp_path):
    """The list is the order of the stages; what is left out of it keeps a comfort of its own."""
    found = comforts(tmp_path, HOUSE, load_text("micro", "microwave"),
                     comfort_text("meals", 'loads = ["range", "oven"]'),
                     comfort_text("house", 'loads = ["blower", "air"]'))
    assert found["meals"].loads == ("range", "oven")
    assert found["meals-others"].loads == ("micro",)
    assert found["house"].loads == ("blower", "air")
    assert "main-floor" not in found


def test_a_load_names_the_comfort_that_it_serves(tmp_path):
    """One of the library's, one of the file's, or none."""
    home = read_text(tmp_path, HEAD + HOUSE + comfort_text("studio") + load_text(
        "kiln", "kiln", 'comfort = "studio"') + load_text("saw", "workshop tools",
        'comfort = "studio"') + load_text("iron", "iron", 'comfort = "dishes"') + load_text(
        "dishwasher", "dishwasher") + load_text("spare", "spa", 'comfort = "none"'))
    found = {one.id: one.loads for one in home.comforts}
    assert found["studio"] == ("kiln", "saw")
    assert found["dishes"] == ("dishwasher", "iron")
    assert (home.load("spare").comfort, home.load("spare").importance) == ("", 0)
    assert "comfort" not in {one.key for one in home.load("spare").assumed}


def test_two_tanks_are_two_comforts_told_apart(tmp_path):
    """By the id and the label of their load."""
    found = comforts(tmp_path, load_text("guest", "electric water heater"),
                     load_text("main", "electric water heater"))
    assert {name: one.label for name, one in found.items()} == {
        "hot-water-guest": "Hot water (Guest)", "hot-water-main": "Hot water (Main)"}


def test_what_follows_the_hour_is_no_task(tmp_path):
    """A range with a duty by the hour is wanted by the clock; a dryer at its events is a task."""
    duty = ", ".join(["0.5"] * 24)
    home = read_text(tmp_path, HEAD + RANGE + load_text(
        "plate", "cooktop", f'use.every = {{ kind = "duty", hours = [{duty}] }}'))
    assert [(load.id, load.nature, load.comfort) for load in home.loads] == [
        ("range", "task", "meals"), ("plate", "clock", "meals-by-the-hour")]
    assert {one.id: one.kind for one in home.comforts} == {
        "meals": "meals", "meals-by-the-hour": "clock"}


def test_what_follows_the_weather_holds_a_room(tmp_path):
    """Whatever its kind; an air handler that others need is only woken."""
    home = read_text(tmp_path, HEAD + load_text(
        "floor", "radiant floor heat", 'size = "100 ft^2"',
        'use.winter = { kind = "heating", balance = "60 degF" }') + load_text(
        "pump", "heat pump", 'requires = ["handler"]') + load_text("handler", "air handler"))
    assert [load.nature for load in home.loads] == ["room", "room", "woken"]
    assert home.load("handler").comfort == ""
    assert {one.id: one.loads for one in home.comforts} == {"floor": ("floor",),
                                                            "handler": ("pump",)}


def test_pauses(tmp_path):
    """A meal one slot, what is interruptible as long as it may wait, what must not be cut none."""
    home = read_text(tmp_path, HEAD + RANGE + load_text("dryer", "electric dryer") + load_text(
        "washer", "clothes washer") + load_text("own", "sauna", 'pause = "40 min"') + load_text(
        "kiln", "kiln", "interruptible = true", 'wait = "2 h"') + load_text(
        "pool", "pool pump", "interruptible = false") + load_text(
        "saw", "workshop tools", 'restarts = "must not"', 'connections = ["direct"]'))
    assert {load.id: load.pause_slots for load in home.loads} == {
        "range": 1, "dryer": 24, "washer": 0, "own": 2, "kiln": 8, "pool": 0, "saw": 0}
    assumed = {load.id for load in home.loads if any(one.key == "pause" for one in load.assumed)}
    assert assumed == {"range", "dryer", "washer"}


def test_a_stage_comes_on_as_far_behind_as_the_file_says(tmp_path):
    """Else as is usual, which the planner knows."""
    home = read_text(tmp_path, HEAD + load_text("a", "heat pump back-up heat", 'behind = "4 degF"')
                     + load_text("b", "heat pump back-up heat"))
    assert [load.behind_degf for load in home.loads] == [4.0, None]


@pytest.mark.parametrize(("said", "days"), [
    ("1 day", 1), ("3 days", 3), ("48 h", 2), ("14 days", 14)])
def test_the_spell_is_whole_days(tmp_path, said, days):
    """In any unit of time."""
    text = HEAD.replace('spell = "3 days"', f'spell = "{said}"')
    assert read_text(tmp_path, text + RANGE).spell_days == days


def test_the_refuge_is_the_most_important_room_of_its_season(tmp_path):
    """Must-run first, then importance, then id; nobody stays in an attic."""
    winter = load_text("den", "electric baseboard heat", "importance = 4")
    found = comforts(tmp_path, AIR, BLOWER, winter, load_text("attic", "attic fan"))
    assert {name: one.refuge for name, one in found.items()} == {
        "main-floor": {"summer", "winter"}, "den": set(), "attic": set()}
    found = comforts(tmp_path, AIR.replace("requires", "importance = 3\nrequires"), BLOWER, winter)
    assert {name: one.refuge for name, one in found.items()} == {
        "main-floor": {"summer"}, "den": {"winter"}}
    must = BLOWER.replace("room", "must_run = true\nroom")
    found = comforts(tmp_path, AIR.replace("requires", "importance = 3\nrequires"), must, winter)
    assert found["main-floor"].refuge == {"summer", "winter"}
    assert "refuge" in keys(found["main-floor"])


def test_the_family_picks_the_refuge(tmp_path):
    """For a season, or rules a room out with an empty list."""
    den = load_text("den", "electric baseboard heat")
    found = comforts(tmp_path, AIR, BLOWER, den, comfort_text("den", 'refuge = ["winter"]'))
    assert (found["den"].refuge, found["main-floor"].refuge) == ({"winter"}, {"summer"})
    assert "refuge" not in keys(found["den"])
    found = comforts(tmp_path, AIR, BLOWER, den, comfort_text("main-floor", "refuge = []"))
    assert (found["den"].refuge, found["main-floor"].refuge) == ({"winter"}, frozenset())


def test_promises_unless_the_family_says_otherwise(tmp_path):
    """Refuge 60 and 82 degF, other rooms the livable band, food and pit safe, meals not cut."""
    found = comforts(tmp_path, HOUSE, load_text("den", "electric baseboard heat"),
                     load_text("tape", "heat tape"), load_text("unloved",
                     "room air conditioner", "importance = 0"))
    assert {name: one.promise for name, one in found.items() if one.promise is not None} == {
        "main-floor": Promise(coldest_degf=60.0, warmest_degf=82.0),
        "den": Promise(coldest_degf=54.0), "meals": Promise(uncut=True),
        "food": Promise(safe=True), "pit": Promise(safe=True)}
    assert all("promise" in keys(one) for one in found.values() if one.promise is not None)
    found = comforts(tmp_path, load_text("range", "range", "importance = 3"))
    assert found["meals"].promise is None


def test_a_promise_is_never_closer_to_the_set_point_than_what_nobody_minds(tmp_path):
    """A house at 60 degF is promised 57; one cooled to 84 is promised 87."""
    found = comforts(tmp_path, AIR, BLOWER, comfort_text(
        "main-floor", 'heating_set_point = "60 degF"', 'cooling_set_point = "84 degF"'))
    assert found["main-floor"].promise == Promise(coldest_degf=57.0, warmest_degf=87.0)


@pytest.mark.parametrize(("name", "said", "promise"), [
    ("main-floor", '"64 degF"', Promise(coldest_degf=64.0, warmest_degf=82.0)),
    ("main-floor", '["84 degF", "58 degF"]', Promise(coldest_degf=58.0, warmest_degf=84.0)),
    ("main-floor", '"none"', None), ("meals", '"none"', None),
    ("meals", '"no meal cut"', Promise(uncut=True)), ("laundry", '"never cut"',
                                                      Promise(uncut=True)),
    ("hot-water", '"no cold shower"', Promise(cold_showers=0.0)),
    ("hot-water", '"at most 1 cold shower"', Promise(cold_showers=1.0)),
    ("hot-water", '"At most 2 cold showers"', Promise(cold_showers=2.0)),
    ("car", '"40 mi by 7:00"', Promise(miles=40.0, by_h=7.0)),
    ("car", '"62.5 miles by 16:30"', Promise(miles=62.5, by_h=16.5)),
    ("food", '"food safe"', Promise(safe=True)), ("pit", '"never full"', Promise(safe=True)),
])
def test_a_promise_of_the_file_is_taken(tmp_path, name, said, promise):
    """One side of a room leaves the other as it is; "none" takes a promise off; none is marked."""
    found = comforts(tmp_path, HOUSE, comfort_text(name, f"promise = {said}"))[name]
    assert found.promise == promise
    assert "promise" not in keys(found)


def test_what_matters_is_off_only_where_the_file_allows_it(tmp_path):
    """With whole-house transfer; what does not matter may be switched off by hand."""
    loads = load_text("dryer", "electric dryer") + load_text("spa", "spa") + load_text(
        "own", "electric dryer", 'connections = ["direct", "module", "off"]')
    home = read_text(tmp_path, HEAD + loads)
    assert home.load("dryer").allowed == {"direct", "module"}
    assert home.load("own").allowed == {"direct", "module", "off"}
    assert home.load("spa").allowed == {"direct", "module", "off", "by hand"}
    text = next(one.text for one in home.load("spa").assumed if one.key == "connections")
    assert text == "by hand, direct, module, off"
    home = read_text(tmp_path, HEAD.replace("whole-house", "selected-circuits") + loads)
    assert home.load("dryer").allowed == {"direct", "module", "off"}


def test_a_wait_is_only_that_of_a_task_or_a_car(tmp_path):
    """What keeps a level has none, whatever the file says; the library says none either."""
    home = read_text(tmp_path, HEAD + load_text("tank", "electric water heater", 'wait = "2 h"')
                     + load_text("car", "vehicle charger") + load_text("dryer", "electric dryer"))
    assert [load.wait_h for load in home.loads] == [0.0, 8.0, 6.0]
    assert all((kind.wait is None) == (kind.nature not in ("task", "battery"))
               for kind in kinds().values())


def test_every_kind_serves_a_comfort_of_the_library_or_a_room():
    """And every comfort of the library is served by some kind."""
    named = {kind.comfort for kind in kinds().values() if kind.comfort is not None}
    assert named | {"room"} == set(groups())
    assert all(kind.nature in ("room", "woken") for kind in kinds().values()
               if kind.comfort is None)


def test_the_order_of_the_file_changes_no_comfort(tmp_path):
    """Loads turned round, the same comforts."""
    blocks = [f"\n[[loads]]{part}" for part in HOUSE.split("\n[[loads]]")[1:]]
    assert read_text(tmp_path, HEAD + HOUSE).comforts == read_text(
        tmp_path, HEAD + "".join(reversed(blocks))).comforts
