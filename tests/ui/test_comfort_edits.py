"""Wishes about comforts land in the text of the home, under the comfort's id and nowhere else."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest

from planner.facts.comfort import Comfort, Promise
from tests.homes import home, load
from ui.comfort_edits import CELLS, rows_of_comforts, with_rank, with_wish, with_wishes

TEXT = """\
# the first line
[home]
label = "A house"  # beside a value

[[comforts]]
id = "upstairs"
importance = 2  # they sleep there
refuge = ["summer", "winter"]

# above a load
[[loads]]
id = "heater"
kind = "electric water heater"
must_run = true

[[loads]]
id = "pump"
kind = "sump pump"
"""
ROOM = Comfort("main-floor", "Main floor", "room", ("air",), 4, promise=Promise(60.0, 82.0))
UPSTAIRS = Comfort("upstairs", "Upstairs", "room", ("air-2",), 2)
WATER = Comfort("hot-water", "Hot water", "hot water", ("heater",), 4)
COMFORTS = (ROOM, UPSTAIRS, WATER)
HOME = home(load("air", 3.0, comfort="main-floor"), load("air-2", 2.0, comfort="upstairs"),
            load("heater", 4.5, must_run=True, comfort="hot-water"), comforts=COMFORTS)


def comforts_of(text):
    """Entries of the list of comforts by their ids."""
    return {row["id"]: row for row in tomllib.loads(text).get("comforts", [])}


def edits(**rows):
    """Edits of a table as its widget tells them, by row."""
    return {"edited_rows": {int(row[1:]): cells for row, cells in rows.items()},
            "added_rows": [], "deleted_rows": []}


def test_a_comfort_that_the_file_does_not_name_gets_an_entry():
    """Its id and the wish are written; every other line of the file stays as it is."""
    found = with_wish(TEXT, ROOM, {"importance": 5})
    assert comforts_of(found)["main-floor"] == {"id": "main-floor", "importance": 5}
    assert [line for line in TEXT.splitlines() if line not in found.splitlines()] == []


def test_a_comfort_that_the_file_names_is_changed_in_place():
    """No second entry; the comment beside the value stays."""
    found = with_wish(TEXT, UPSTAIRS, {"importance": 3, "label": "Bedrooms"})
    assert comforts_of(found)["upstairs"]["importance"] == 3
    assert comforts_of(found)["upstairs"]["label"] == "Bedrooms"
    assert found.count("[[comforts]]") == 1
    assert "# they sleep there" in found


def test_nothing_wished_writes_nothing():
    """Taking out a wish that is not there leaves the text alone."""
    assert with_wish(TEXT, ROOM, {"promise": None}) == TEXT
    assert with_wishes(TEXT, COMFORTS, None) == TEXT


@pytest.mark.parametrize(("typed", "written"), [
    ("80", "80 degF"), ("60 degF, 80 degF", ["60 degF", "80 degF"]), ("62 F, 80", ["62 degF",
                                                                                   "80 degF"]),
    ("none", "none"), (" 80 degF ", "80 degF")])
def test_a_promise_of_a_room_is_written_as_a_file_has_it(typed, written):
    """Bare numbers are degrees; two bounds are a list."""
    found = with_wishes(TEXT, COMFORTS, edits(r0={"promise": typed}))
    assert comforts_of(found)["main-floor"]["promise"] == written


def test_a_promise_of_something_else_is_written_as_typed():
    """No unit is put behind the words of a promise that is no temperature."""
    found = with_wishes(TEXT, COMFORTS, edits(r2={"promise": "at most 1 cold shower"}))
    assert comforts_of(found)["hot-water"]["promise"] == "at most 1 cold shower"


def test_an_emptied_promise_is_assumed_again():
    """The key goes; the entry may stay with its id."""
    said = with_wish(TEXT, ROOM, {"promise": "80 degF"})
    found = with_wishes(said, COMFORTS, edits(r0={"promise": None}))
    assert "promise" not in comforts_of(found)["main-floor"]


def test_what_need_not_run_any_more_takes_must_run_from_its_loads():
    """A load that the file itself marks would keep the comfort a must-have."""
    found = with_wishes(TEXT, COMFORTS, edits(r2={"must_run": False}))
    assert comforts_of(found)["hot-water"]["must_run"] is False
    assert all("must_run" not in row for row in tomllib.loads(found)["loads"])
    assert "must_run = true" in with_wishes(TEXT, COMFORTS, edits(r0={"must_run": False}))


def test_what_a_family_can_do_without_is_promised_no_more():
    """Nor must it run; once it matters again, it is promised as is usual."""
    without = with_rank(TEXT, WATER, 0, must_run=False)
    assert comforts_of(without)["hot-water"] == {
        "id": "hot-water", "must_run": False, "importance": 0, "promise": "none"}
    again = with_rank(without, WATER, 4, must_run=False)
    assert comforts_of(again)["hot-water"]["importance"] == 4
    assert "promise" not in comforts_of(again)["hot-water"]
    said = with_wish(TEXT, ROOM, {"promise": "80 degF"})
    assert comforts_of(with_rank(said, ROOM, 5, must_run=True))["main-floor"]["promise"] == (
        "80 degF")


def test_a_refuge_is_one_room_for_each_season():
    """The room that is picked takes the season from the one that had it."""
    found = with_wishes(TEXT, COMFORTS, edits(r0={"refuge": ["summer"]}))
    assert comforts_of(found)["main-floor"]["refuge"] == ["summer"]
    assert comforts_of(found)["upstairs"]["refuge"] == ["winter"]


def test_rows_show_what_the_file_says_else_what_is_assumed():
    """One row for each comfort, in the order of the home; must-have also by a must-run load."""
    frame = rows_of_comforts(TEXT, HOME)
    assert list(frame.columns) == [cell.key for cell in CELLS]
    assert frame["label"].tolist() == ["Main floor", "Upstairs", "Hot water"]
    assert frame["importance"].tolist() == [4, 2, 4]
    assert frame["promise"].tolist() == ["60 degF, 82 degF", "", ""]
    assert frame["must_run"].tolist() == [False, False, True]
    assert frame["refuge"].tolist() == [[], ["summer", "winter"], []]
    assert frame["loads"].tolist() == ["air", "air-2", "heater"]


def test_what_is_typed_stays_in_sight_though_it_is_wrong():
    """A promise that cannot be read is shown as it was typed, beside its error."""
    said = with_wish(TEXT, ROOM, {"promise": "warmish", "importance": 9})
    frame = rows_of_comforts(said, replace(HOME, comforts=COMFORTS))
    assert frame["promise"].tolist()[0] == "warmish"
    assert frame["importance"].tolist()[0] == 9
