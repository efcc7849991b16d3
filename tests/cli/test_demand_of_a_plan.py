"""`planner demand --plan`: what is always connected in a plan, and how it meets the code."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.plan.compliance import compliance_of
from planner.plan.saved import saved_plan

CASES = Path(__file__).parents[2] / "cases"
BOOK = CASES / "demo_price_book.toml"


@pytest.fixture
def plan_file(planner, home_file, tmp_path):
    """A plan of the home as `plan --json` writes it."""
    path = tmp_path / "plan.json"
    path.write_text(planner("plan", home_file(), "--book", BOOK, "--json").out, "utf-8")
    return path


def plan_in(home_file, plan_file):
    """The plan of that file, replayed."""
    data = json.loads(plan_file.read_text("utf-8"))
    return saved_plan(data, read_home(home_file())[0], read_book(BOOK)[0], "plan.json")


def test_both_methods_stand_line_by_line_and_the_lesser_counts(planner, home_file, plan_file):
    """Each total is the sum of its lines; the lesser is held against the generator's rating."""
    found = compliance_of(plan_in(home_file, plan_file))
    data = planner("demand", home_file(), "--plan", plan_file, "--book", BOOK, "--json").data
    sums = {}
    for method in ("optional", "standard"):
        sheet = data[method]
        sums[method] = sum(one["va"] for one in sheet["lines"] if one["role"] == "demand")
        assert sheet["method"] == method
        assert sheet["total_va"] == pytest.approx(sums[method])
    assert data["counted_va"] == pytest.approx(min(sums.values()))
    assert sums[data["counts"]] == min(sums.values())
    assert data["counted_va"] <= data["limit_va"] == pytest.approx(found.limit_va)
    assert (data["way"], data["clauses"]) == (found.way, list(found.clauses))
    assert data["cautions"]


def test_the_page_says_the_same_in_words(planner, home_file, plan_file):
    """Both tables, the clause of 702.4, the modules with their breakers; findings to stderr."""
    outcome = planner("demand", home_file(), "--plan", plan_file, "--book", BOOK)
    assert outcome.code == 0
    assert "Calculated load, optional method, NEC 2023" in outcome.out
    assert "Calculated load, standard method, NEC 2023" in outcome.out
    plan = plan_in(home_file, plan_file)
    said = " ".join(outcome.out.split())
    assert f"({', '.join(compliance_of(plan).clauses)})" in said
    if plan.price.controller is not None:
        assert "Shedding modules and their branch circuits" in outcome.out
        assert "frequency alone" in outcome.err
    else:
        assert "Nothing takes turns" in said


def test_another_edition_names_its_clauses(planner, home_file, plan_file):
    """The plan is replayed under that edition, or refused if it does not pass there."""
    data = planner("demand", home_file(), "--plan", plan_file, "--book", BOOK, "--edition", "2020",
                   "--json").data
    assert data["clauses"][0].startswith("702.4(B)(2)")
    assert data["optional"]["edition"] == "2020"


@pytest.mark.parametrize("besides", [("--method", "standard"), ("--load", "heater")])
def test_a_plan_leaves_no_choice_of_method_or_loads(planner, home_file, plan_file, besides):
    """Both methods are worked out, for the loads of the plan."""
    outcome = planner("demand", home_file(), "--plan", plan_file, "--book", BOOK, *besides)
    assert outcome.code == 2
    assert "each method" in outcome.err


def test_a_price_book_without_a_plan_has_no_sense(planner, home_file):
    """The calculated load of a home asks for no prices."""
    outcome = planner("demand", home_file(), "--book", BOOK)
    assert outcome.code == 2
    assert "--book belongs to --plan" in outcome.err


def test_a_plan_of_something_else_is_refused(planner, home_file, tmp_path):
    """With the reason, as wherever a plan is read."""
    path = tmp_path / "plan.json"
    path.write_text('{"case": "another", "plan": {}}', "utf-8")
    outcome = planner("demand", home_file(), "--plan", path, "--book", BOOK)
    assert outcome.code == 2
    assert "another" in outcome.err
