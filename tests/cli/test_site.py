"""What `planner site` answers."""

from __future__ import annotations

from pathlib import Path

import pytest
from defusedxml.ElementTree import fromstring

from planner.report.cautions import CAUTIONS

CASES = Path(__file__).parents[2] / "cases"
HOMES = ("all_electric_heat_pump", "high_altitude", "rural_propane_well", "town_house_selected")
STATUSES = {"ok", "not ok", "to do", "missing"}


@pytest.mark.parametrize("name", HOMES)
def test_every_row_says_what_it_is_held_to(planner, name):
    """Six groups; each row has a status, words, and a clause or a source; cautions stand below."""
    data = planner("site", str(CASES / f"{name}.toml"), "--json").data
    assert list(data["groups"]) == ["conductors", "transfer", "fuel", "grounding", "modules",
                                    "placement"]
    rows = [row for group in data["groups"].values() for row in group["rows"]]
    assert all(row["status"] in STATUSES and row["what"] and row["text"] for row in rows)
    assert sum(data["open"].values()) == len(rows)
    assert data["cautions"] == list(CAUTIONS)
    for row in rows:
        if row["status"] == "missing":
            assert "missing" in row["todo"]


def test_a_home_without_a_site_is_told_what_to_measure(planner):
    """Nothing stops: what is missing is named with its key, and nothing is in the price for it."""
    data = planner("site", str(CASES / "town_house_selected.toml"), "--json").data
    assert data["lines"] == []
    assert data["open"]["missing"] > 5
    todos = [row["todo"] for group in data["groups"].values() for row in group["rows"]]
    assert any("site.wire" in todo for todo in todos)
    assert any("site.gas.meter" in todo for todo in todos)


def test_the_text_has_every_group_and_the_price_of_the_site(planner):
    """Tables with clauses, what is to do below each, the notice of the book and the cautions."""
    text = " ".join(planner("site", str(CASES / "high_altitude.toml")).out.split())
    for words in ("Conductors", "Transfer and service", "Fuel", "Grounding", "Placement",
                  "445.13", "NFPA 37", "Demo gas meter, 630 ft^3/h, installed 828 USD",
                  "Invented prices", CAUTIONS[0][:40]):
        assert words in text


def test_a_saved_plan_keeps_its_way_to_stand_at_the_site(planner, tmp_path):
    """`plan --json` names the way; the sheet of that file is that of the plan."""
    home = str(CASES / "all_electric_heat_pump.toml")
    plan = planner("plan", home, "--json")
    path = tmp_path / "plan.json"
    path.write_text(plan.out, encoding="utf-8")
    data = planner("site", home, "--plan", str(path), "--json").data
    assert data["site"] == plan.data["plan"]["site"] == "wire-1+tank-tank-125"
    assert data["cost"] == plan.data["plan"]["cost"]


def test_a_plan_and_a_goal_do_not_go_together(planner):
    """The sentence says which to leave out."""
    result = planner("site", str(CASES / "high_altitude.toml"), "--plan", "x", "--coverage", "90 %")
    assert result.code == 2
    assert "--plan names a plan" in result.err


def test_drawings_are_written_and_named(planner, tmp_path):
    """Two whole drawings stand in the directory, which is made; text and JSON both name them."""
    home, folder = str(CASES / "rural_propane_well.toml"), tmp_path / "drawn"
    data = planner("site", home, "--drawings", str(folder), "--json").data
    assert data["drawings"] == [str(folder / "one-line.svg"), str(folder / "sketch.svg")]
    first = [path.read_text("utf-8") for path in sorted(folder.iterdir())]
    assert [fromstring(text.encode()).tag.rpartition("}")[2] for text in first] == ["svg", "svg"]
    assert "Farmhouse with a well and a workshop" in first[0]
    result = planner("site", home, "--drawings", str(folder))
    assert result.code == 0
    assert f"Written: {folder / 'one-line.svg'}\nWritten: {folder / 'sketch.svg'}\n" in result.out
    assert [path.read_text("utf-8") for path in sorted(folder.iterdir())] == first


def test_without_being_asked_nothing_is_drawn(planner, tmp_path, monkeypatch):
    """Without the option the list is empty, and no file is left."""
    monkeypatch.chdir(tmp_path)
    data = planner("site", str(CASES / "rural_propane_well.toml"), "--json").data
    assert data["drawings"] == []
    assert list(tmp_path.iterdir()) == []


def test_a_place_that_takes_no_drawings_is_refused_at_once(planner, tmp_path):
    """A file, a directory that cannot be made, a name that is none: what it is, and no plan."""
    there = tmp_path / "there"
    there.write_text("mine", "utf-8")
    for name, words in ((there, "is a file"), (tmp_path / "no" / "deeper", "is not there"),
                        (there / "below", "cannot be"), ("", "Give the name of a directory"),
                        ("a\0b", "cannot be written")):
        result = planner("site", str(CASES / "rural_propane_well.toml"), "--drawings", str(name))
        assert result.code == 2, name
        assert words in " ".join(result.err.split())
        assert result.out == ""
        assert "Traceback" not in result.err
    assert there.read_text("utf-8") == "mine"


def test_a_directory_that_cannot_be_written_to_is_named(planner, tmp_path, monkeypatch):
    """The file and the reason of the machine stand in one sentence; nothing half is left."""
    def refuse(*_args, **_kwargs):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("planner.editing.save.tempfile.mkstemp", refuse)
    result = planner("site", str(CASES / "rural_propane_well.toml"), "--drawings", str(tmp_path))
    assert result.code == 2
    said = " ".join(result.err.split())
    assert '"one-line.svg" cannot be written to "' in said
    assert said.endswith(": Permission denied.")
    assert list(tmp_path.iterdir()) == []
