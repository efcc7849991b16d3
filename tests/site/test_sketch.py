"""The sketch of the place: the home's own distances, beside what is asked for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.site import PropaneTank, Site
from planner.physics.clearances import FROM_OPENINGS_FT, FROM_WALLS_FT
from planner.report.site.drawings import drawings
from planner.site.sheet import site_sheet
from planner.site.sketch import sketch_of
from tests.site.drawn import Drawn
from tests.site.places import KNOWN, PLACE, plan_at
from tests.site.plans import plan_called

GIVEN = {"opening": "opening_ft", "wall": "wall_ft", "gas-meter": "gas_meter_ft",
         "property-line": "property_line_ft", "neighbour": "neighbour_ft"}


def at(place):
    """Give plan and sketch of a home whose generator stands so."""
    plan = plan_at(replace(KNOWN, place=place))
    return plan, sketch_of(plan, site_sheet(plan))


def named(sketch):
    """Distances of a sketch by their keys."""
    return {one.key: one for one in sketch.distances}


def test_distances_are_those_of_the_home():
    """Each is the file's own figure, on the drawing too; the wire's length as well."""
    plan, sketch = at(PLACE)
    found = named(sketch)
    words = Drawn(drawings(plan)[1].svg).words
    for letter, one in zip("ABCDEF", sketch.distances, strict=True):
        assert f"{letter}: {one.found_ft:g} ft" in words
    for key, name in GIVEN.items():
        assert found[key].found_ft == getattr(PLACE, name)
    assert found["wire"].found_ft == KNOWN.wire_ft


@pytest.mark.parametrize(("key", "name", "least_ft"), [
    ("opening", "opening_ft", FROM_OPENINGS_FT), ("wall", "wall_ft", FROM_WALLS_FT)])
def test_a_distance_is_held_against_what_is_asked_for(key, name, least_ft):
    """At the least distance it is OK, an inch nearer NOT OK, and unknown it is not stated."""
    for found_ft, verdict in ((least_ft, "OK"), (least_ft - 1.0 / 12.0, "NOT OK"),
                              (None, "not stated")):
        plan, sketch = at(replace(PLACE, **{name: found_ft}))
        one = named(sketch)[key]
        assert (one.found_ft, one.verdict) == (found_ft, verdict)
        assert one.least == f"at least {least_ft:g} ft, against fire"
        words = Drawn(drawings(plan)[1].svg).words
        assert ("NOT OK" in words) == (verdict == "NOT OK")


def test_where_no_minimum_is_known_none_is_made_up():
    """Setback and gas meter are local: the distance stands, its minimum is not stated."""
    _, sketch = at(PLACE)
    for key in ("gas-meter", "property-line"):
        assert named(sketch)[key].verdict == "minimum not stated"
        assert named(sketch)[key].least == ""


def test_a_wall_that_does_not_burn_needs_no_minimum():
    """Its distance stays the home's; the sheet's word on it stands beside."""
    _, sketch = at(replace(PLACE, wall_is_combustible=False, wall_ft=2.0))
    wall = named(sketch)["wall"]
    assert (wall.found_ft, wall.verdict) == (2.0, "OK")
    assert wall.least.startswith("none beside a wall that resists fire")


@pytest.mark.parametrize(("allowed_db", "verdict"), [
    (60.0, "OK"), (59.0, "NOT OK"), (None, "limit not stated")])
def test_sound_at_the_neighbour(allowed_db, verdict):
    """66 dB at 23 ft is 60 dB at 46 ft (derived: twice as far, 6.02 dB less)."""
    _, sketch = at(replace(PLACE, neighbour_limit_db=allowed_db))
    assert named(sketch)["neighbour"].verdict == verdict
    assert any(note.startswith("Sound level at the neighbour: 60.0 dB at 46 ft")
               for note in sketch.notes)


def test_nothing_known_is_not_stated():
    """Without a site each distance says so, and nothing on the sketch is OK."""
    plan = plan_called("unknown")
    sketch = sketch_of(plan, site_sheet(plan))
    assert {one.found for one in sketch.distances} == {"not stated"}
    assert {one.verdict for one in sketch.distances} == {"not stated"}
    words = Drawn(drawings(plan)[1].svg).words
    assert "OK" not in words
    assert "NOT OK" not in words


def test_the_tank_stands_where_propane_is_burned():
    """Size, number and fill as the home gives them; how far it is nobody states."""
    plan = plan_called("farm")
    sketch = sketch_of(plan, site_sheet(plan))
    tank = plan.menu.house.home.site.tank
    assert sketch.tank.startswith(f"{tank.gal:g} gal")
    assert sketch.tank.endswith(f"delivery called at {100.0 * tank.delivery_share:g} % fill")
    assert named(sketch)["tank"].found == "not stated"
    assert "tank" not in named(sketch_of(plan_called("known"), site_sheet(plan_called("known"))))


def test_several_tanks_are_counted():
    """Two tanks of 500 gal are written so."""
    home = plan_called("farm").menu.house.home
    plan = plan_called("farm")
    site = replace(home.site, tank=PropaneTank(500.0, count=2))
    changed = replace(plan, menu=replace(plan.menu, house=replace(
        plan.menu.house, home=replace(home, site=site))))
    assert sketch_of(changed, site_sheet(changed)).tank.startswith("2 × 500 gal")


def test_a_home_without_a_tank_yet_shows_what_is_bought():
    """No "0 × 500 gal"."""
    plan = plan_called("farm")
    house = plan.menu.house
    site = replace(house.home.site, tank=PropaneTank(500.0, count=0))
    changed = replace(plan, menu=replace(plan.menu, house=replace(
        house, home=replace(house.home, site=site))))
    tank = sketch_of(changed, site_sheet(plan)).tank
    assert tank.startswith("125 gal in the price; delivery called")


def test_an_empty_site_is_as_one_that_is_not_there():
    """A `[site]` without a key states nothing either."""
    plan = plan_at(Site())
    assert {one.found for one in sketch_of(plan, site_sheet(plan)).distances} == {"not stated"}
