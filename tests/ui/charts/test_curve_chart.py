"""Cost against coverage as a chart: a mark for every plan, told apart without colour."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.search.frontier import frontier
from planner.study.basis import Basis
from planner.study.owning import owning_cost
from planner.study.picks import knee_of
from tests.homes import base, book, events, generator, home, load
from ui.charts.curve import COLOURS, PICK, SHAPES, curve_chart, curve_frame

SIZES = tuple(replace(generator(kw, 2000.0 + 300.0 * kw), id=f"set-{kw:g}",
                      label=f"{kw:g} kW generator")
              for kw in (5.0, 7.0, 9.0, 11.0, 13.0))


@pytest.fixture(scope="module")
def plans():
    """Five loads at the same hour on five sizes: a curve with several of the sizes on it."""
    loads = [load(f"load-{n}", 2.0, importance=n, use=events((18.0, 1.0))) for n in (1, 2, 3, 4, 5)]
    offered = book(*SIZES)
    sensing = tuple(replace(one, senses="call") for one in offered.modules)
    found = frontier(home(base(1.0), *loads), replace(offered, modules=sensing)).points
    assert len({plan.supply.generator.id for plan in found}) >= 3
    return found


def marks_of(chart):
    """The layer with a mark for every plan."""
    return next(layer for layer in chart.to_dict()["layer"]
                if layer["mark"]["type"] == "point" and layer["mark"].get("filled")
                and "shape" in layer["encoding"])


def test_there_is_a_mark_for_every_plan_at_its_cost_and_coverage(plans):
    """Numbers count from 1 in the order of the plans; coverage is in percent."""
    frame = curve_frame(plans, None, [])
    assert frame["number"].tolist() == list(range(1, len(plans) + 1))
    assert frame["cost_usd"].tolist() == [plan.cost_usd for plan in plans]
    assert frame["coverage_percent"].tolist() == pytest.approx([100 * p.coverage for p in plans])


def test_sizes_are_told_apart_by_more_than_colour(plans):
    """On one curve no two sizes share a shape; every shape has an area that can be filled."""
    marks = marks_of(curve_chart(curve_frame(plans, None, []), None, cost_title="Cost [USD]"))
    shapes = marks["encoding"]["shape"]["scale"]["range"]
    sizes = marks["encoding"]["shape"]["scale"]["domain"]
    assert len(shapes) == len(sizes) == len(set(shapes))
    assert set(SHAPES).isdisjoint({"stroke", "wedge", "arrow"})
    assert len(SHAPES) == len(set(SHAPES))
    pairs = {(SHAPES[n % len(SHAPES)], COLOURS[n % len(COLOURS)]) for n in range(26)}
    assert len(pairs) == 26  # more sizes than the book has


def test_axes_have_units_and_the_picture_is_said_in_words(plans):
    """For those who do not see it, as a whole and mark by mark."""
    chart = curve_chart(curve_frame(plans, None, []), 1, cost_title="Installed cost [USD]")
    marks = marks_of(chart)["encoding"]
    assert marks["x"]["title"] == "Installed cost [USD]"
    assert marks["y"]["title"] == "Kept, by importance [%]"
    assert chart.to_dict()["description"].startswith(f"Cost against coverage, {len(plans)} plans")
    assert marks["description"]["field"] == "spoken"
    assert PICK in str(chart.to_dict()["params"])


def test_the_goal_and_the_budget_are_lines(plans):
    """One line at the coverage to reach, within the axis; one at what may be spent."""
    frame = curve_frame(plans, None, [])
    low = plans[0].coverage / 2.0
    goal = curve_chart(frame, None, cost_title="Cost [USD]", goal=low).to_dict()
    spent = curve_chart(frame, None, cost_title="Cost [USD]", budget_usd=5000.0).to_dict()
    for spec, said in ((goal, "Goal"), (spent, "Budget")):
        rules = [one for one in spec["layer"] if one["mark"]["type"] == "rule"]
        assert [one["mark"]["description"] for one in rules] == [said]
    axis = goal["layer"][0]["encoding"]["y"]["scale"]["domain"]
    assert axis[0] < 100.0 * low


def test_pinned_and_shown_plans_have_their_rings(plans):
    """A ring for each plan that is pinned, another for the one that is shown."""
    kept = knee_of(plans)
    frame = curve_frame(plans, None, [kept])
    assert frame["pinned"].sum() == 1
    rings = [one for one in curve_chart(frame, 1, cost_title="Cost [USD]").to_dict()["layer"]
             if one["mark"]["type"] == "point" and not one["mark"]["filled"]]
    assert len(rings) == 2


def test_owning_cost_takes_the_place_of_the_installed_one(plans):
    """The cost of each mark is that of owning, and no proof is claimed for it."""
    basis = Basis(10.0, 24.0)
    frame = curve_frame(plans, basis, [])
    assert frame["cost_usd"].tolist() == [owning_cost(plan, basis).usd for plan in plans]
    assert set(frame["proof"]) == {"not proven for owning cost"}
