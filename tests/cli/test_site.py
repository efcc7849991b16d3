"""What `planner site` answers."""

from __future__ import annotations

from pathlib import Path

import pytest

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
