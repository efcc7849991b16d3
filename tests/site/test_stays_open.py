"""A module that stays open is built like any other: breaker, wire, ratings, place, drawing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.service.choice import OFF
from planner.site.drawing.frame import Heading
from planner.site.drawing.one_line import draw_one_line
from planner.site.neutral import neutral_of
from planner.site.one_line import one_line
from planner.site.sheet import site_sheet
from planner.site.wire import feeder_run
from planner.wiring.graph import circuit_node, load_node
from tests.homes import clock
from tests.site.places import KNOWN, plan_at

KILN = clock("kiln", 2.0, (6.0, 1.0), allowed=frozenset({"direct", "off"}), importance=0,
             breaker_a=30.0)


@pytest.fixture(scope="module")
def moved():
    """Give a plan in which the kiln's circuit is moved to the utility side."""
    plan = plan_at(KNOWN, loads=(KILN,))
    connection = tuple(OFF if load_id == "kiln" else how for load_id, how in zip(
        plan.menu.house.ids, plan.choice.connection, strict=True))
    return replace(plan, choice=replace(plan.choice, connection=connection))


@pytest.fixture(scope="module")
def kept(moved):
    """Give the same with a module in its place, which stays open."""
    place = moved.menu.house.ids.index("kiln")
    return replace(moved, choice=replace(moved.choice, kept_open=frozenset({place})))


def test_it_has_the_rows_of_a_module_and_its_setting(moved, kept):
    """Breaker, wire, and that the controller holds it open; a circuit that is moved has none."""
    before, sheet = {row.key for row in site_sheet(moved)}, site_sheet(kept)
    assert {row.key for row in sheet} - before == {
        "module-kiln", "wire-kiln", "stays-open-kiln"}
    assert sheet.row("module-kiln").value == 30.0
    assert sheet.row("module-kiln").status == "ok"
    row = sheet.row("stays-open-kiln")
    assert row.text == "its module stays open as long as the generator feeds the house"
    assert "hold it open, without a priority" in row.todo


def test_the_fault_current_is_held_against_it(kept):
    """5,000 A are more than its 4,000 A, though no other module is of its kind."""
    weak = replace(kept.menu.module_kind[0] or kept.menu.book.modules[0], id="weak",
                   label="weak module", short_circuit_a=4000.0)
    kinds = tuple(weak if i in kept.choice.kept_open else one
                  for i, one in enumerate(kept.menu.module_kind))
    sheet = site_sheet(replace(kept, menu=replace(kept.menu, module_kind=kinds)))
    row = sheet.row("fault-module-weak")
    assert (row.status, row.value) == ("not ok", 4000.0)


def test_the_wire_to_the_panel_still_feeds_the_entire_dwelling(moved, kept):
    """The utility feeds the kiln through it unless it is moved (310.12: the entire load)."""
    assert "310.12," in site_sheet(kept).row("panel-feeder").clause
    assert "310.12 asks for the entire dwelling" in site_sheet(moved).row("panel-feeder").clause


def test_the_feeder_of_the_generator_does_not_count_it(moved, kept):
    """Its neutral is that of the same plan with the circuit moved."""
    runs = [feeder_run(plan) for plan in (moved, kept)]
    assert neutral_of(moved, runs[0]) == neutral_of(kept, runs[1])


def test_it_is_drawn_as_open(moved, kept):
    """With breaker, module and load, and no priority; what is moved is not drawn, and noted."""
    found, sheet = one_line(kept, site_sheet(kept)), site_sheet(moved)
    without = one_line(moved, sheet)
    added = set(found.graph) - set(without.graph)
    assert added == {circuit_node("kiln"), load_node("kiln"), "module:kiln"}
    node = found.graph.nodes["module:kiln"]
    assert node["title"] == "Stays open in an outage"
    assert node["priority"] is None
    assert any("Not drawn, as off standby power: 1 load" in note for note in without.notes)
    assert not any("Not drawn" in note for note in found.notes)
    assert any("drives 2 of 2" in note for note in found.notes)
    text = draw_one_line(found, Heading("home", "Plan.", "Purpose.", "date"))
    assert "Behind modules that stay open in an outage: kiln." in text
    assert "Stays open in an outage" in text
    assert "Priority None" not in text
