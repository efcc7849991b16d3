"""Positions of a schedule come back as they were read, and loads of one circuit stay on it."""

import csv
import io

import pytest

from planner.case.read import read_home_text
from planner.editing.any_list import read_any
from planner.editing.items import with_items
from planner.editing.new_home import EMPTY_HOME, new_home_text
from planner.errors import CaseError
from planner.report.panel_schedule import schedule_text

SCHEDULE = """\
circuit,description,breaker,poles
1,Lights,15,1
2A,Refrigerator,15,1
2B,Microwave,15,1
"9,11",W/H,30,2
"13,15",Air handler w/ 10kW strips,60,2
14,EVSE,60,2
16,EVSE,60,2
21,Bedroom lights,15,1
"""
BASE = EMPTY_HOME.partition("[[loads]]")[0]


def circuits(text):
    """Kind, positions and breaker of every row of a schedule."""
    return sorted((row["kind"], row["circuit"], row["breaker A"], row["poles"])
                  for row in csv.DictReader(io.StringIO(text)))


def home_of(text):
    """The home that is made of a schedule."""
    return read_home_text(new_home_text(read_any(text, "panel.csv"), "Home"), "home.toml")


def test_what_was_stated_comes_back():
    """Every position of the panel is written where it was read, halves of a space and all."""
    home, _ = home_of(SCHEDULE)
    written = schedule_text(home)
    assert circuits(written) == [
        ("air handler", "13 15", "60", "2"), ("electric water heater", "9 11", "30", "2"),
        ("heat pump back-up heat", "13 15", "60", "2"),
        ("heat pump back-up heat", "13 15", "60", "2"),
        ("lighting and receptacles", "1 21", "", ""), ("microwave", "2B", "15", "1"),
        ("refrigerator", "2A", "15", "1"), ("vehicle charger", "14 16", "60", "2")]
    assert written.count("one circuit with Air handler") == 2
    listed = read_any(written, "again.csv")
    assert not [one for one in listed.findings if "stands in line" in one.sentence]
    again, _ = read_home_text(new_home_text(listed, "Home"), "again.toml")
    assert circuits(schedule_text(again)) == circuits(written)


def test_a_load_without_positions_takes_none_of_the_stated():
    """The rule places the others where nothing stands."""
    text = new_home_text(read_any(SCHEDULE, "panel.csv"), "Home")
    home, _ = read_home_text(with_items(text, "loads", [{"kind": "range"}]), "home.toml")
    row, = (one for one in circuits(schedule_text(home)) if one[0] == "range")
    assert row[1] == "3 5"


@pytest.mark.parametrize("said", ["9;11", "0", "9,9", "1000", "A", "", "9,", "2AB"])
def test_what_is_no_position_is_refused(said):
    """Spaces are whole numbers from 1 with at most one letter, each named once."""
    with pytest.raises(CaseError) as refused:
        read_home_text(with_items(BASE, "loads", [{"kind": "range", "label": "Range"}])
                       + f'positions = "{said}"\n', "home.toml")
    assert any("names no positions" in one.sentence for one in refused.value.findings)


def test_a_breaker_has_as_many_spaces_as_poles():
    """One space is too few for 240 V, two are too many for 120 V."""
    for kind, said in (("range", "9"), ("refrigerator", "9,11")):
        with pytest.raises(CaseError) as refused:
            read_home_text(with_items(BASE, "loads", [{"kind": kind, "positions": said}]), "h.toml")
        assert any("its breaker takes" in one.sentence for one in refused.value.findings)


def test_two_circuits_at_one_space_are_said():
    """Spaces that overlap are a doubt, and so are two breakers at the same ones."""
    rows = [{"kind": "range", "positions": "9,11", "breaker": "50 A"},
            {"kind": "electric dryer", "positions": "11,13"},
            {"kind": "electric water heater", "positions": "9,11", "breaker": "30 A"}]
    _, findings = read_home_text(with_items(BASE, "loads", rows), "home.toml")
    said = " ".join(one.sentence for one in findings)
    assert '"range" stands there as well' in said
    assert "behind another breaker" in said
