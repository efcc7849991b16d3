"""Panels, feeders and the way down from the service."""

from __future__ import annotations

import pytest

from planner.facts.home import Panel
from planner.wiring import PanelRow, build, panel_rows
from tests.homes import home, load

TWO = (Panel("main", 200.0), Panel("upstairs", 60.0, fed_from="main"))


def test_a_panel_carries_what_it_feeds_and_the_root_is_held_to_the_service():
    """The main panel carries all loads at the smaller rating, the subpanel its own."""
    house = home(load("range", 8.0), load("air", 3.0, panel="upstairs"), panels=TWO)
    assert panel_rows(house) == (
        PanelRow("main", 100.0, ("range", "air")),
        PanelRow("upstairs", 60.0, ("air",)),
    )


def test_two_panels_on_the_service_share_its_rating():
    """Each has its own feeder; a row of its own holds all loads to the service."""
    panels = (Panel("east", 100.0), Panel("west", 150.0))
    house = home(load("range", 8.0, panel="west"), load("air", 3.0, panel="east"), panels=panels,
                 service_a=200.0)
    assert panel_rows(house) == (
        PanelRow("east", 100.0, ("air",)),
        PanelRow("west", 150.0, ("range",)),
        PanelRow("service", 200.0, ("range", "air")),
    )


def test_the_path_to_a_load_names_every_step():
    """Service, transfer, panels, circuit, load, in the order that current flows."""
    house = home(load("air", 3.0, panel="upstairs"), panels=TWO)
    assert build(house).path_to("air") == (
        "service", "transfer", "panel:main", "panel:upstairs", "circuit:air", "load:air")


def test_opening_a_panel_darkens_everything_below_it():
    """All loads of the main panel and of the panels it feeds lose power; unknown nodes raise."""
    house = home(load("range", 8.0), load("air", 3.0, panel="upstairs"), panels=TWO)
    wiring = build(house)
    assert wiring.loads_below("panel:main") == {"range", "air"}
    assert wiring.loads_below("panel:upstairs") == {"air"}
    with pytest.raises(KeyError):
        wiring.loads_below("panel:attic")
