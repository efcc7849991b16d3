"""A reader sees by what a load is off: moved to the utility side, or behind an open module."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import pytest

from planner.facts.price_book import Transfer
from planner.report.change_words import change_sentences
from planner.report.choice_words import air_cooled_sentence
from planner.report.code_words import plan_demand_data
from planner.report.comforts.family_comforts import OFF as UNTIL_POWER
from planner.report.comforts.family_comforts import happens_sentences
from planner.report.data import plan_data
from planner.report.panel_schedule import schedule_text
from planner.report.plan_words import left_off_words
from planner.report.tables.comparison import comparison_table
from planner.report.tables.modules import module_table
from planner.report.tables.plan import load_table
from planner.report.tables.points import point_table
from planner.report.tables.settings import settings_table
from planner.simulation.settings import Settings
from planner.study.options import Option
from tests.plan.test_stays_open import BOOK, HOUSE, KEPT, MOVED, chosen, problem_of

STAYS_OPEN = "off: its module stays open during an outage"
UTILITY_SIDE = "off: moved to the utility side"


@pytest.fixture(scope="module")
def plan():
    """The dryer takes turns, the stove's module stays open, the kiln is moved."""
    return problem_of().plan(chosen(KEPT))


@pytest.fixture(scope="module")
def few():
    """The same loads behind selected circuits, where what is off is left out."""
    panel = Transfer("panel", "8 positions", "selected-circuits", 60.0, 8, 300.0, 100.0)
    house = replace(HOUSE, transfer_kinds=frozenset({"selected-circuits"}))
    return problem_of(house, replace(BOOK, transfers=(panel,))).plan(chosen())


def test_the_plan_s_table_says_it(plan, few):
    """In the place of the connection, without a priority; selected circuits have no such words."""
    rows = {row[0]: row for row in load_table(plan).cells}
    assert rows["stove"][1:3] == [STAYS_OPEN, ""]
    assert rows["kiln"][1] == UTILITY_SIDE
    assert {row[0]: row[1] for row in load_table(few).cells}["kiln"] == "off"


def test_the_panel_schedule_says_it(plan):
    """Beside the circuit, where the installer looks."""
    rows = {row["description"]: row for row in csv.DictReader(io.StringIO(
        schedule_text(HOUSE, plan)))}
    assert rows["stove"]["connection"] == STAYS_OPEN
    assert rows["stove"]["priority"] == ""
    assert rows["kiln"]["connection"] == UTILITY_SIDE


def test_side_by_side_it_differs(plan):
    """One plan moves it, the other does not."""
    rows = {row[0]: row[1:] for row in comparison_table(
        {"a": plan, "b": problem_of().plan(chosen())}).cells}
    assert rows["stove"] == [STAYS_OPEN, UTILITY_SIDE]


def test_its_module_stands_in_the_table_of_modules(plan):
    """With its breaker and ratings like any other, and what it does."""
    rows = {row[0]: row for row in module_table(plan).cells}
    assert rows.keys() == {"dryer", "stove"}
    assert rows["dryer"][-2] == "takes turns, priority 1"
    assert rows["stove"][-2] == "stays open"
    data = {one["load"]: one for one in plan_demand_data(plan)["modules"]}
    assert (data["stove"]["stays_open"], data["stove"]["priority"]) == (True, None)
    assert (data["dryer"]["stays_open"], data["dryer"]["priority"]) == (False, 1)


def test_it_is_a_setting_of_the_controller(plan):
    """Only where a module stays open."""
    lines = {line.key: line.value for line in settings_table(plan, Settings()).items}
    assert lines["stay_open"] == "stove"
    moved = problem_of().plan(chosen())
    assert "stay_open" not in {line.key for line in settings_table(moved, Settings()).items}


def test_it_counts_among_the_modules(plan):
    """Two modules are bought: in the table of plans and in the sentence of the air-cooled size."""
    assert plan.choice.modules == 2
    heads = point_table([plan]).headings
    assert point_table([plan]).cells[0][heads.index("Modules")] == "2"
    assert "with 2 modules" in air_cooled_sentence(Option("air-cooled", HOUSE, plan))


def test_the_family_is_told_that_it_is_off(plan):
    """Under one heading, however it is so: until the power is back."""
    assert UNTIL_POWER == "Off until the power is back"
    assert happens_sentences(plan)[UNTIL_POWER] == ("stove", "kiln")
    assert left_off_words(plan) == ("stove (its module stays open)",
                                    "kiln (moved to the utility side)")


def test_selected_circuits_leave_it_out(few):
    """Nothing is moved there."""
    assert left_off_words(few) == ("stove", "kiln")


def test_a_change_from_one_to_the_other_is_said(plan):
    """With what it saves, 150 USD; nothing else changes."""
    both, moved = problem_of().plan(chosen(KEPT, MOVED)), problem_of().plan(chosen())
    assert change_sentences(moved, plan) == (
        "It costs 150 USD less, 4,900 USD in all.",
        "stove is off by a module that stays open.")
    assert change_sentences(moved, both)[1:] == (
        "stove and kiln are off by modules that stay open.",)
    assert change_sentences(plan, moved)[1:] == ("stove is off without a module.",)


def test_data_says_it(plan):
    """As a load that is off, with the module that stays open."""
    loads = plan_data(plan)["loads"]
    assert (loads["stove"]["connection"], loads["stove"]["module"],
            loads["stove"]["stays_open"]) == ("off", "relay", True)
    assert (loads["kiln"]["module"], loads["kiln"]["stays_open"]) == (None, False)
    assert loads["dryer"]["stays_open"] is False
