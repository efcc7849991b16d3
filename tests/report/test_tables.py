"""Tables of a plan say what the plan says, on screen and as frames."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from planner.report.data import plan_data
from planner.report.tables.comforts import comfort_table
from planner.report.tables.comparison import WHOLE, alike, comparison_table
from planner.report.tables.frames import frame
from planner.report.tables.plan import load_table, price_table
from planner.report.tables.points import point_table
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from tests.homes import base, events, home, load, motor
from tests.report.plans import book, generator


@pytest.fixture(scope="module")
def plan():
    """Plan a 6 kW generator, air before dryer, the air with a soft starter."""
    house = home(base(1.0), load("dryer", 5.0, use=events((7.0, 1.0), (18.0, 1.0))),
                 motor("air", 3.0, 12.0, use=events((8.0, 2.0), (18.0, 2.0))))
    problem = problems_of(house, book(generator(6.0, 3000.0)))[0]
    return problem.plan(Choice((DIRECT, MODULE, MODULE), (0, 0, 1), (2, 1)), 0.97)


def test_loads_stand_in_the_order_in_which_they_get_their_turn(plan):
    """Always on first, then by priority, not in the order of the file."""
    rows = load_table(plan).records
    assert [(row["load"], row["connection"], row["priority"]) for row in rows] == [
        ("base", "always on", None), ("air", "takes turns", 1), ("dryer", "takes turns", 2)]


def test_what_is_missed_is_shown_by_its_comfort(plan):
    """The dryer meets the air in the evening, and is refused; what is always on says no more."""
    rows = {row["load"]: row for row in load_table(plan).records}
    assert rows["dryer"]["comfort"] == "dryer: without power for 1 h of 2 h"
    assert rows["air"]["comfort"] == "air: as always"
    assert rows["base"]["comfort"] == ""


def test_price_lines_add_up_to_the_price(plan):
    """What the table lists is what the plan costs."""
    rows = price_table(plan).records
    assert sum(row["cost_usd"] for row in rows) == pytest.approx(plan.cost_usd)


def test_a_frame_holds_plain_values_under_keys_with_units(plan):
    """Charts read numbers, not text; the unit is part of the name."""
    table = frame(point_table([plan, plan]))
    assert table.shape[0] == 2
    assert table["cost_usd"].tolist() == [plan.cost_usd] * 2
    assert table["capacity_kw"].tolist() == [6.0, 6.0]


def test_an_empty_table_has_its_columns(plan):
    """Without plans there is still a frame with headings."""
    assert list(frame(point_table([])).columns) == list(frame(point_table([plan])).columns)


def test_every_row_has_a_cell_per_heading(plan):
    """No column is drawn without its text."""
    for table in (load_table(plan), price_table(plan), point_table([plan])):
        assert {len(row) for row in table.cells} == {len(table.headings)}


def test_plan_data_has_the_agreed_shape(plan):
    """Cost, coverage, bound, proof, equipment, and for every load what becomes of it."""
    data = plan_data(plan)
    assert data["cost"] == plan.cost_usd
    assert data["bound"] == 0.97
    assert data["proof"] == "within"
    assert {"generator", "capacity_kw", "transfer"} <= data.keys()
    air = data["loads"]["air"]
    assert {key: air[key] for key in ("connection", "module", "soft_start", "priority")} == {
        "connection": "module", "module": "relay", "soft_start": True, "priority": 1}
    assert data["loads"]["dryer"]["service"] == pytest.approx(0.5)


def test_plan_data_tells_of_every_comfort_in_its_unit(plan):
    """Half of the dryer's two hours are missed; what counts is said, and each day by itself."""
    comforts = plan_data(plan)["comforts"]
    assert list(comforts) == [one.comfort.id for one in plan.comforts]
    assert comforts["dryer"] == {
        "label": "dryer", "kept": pytest.approx(0.5), "worst": 1.0, "unit": "h dark", "day": "day",
        "says": "without power for 1 h of 2 h", "importance": 3, "counts": True, "promise": None,
        "days": {"day": {"kept": pytest.approx(0.5), "worst": 1.0}}}


def test_comforts_stand_by_how_much_they_matter(plan):
    """What matters alike stands as in the home; each is told on its hardest day, once."""
    table = comfort_table(plan)
    assert [row["comfort"] for row in table.records] == ["dryer", "air"]
    assert table.cells[0] == ["dryer", "without power for 1 h of 2 h", "day", "50.0 %", "3", ""]
    assert table.cells[1][1:4] == ["as always", "", "100 %"]


def test_a_comparison_says_a_rating_as_every_page_does():
    """It is never rounded up: 11.79 kW is 11.7 kW beside the plan as well."""
    plan = SimpleNamespace(supply=SimpleNamespace(capacity_kw=11.79))
    assert dict(WHOLE)["Capacity"](plan) == "11.7 kW"


def test_a_comparison_shows_what_differs_and_names_what_does_not(plan):
    """Swapping the order changes the turns of two loads; the base stays as it is."""
    problem = problems_of(plan.menu.house.home, plan.menu.book)[0]
    swapped = problem.plan(Choice((DIRECT, MODULE, MODULE), (0, 0, 1), (1, 2)), 0.97)
    plans = {"air first": plan, "dryer first": swapped}
    rows = {row["what"]: row for row in comparison_table(plans).records}
    assert rows["dryer"]["air first"] == "priority 2"
    assert rows["dryer"]["dryer first"] == "priority 1"
    assert rows["dryer, day"]["air first"] == "without power for 1 h of 2 h"
    assert rows["dryer, day"]["dryer first"] == "as always"
    assert "base" not in rows
    assert "air, day" in rows
    assert alike(plans) == ()
    assert alike({"air first": plan, "again": plan}) == ("dryer", "air")
