"""Cost against coverage as a chart: a mark for every plan, told apart without colour."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.search.frontier import frontier
from planner.study.basis import Basis
from planner.study.owning import owning_cost
from planner.study.picks import knee_of
from tests.homes import base, book, cheapest, events, generator, home, load
from ui.charts.curve import COLOURS, LAST, PICK, SHAPES, curve_chart, curve_frame
from ui.charts.places import places_of, span_of

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


def words_of(chart):
    """All texts that the chart writes beside marks, each with its shift and alignment."""
    spec = chart.to_dict()
    found = []
    for layer in spec["layer"]:
        if layer["mark"]["type"] == "text":
            rows = spec["datasets"][layer.get("data", spec.get("data"))["name"]]
            found += [(row["words"], layer["mark"].get("dy"), layer["mark"].get("align"))
                      for row in rows]
    return found


def test_options_have_their_names_and_what_is_far_dearer_is_told_at_the_edge(plans):
    """A name for each option; what costs five times as much is words with an arrow, no mark."""
    house, last = plans[-1].menu.house.home, plans[-1].supply.generator
    dear = cheapest(house, book(replace(last, price=5.0 * plans[-1].cost_usd)), 0.0)
    frame = curve_frame(plans, None, [], {"Recommended": plans[0], LAST: dear})
    chart = curve_chart(frame, 1, cost_title="Cost [USD]")
    said = [word for word, _, _ in words_of(chart) if word]
    assert "Recommended" in said
    assert [one for one in said if one.startswith(LAST) and one.endswith("→")]
    marks = marks_of(chart)
    spec = chart.to_dict()
    assert len(spec["datasets"][marks.get("data", spec.get("data"))["name"]]) == len(plans)


def test_axes_that_do_not_begin_at_zero_say_so(plans):
    """Where the axis begins is the domain's low end, said above the chart and to a reader."""
    chart = curve_chart(curve_frame(plans, None, []), None, cost_title="Cost [USD]").to_dict()
    marks = next(one for one in chart["layer"] if "shape" in one["encoding"])["encoding"]
    low_usd = marks["x"]["scale"]["domain"][0]
    low = marks["y"]["scale"]["domain"][0]
    assert (f"cost at {low_usd:,g}" in chart["title"]["text"]) == (low_usd > 0.0)
    assert (f"kept at {low:g} %" in chart["title"]["text"]) == (low > 0.0)
    assert chart["title"]["text"] in chart["description"]
    assert span_of([0.0, 90.0]).low == 0.0
    assert 0.0 < span_of([95.0, 100.0], 101.0).low < 95.0
    assert span_of([95.0, 100.0], 101.0).high == 101.0


def test_labels_make_room_for_each_other():
    """Four marks on a heap: no two of their labels overlap, none lies on a mark or leaves."""
    at = [(100.0, 100.0), (110.0, 102.0), (118.0, 101.0), (395.0, 100.0)]
    words = ["Recommended", "Everything as usual", "For less", "At the edge"]
    placed = places_of(at, words, 400.0, 215.0)
    boxes = []
    for (x, y), word, place in zip(at, words, placed, strict=True):
        wide = 6.0 * len(word)
        left = {"left": x, "center": x - wide / 2.0, "right": x - wide}[place.align]
        boxes.append((left, 215.0 - y + place.up_px - 7.0, left + wide,
                      215.0 - y + place.up_px + 7.0))
    for number, one in enumerate(boxes):
        assert one[0] >= 0.0
        assert one[2] <= 400.0
        for other in boxes[number + 1:]:
            assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or (
                other[3] <= one[1])
        for x, y in at:
            down = 215.0 - y
            assert not (one[0] < x < one[2] and one[1] < down < one[3])
