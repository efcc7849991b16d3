"""Panel schedules in and out of the command line."""

from __future__ import annotations

import csv
from pathlib import Path

from planner.case.read import read_home

CASES = Path(__file__).parents[2] / "cases"
HOME = CASES / "suburban.toml"


def rows(path):
    """Rows of a schedule that was written."""
    with path.open(newline="", encoding="utf-8") as stream:
        return list(csv.DictReader(stream))


def test_a_plan_writes_how_each_load_is_connected(planner, tmp_path):
    """Every load of the home stands there once; priorities are those that the plan shows."""
    target = tmp_path / "panel.csv"
    data = planner("plan", HOME, "--panel-schedule", target, "--json").data
    loads = data["plan"]["loads"]
    written = {row["description"]: row for row in rows(target)}
    for load in read_home(HOME)[0].loads:
        row, planned = written.pop(load.label), loads[load.id]
        assert row["kind"] == load.kind
        assert row["priority"] == str(planned.get("priority") or "")
        assert (row["connection"] == "takes turns") == (planned["connection"] == "module")
    assert not written


def test_a_home_writes_it_without_a_plan_and_nothing_is_written_over(planner, tmp_path):
    """`check` knows no connections; a file that is there is refused and stays as it was."""
    target = tmp_path / "panel.csv"
    said = planner("check", HOME, "--panel-schedule", target)
    assert "positions by rule" in said.err
    before = target.read_bytes()
    assert "connection" not in rows(target)[0]
    again = planner("check", HOME, "--panel-schedule", target)
    assert again.code == 2
    assert "is there already" in again.err
    assert target.read_bytes() == before


def test_no_two_circuits_share_a_position(planner, tmp_path):
    """Each position of a panel is taken once, by every home in cases/ that has a schedule."""
    for home in ("suburban", "rural_propane_well", "large_estate"):
        target = tmp_path / f"{home}.csv"
        planner("check", CASES / f"{home}.toml", "--panel-schedule", target)
        taken = [(row["panel"], position) for row in rows(target)
                 for position in row["circuit"].split()]
        assert len(taken) == len(set(taken)) > 10


def test_new_takes_a_schedule_and_an_option_says_what_it_is(planner, tmp_path):
    """By its header, or as told; a list told to be a schedule is refused with what is wrong."""
    target = tmp_path / "panel.csv"
    target.write_text("ckt,serves,trip,poles\n1,Range,50,2\n5,Fridge,20,1\n", "utf-8")
    data = planner("new", target, "--json").data
    assert data["loads"][-2:] == ["range", "fridge"]
    assert 'breaker = "50 A"' in data["home"]
    target.write_text("fridge\nrange\n", "utf-8")
    refused = planner("new", target, "--form", "panel-schedule")
    assert refused.code == 2
    assert "no line names the columns" in refused.err
