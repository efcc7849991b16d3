"""Families' own lists: how much of them is understood, and each step of it."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from planner.case.library import kinds
from planner.case.read import read_home_text
from planner.editing.lists import Listed, read_list
from planner.editing.new_home import new_home_text
from planner.errors import Severity
from tests.editing.families.scoring import Score, lists_in, score

LISTS = Path(__file__).parent / "families"
CEILING_S = 20.0  # generous: a second, measured
LOADS, FACTS = 0.95, 0.90
"""Of the loads and of the other facts of a list that have to be right."""


@pytest.mark.parametrize("folder", ["first", "second", "third", "fourth"])
def test_families_are_understood(folder: str) -> None:
    """Of messy, terse, chatty and typed-off lists, letters and prose nearly all is right."""
    found = sum((score(name, told) for name, told in lists_in(LISTS / folder)), Score())
    assert found.of_loads > 200
    assert found.loads >= LOADS * found.of_loads, "\n".join(found.wrong)
    assert found.facts >= FACTS * found.of_facts, "\n".join(found.wrong)


def test_the_score_sees_what_is_wrong() -> None:
    """A missing load, one too many, a wrong size, a fact and a wish each cost their share."""
    told = {"text": "fridge\n3 ton AC\n2,000 sq ft house\ndryer can wait",
            "facts": {"floor_area": "2000 ft^2"},
            "loads": [{"kind": ["refrigerator"]}, {"kind": ["central air conditioner"],
                                                   "size": "3 ton"},
                      {"kind": ["electric dryer"], "wish": "can wait"}]}
    right = score("x", told)
    assert (right.loads, right.of_loads, right.facts, right.of_facts) == (3, 3, 2, 2)
    fridge, air, dryer = told["loads"]  # type: ignore[misc]
    for loads, good in (([fridge, air, dryer, {"kind": ["freezer"]}], 3), ([fridge, air], 2),
                        ([fridge, {**air, "size": "4 ton"}, dryer], 2)):  # type: ignore[dict-item]
        found = score("x", {**told, "loads": loads})
        assert found.loads == good
        assert found.of_loads > good
    wrong = {**told, "facts": {"floor_area": "2500 ft^2"},
             "loads": [fridge, air, {**dryer, "wish": "must run"}]}  # type: ignore[dict-item]
    assert score("x", wrong).facts == 0


def read(text: str) -> Listed:
    """Read a list; each row is of a kind that there is."""
    found = read_list(text)
    assert all(row["kind"] in kinds() for row in found.rows)
    return found


def told(text: str, *keys: str) -> list[tuple[object, ...]]:
    """Kinds of the rows, with some of their keys."""
    return [tuple(row.get(key) for key in ("kind", *keys)) for row in read(text).rows]


AC, FRIDGE = "central air conditioner", "refrigerator"


@pytest.mark.parametrize(("text", "rows"), [
    ("two central AC units – one is 4 ton, other is 2.5 ton", [(AC, "4 ton"), (AC, "2.5 ton")]),
    ("two central AC units (4 ton and 2.5 ton)", [(AC, "4 ton"), (AC, "2.5 ton")]),
    ("two ACs, 3 ton each", [(AC, "3 ton"), (AC, "3 ton")]),
    ("window a/c: three 6000 btu, one 12,000 btu", [
        *[("room air conditioner", "6 kBtu/h")] * 3, ("room air conditioner", "12 kBtu/h")]),
    ("AC - I thought 3.5 ton, but the sticker says 4 ton", [(AC, "4 ton")]),
    ("range with double oven", [("range", None)]),
    ("1½ hp well pump", [("well pump", "1.5 hp")]),
    ("The well pump is three quarters of a horsepower.", [("well pump", "0.75 hp")]),
    ("Our AC is three and a half tons.", [(AC, "3.5 ton")]),
    ("60k btu furnace", [("gas furnace", "60 kBtu/h")]),
    ("AC 36,000 btu", [(AC, "3 ton")])])
def test_sizes_belong_to_their_things(text: str, rows: list[tuple[str, str | None]]) -> None:
    """A size goes to what it stands beside; several sizes are shared out over the units."""
    assert told(text, "size") == rows


@pytest.mark.parametrize(("text", "count"), [
    ("chest freezers, 2", 2), ("freezer x3", 3), ("freezers (2)", 2), ("a pair of freezers", 2),
    ("both freezers", 2), ("freezers - two", 2), ("qty 2 freezer", 2), ("2x freezer", 2),
    ("a freezer and a second one in the barn", 2), ("one freezer upstairs and one downstairs", 2),
    ("freezer, 2 ton AC", 1), ("level 2 car charger and a freezer", 1), ("0 freezers", 0),
    ("freezer, 3 bedrooms", 1), ("We used to have a freezer.", 0),
    ("We had a freezer but it was replaced.", 0), ("no freezer", 0),
    ("old freezer, disconnected", 0), ("we sold the freezer", 0)])
def test_counts_in_many_writings(text: str, count: int) -> None:
    """So many rows stand for so many things; what is not there is none."""
    assert [kind for kind, in told(text)].count("freezer") == count


def test_plates_go_to_their_unit() -> None:
    """Figures behind a unit's number, or in its own sentence, are that unit's."""
    text = ("Two AC condensers\nUnit 1: MCA 24.1, MOCP 40, RLA 17.9, LRA 112\n"
            "Unit 2: 2 ton, MCA 13.5, max fuse 20, LRA 58.3\n")
    assert told(text, "size", "mca", "mop", "running", "locked_rotor") == [
        (AC, None, "24.1 A", "40 A", "17.9 A", "112 A"),
        (AC, "2 ton", "13.5 A", "20 A", None, "58.3 A")]
    prose = "The upstairs condenser says 3 ton MCA 21.3 LRA 83, the downstairs AC is 4 ton."
    assert told(prose, "size", "mca") == [(AC, "3 ton", "21.3 A"), (AC, "4 ton", None)]


@pytest.mark.parametrize(("text", "key", "value"), [
    ("2,600 sq ft house", "floor_area", "2600 ft^2"), ("abt 1850sqft", "floor_area", "1850 ft^2"),
    ("2.4k sqft", "floor_area", "2400 ft^2"), ("Main 200A", "service", "200 A"),
    ("a house of twenty-four hundred square feet", "floor_area", "2400 ft^2"),
    ("The square footage on the listing was 1,320.", "floor_area", "1320 ft^2"),
    ("150 amp svc", "service", "150 A"), ("We are at 6,800 ft.", "altitude", "6800 ft"),
    ("nat gas furnace", "fuel", "natural gas"), ("LP furnace", "fuel", "propane"),
    ("no gas at the road, so propane", "fuel", "propane"),
    ("we keep it at 74 in the summer", "cooling_set_point", "74 degF"),
    ("Thermostat: heat 70, cool 75", "heating_set_point", "70 degF"),
    ("it gets to 15 below", "winter_design", "-15 degF"),
    ("The winter design temperature is minus 12 F.", "winter_design", "-12 degF"),
    ("Hottest day: 94 F", "summer_design", "94 degF")])
def test_facts_of_the_house(text: str, key: str, value: str) -> None:
    """Area, service, height, fuel and temperatures go to the house, not into a load."""
    assert dict(read(f"fridge\n{text}").house)["home", key] == value


@pytest.mark.parametrize("text", [
    "the well is 600 ft deep", "a driveway of 1,200 feet", "space heater up to 1500 watts",
    "the pipe is 500 feet", "window unit under 8,000 btu", "40 gal, 2012"])
def test_other_figures_are_no_facts_of_the_house(text: str) -> None:
    """A depth is no altitude, by which the engine would be derated; watts are no money."""
    found = read(f"fridge\n{text}")
    assert (dict(found.house), found.budget_usd) == ({}, None)


def test_a_gas_that_is_not_named_stays_an_assumption() -> None:
    """Propane and natural gas give different ratings: only what is named is known."""
    for text, assumed in (("gas furnace", True), ("nat gas furnace", False),
                          ("propane furnace", False), ("gas stove, propane tank", False)):
        made = new_home_text(read(text), "Home")
        home, _ = read_home_text(made, "home.toml")
        assert home.fuel == ("propane" if "propane" in text else "natural gas")
        assert ("home.fuel" in [one.key for one in home.assumed]) == assumed, text


@pytest.mark.parametrize(("text", "usd"), [
    ("budget $12,000", 12_000.0), ("budget like 9k", 9_000.0), ("$8500 tops", 8_500.0),
    ("We can spend up to twelve thousand dollars.", 12_000.0), ("keep it under 20 grand", 20_000.0),
    ("2,000 sq ft", None)])
def test_the_budget(text: str, usd: float | None) -> None:
    """Money that may be spent is the budget."""
    assert read(f"fridge\n{text}").budget_usd == usd


@pytest.mark.parametrize(("text", "wished"), [
    ("fridge, dryer but we don't care about the dryer", {FRIDGE: None, "electric dryer": 0}),
    ("fridge must run\ndryer can wait till night", {FRIDGE: True, "electric dryer": 1}),
    ("fridge\ndryer\nThe fridge and the dryer must run.", {FRIDGE: True, "electric dryer": True}),
    ("MUST RUN\nfridge\nfreezer\n\ndryer", {FRIDGE: True, "freezer": True, "electric dryer": None}),
    ("We have a fridge, a dryer, and a spa that we can do without.",
     {FRIDGE: None, "electric dryer": None, "spa": 0}),
    ("a fridge and a freezer, which matter the most", {FRIDGE: 5, "freezer": 5}),
    ("The fridge I can't be without. The spa isn't needed.", {FRIDGE: True, "spa": 0}),
    ("shop: welder, table saw\nfridge\nshop can stay off",
     {"welder": 0, "workshop tools": 0, FRIDGE: None}),
    ("don't need: spa, sauna\nfridge", {"spa": 0, "sauna": 0, FRIDGE: None})])
def test_wishes_belong_to_their_things(text: str, wished: dict[str, object]) -> None:
    """A wish goes to what it is about: one thing, a list, a heading's lines, a place."""
    assert {kind: True if must else importance for kind, must, importance in told(
        text, "must_run", "importance")} == wished


@pytest.mark.parametrize(("text", "kind"), [
    ("dryer is gas", "gas dryer"), ("stove gas", "gas range"), ("dryer", "electric dryer"),
    ("range is electric", "range"), ("furnace, electric", "electric furnace"),
    ("tankless water heater, electric, 18 kW", "tankless electric water heater"),
    ("on-demand propane water heater", "gas tankless water heater"),
    ("AC, inverter type", "inverter air conditioner"), ("refridgerator", FRIDGE),
    ("micorwave", "microwave"), ("electirc dryer", "electric dryer")])
def test_fuels_and_slips_tell_the_kind(text: str, kind: str) -> None:
    """What burns and what does not are two kinds; a slip of the keyboard is the word it meant."""
    assert set(told(text)) == {(kind,)}


@pytest.mark.parametrize("text", [
    "gas water heater", "gas grill", "solar panels", "the lights go out", "as well", "oranges",
    "in the workshop", "strange danger", "pool table"])
def test_what_is_no_load_is_none(text: str) -> None:
    """Neither what burns without power, nor a word that only looks like a name, is a load."""
    assert told(f"fridge\n{text}") == [(FRIDGE,)]


def test_gas_heat_needs_a_blower() -> None:
    """A furnace is assumed, and said, unless the list names what heats."""
    found = read("2,600 sq ft house, gas heat\nfridge")
    assert [row["kind"] for row in found.rows] == [FRIDGE, "gas furnace"]
    assert any("a furnace is assumed" in one.sentence for one in found.findings)
    assert told("gas heat, boiler in the cellar") == [("gas boiler",)]


def test_the_same_thing_is_one_load() -> None:
    """What is spoken of again is not there twice; another one is."""
    assert told("electric dryer\nThe dryer can wait.") == [("electric dryer",)]
    assert told("a fridge\nanother fridge in the garage") == [(FRIDGE,)] * 2
    assert told("Hot water comes from a heat pump water heater.") == [("heat pump water heater",)]


def test_lines_of_a_list_are_loads_of_their_own() -> None:
    """Two alike with wishes or figures of their own are two, and a long list is read at once."""
    assert told("sump pump 1/2 hp must run\nsump pump 1/2 hp must run") == [("sump pump",)] * 2
    begun = time.monotonic()
    assert len(read("fridge, 3 kW must run\n" * 300).rows) == 300
    assert len(read("a fridge of 700 W, " * 300).rows) == 300
    assert time.monotonic() - begun < CEILING_S


def test_a_legend_is_read_with_its_breakers() -> None:
    """Numbers of circuits are no counts; ratings are breakers, over poles or behind them."""
    for text in ("1,3 AC 40A 2P\n2,4 Range 50A 2P\n5 Fridge 20A\n6 Freezer 20A\n7 SPARE",
                 "2P-40 AC\n2P-50 range\n1P-20 fridge\n1P-20 freezer\nspare",
                 "1-3 AC ..... 40/2\n2-4 Range .... 50/2\n5 Fridge .... 20/1\n6 Freezer .. 20/1"):
        assert told(text, "breaker") == [(AC, "40 A"), ("range", "50 A"), (FRIDGE, "20 A"),
                                         ("freezer", "20 A")], text


def test_what_is_left_over_stays_in_sight() -> None:
    """A thing that is not known is named with its line; small talk is not."""
    found = read("Hello,\nthank you for coming\nfridge\nelectric fence\n3d printer")
    assert found.not_read == ("line 4: electric fence", "line 5: 3d printer")
    many = read("fridge\n" + "\n".join(f"harpsichord {3 * one}" for one in "abcdefghijklmnop"))
    assert len([one for one in many.findings if one.severity is Severity.WARNING]) == 1
    assert len(many.not_read) == 16


@pytest.mark.parametrize(("text", "phrase"), [
    ("EV charger needs 35 miles by 6:30", "ev charger needs 35 miles by 6:30"),
    ("The power was out for 4 days.", "was out for 4 days"),
    ("meter is about 40 ft away", "meter is about 40 ft away")])
def test_a_figure_of_which_nothing_is_made_stays_in_sight(text: str, phrase: str) -> None:
    """What a family says with a number is taken, or shown as not understood."""
    assert read(f"fridge\n{text}").not_read == (f"line 2: {phrase}",)


def test_a_tank_tells_the_fuel() -> None:
    """Its gallons are no size of a load."""
    found = read("fridge\n500 gal propane tank")
    assert dict(found.house)["home", "fuel"] == "propane"
    assert len(found.rows) == 1


@pytest.mark.parametrize("text", [
    "Tenemos una casa de dos pisos con una nevera y un congelador. La bomba del pozo siempre.",
    "blorf wizzle tonk snorp, fimble fimble\nghhjk asdf qwop\nzzyx drindle"])
def test_what_is_no_list_is_said_once(text: str) -> None:
    """Another language or nonsense is one error, not one for each line."""
    found = read(text)
    assert found.rows == ()
    assert [one.severity for one in found.findings] == [Severity.ERROR]
