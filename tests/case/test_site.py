"""What a home file says of its site becomes facts; what it leaves out stays unknown."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.site import GasService, PipeRun, PropaneTank, Site
from tests.case.files import HEAD, load_text, read_text

PROPANE = HEAD.replace('"natural gas"', '"propane"')
FURNACE = load_text("furnace", "gas furnace", 'size = "90 kBtu/h"')


def test_without_a_site_nothing_is_known(tmp_path):
    """No table, no site."""
    assert read_text(tmp_path, HEAD + FURNACE).site is None


def test_an_empty_site_is_all_unknown(tmp_path):
    """A table without keys: copper in PVC, and nothing else but what a furnace's size says."""
    site = read_text(tmp_path, HEAD + FURNACE + "[site]\n").site
    assert replace(site, gas=None) == Site()
    assert replace(site.gas, appliances=()) == GasService()
    assert [one.input_btu_h for one in site.gas.appliances] == [90000.0]
    blower = load_text("blower", "furnace blower")
    assert read_text(tmp_path, HEAD + blower + "[site]\n").site == Site()


def test_every_key_is_read(tmp_path):
    """Lengths in feet, heights in inches, pressure in psi, marks in degC, days."""
    site = read_text(tmp_path, PROPANE + FURNACE + """
[site]
wire = "720 in"
conductor = "aluminum"
raceway = "steel"
terminals = "167 degF"
trench = "30 ft"
fuel_promise = "48 h"
[site.gas]
pressure = "11 inWC"
drop = "0.3 inWC"
pipe = "25 ft"
[site.tank]
size = "250 gal"
count = 2
fill_at_delivery = "35 %"
[site.place]
opening = "7 ft"
wall = "4 ft"
wall_is_combustible = false
neighbour = "60 ft"
neighbour_limit = "55 dB"
snow = "2 ft"
raised_pad = true
[site.service]
replaced = true
surge_protected = false
interrupting_rating = "10000 A"
working_depth = "3 ft"
""").site
    assert (site.wire_ft, site.material, site.raceway) == (60.0, "aluminum", "steel")
    assert (site.terminals_degc, site.trench_ft, site.fuel_days) == (75, 30.0, 2.0)
    assert site.gas.pressure_psi == pytest.approx(11.0 / 27.6799)
    assert site.gas.drop_in_wc == pytest.approx(0.3)
    assert site.gas.runs == (PipeRun("generator", 25.0, generator=True),)
    assert site.tank == PropaneTank(250.0, 2, pytest.approx(0.35))
    place, service = site.place, site.service
    assert (place.opening_ft, place.wall_ft, place.wall_is_combustible) == (7.0, 4.0, False)
    assert (place.neighbour_ft, place.neighbour_limit_db) == (60.0, 55.0)
    assert (place.snow_in, place.raised_pad, place.flood_in) == (24.0, True, None)
    assert (service.replaced, service.surge_protected) == (True, False)
    assert (service.panel_rating_ka, service.panel_working_depth_in) == (10.0, 36.0)
    assert service.disconnect_outside is None


def test_what_a_furnace_burns_follows_from_its_size(tmp_path):
    """A gas furnace that nobody lists counts with its size, as assumed; listed, as listed."""
    text = HEAD + FURNACE + '[site.gas]\nmeter = "250 ft^3/h"\n'
    one, = read_text(tmp_path, text).site.gas.appliances
    assert (one.input_btu_h, one.load, one.assumed) == (90000.0, "furnace", True)
    listed = text + '[[site.gas.appliances]]\nid = "f"\ninput = "100 kBtu/h"\nload = "furnace"\n'
    one, = read_text(tmp_path, listed).site.gas.appliances
    assert (one.input_btu_h, one.label, one.assumed) == (100000.0, "Furnace", False)


def test_the_heating_value_of_the_utility_is_read(tmp_path):
    """As its bill says it, in Btu per cubic foot; None where nobody says it."""
    text = HEAD + FURNACE + '[site.gas]\nmeter = "250 ft^3/h"\n'
    assert read_text(tmp_path, text).site.gas.btu_per_ft3 is None
    told = text + 'heating_value = "980 Btu/ft^3"\n'
    assert read_text(tmp_path, told).site.gas.btu_per_ft3 == pytest.approx(980.0)
