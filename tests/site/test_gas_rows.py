"""The rows of meter, pressure and pipe: right, to do, or missing with the key that is asked for."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.home import DesignDay
from planner.facts.site import GasAppliance, GasService, PipeRun, PropaneTank, Site
from planner.physics.propane_pressure import propane_psi
from planner.site.sheet import site_sheet
from tests.homes import load
from tests.site.places import BARE, GAS, KNOWN, SET, plan_at

DRYER = load("dryer", 0.3, kind="gas dryer", label="Dryer", allowed=frozenset({"direct"}))
FURNACE = load("furnace", 0.5, kind="gas furnace", label="Furnace", allowed=frozenset({"direct"}))
NAMED = (GasAppliance("f", "Furnace", 1e5, load="furnace"),
         GasAppliance("d", "Dryer", 2e4, load="dryer"))
TREE = (PipeRun("trunk", 20.0, size="1-1/2", appliances=("f",)),
        PipeRun("last", 20.0, "trunk", generator=True))


def rows_at(gas, loads=(), machine=SET):
    """The rows of the sheet by their keys."""
    sheet = site_sheet(plan_at(replace(KNOWN, gas=gas), loads=loads, machine=machine))
    return {row.key: row for row in sheet}


def test_the_meter_is_not_right_while_a_burner_is_not_counted():
    """The row is missing and names each of them and the key; with their inputs it is right.

    289.3 ft³/h at 300,000 Btu/h and 1037 Btu/ft³ (EIA), 115.7 for 120,000.
    """
    row = rows_at(GAS, (FURNACE, DRYER))["meter-capacity"]
    assert row.status == "missing"
    assert "Furnace and Dryer burn" in row.todo
    assert "[[site.gas.appliances]]" in row.todo
    assert "0 for the appliances that are known" in row.text
    range_ = load("range", 0.3, kind="gas range", label="Range", allowed=frozenset({"direct"}))
    assert "Furnace, Dryer and Range burn" in rows_at(GAS, (FURNACE, DRYER, range_))[
        "meter-capacity"].todo
    one = rows_at(replace(GAS, appliances=NAMED[:1]), (FURNACE, DRYER))["meter-capacity"]
    assert "how much gas Dryer burns" in one.todo
    known = rows_at(replace(GAS, appliances=NAMED), (FURNACE, DRYER))["meter-capacity"]
    assert (known.status, known.value) == ("ok", pytest.approx(420000.0 / 1037.0))


def test_a_meter_that_nobody_read_is_asked_for_with_what_it_feeds():
    """Both facts are missing, and what is needed is a least."""
    row = rows_at(replace(GAS, meter_ft3_h=None), (DRYER,))["meter-capacity"]
    assert row.status == "missing"
    assert "site.gas.meter" in row.todo
    assert "at least 290 ft³/h" in row.todo
    assert "Dryer" in row.todo


def test_pipe_that_feeds_more_than_is_known_is_missing():
    """A tree with the furnace on it and a dryer of which nothing is known; not a run of its own."""
    gas = replace(GAS, runs=TREE, appliances=NAMED[:1])
    assert rows_at(gas, (FURNACE, DRYER))["gas-pipe-appliances"].status == "missing"
    assert "gas-pipe-appliances" not in rows_at(replace(gas, appliances=NAMED), (FURNACE, DRYER))
    assert "gas-pipe-appliances" not in rows_at(GAS, (FURNACE, DRYER))


def test_what_arrives_is_held_against_what_the_generator_needs():
    """7 in w.c. less 0.5 are 6.5 (derived); without the maker's figure the row names its key."""
    gas = replace(GAS, pressure_psi=7.0 / 27.6799)
    row = rows_at(gas)["gas-pressure"]
    assert (row.status, row.value) == ("ok", pytest.approx(6.5))
    assert "6.5 inWC at the generator" in row.text
    assert "needs 5 inWC" in row.limit
    bare = rows_at(gas, machine=BARE)["gas-pressure"]
    assert bare.status == "missing"
    assert 'inlet_pressure in [generators.ratings."natural gas"]' in bare.todo


def test_under_pressure_the_row_names_every_regulator():
    """NFPA 54 ch. 5 (from memory): at the generator and the furnace; above 5 psi not indoors."""
    row = rows_at(replace(GAS, pressure_psi=2.0, runs=TREE, appliances=NAMED),
                  (FURNACE, DRYER))["gas-pressure"]
    assert row.status == "to do"
    assert "at the generator" in row.todo
    assert "So does one at Furnace" in row.todo
    assert "building" not in row.todo
    high = rows_at(replace(GAS, pressure_psi=10.0))["gas-pressure"]
    assert "whatever else this pressure reaches" in high.todo
    assert "Above 5 psi the pipe stays out of the building" in high.todo


def test_sizes_of_pipe_say_of_what_they_are():
    """Schedule 40 steel, as in NFPA 54 ch. 6 (from memory); without a length nothing is said."""
    rows = rows_at(GAS)
    assert " in steel, 40 ft" in rows["gas-pipe-generator"].text
    assert "Schedule 40 steel" in rows["gas-pipe-kind"].text
    assert "coated" in rows["gas-pipe-kind"].todo
    assert "gas-pipe-kind" not in rows_at(GasService(0.25, meter_ft3_h=600.0))


def test_a_stated_heating_value_is_counted_and_named():
    """300,000 Btu/h are 306.1 ft³/h at 980 Btu/ft³ (derived)."""
    row = rows_at(replace(GAS, btu_per_ft3=980.0))["full-load"]
    assert row.value == pytest.approx(300000.0 / 980.0)
    assert "980 Btu/ft³ (as stated)" in row.clause
    assert "EIA" in rows_at(GAS)["full-load"].clause


@pytest.mark.parametrize(("low_degf", "status"), [(-20.0, "ok"), (-22.0, "not ok")])
def test_a_cold_tank_is_held_against_the_first_stage(low_degf, status):
    """10 psi at the start of the pipe: 10.7 psi are left at -20 degF, 9.6 at -22 (derived).

    The coldest of the design days counts; natural gas, or a pressure nobody knows, has no such row.
    """
    site = Site(gas=replace(GAS, pressure_psi=10.0, meter_ft3_h=None), tank=PropaneTank(1000.0, 2))
    days = (DesignDay("mild", "mild", "mild", 0.5, 40.0, 80.0),
            DesignDay("cold", "cold", "mild", 0.5, low_degf, 80.0))
    row = site_sheet(plan_at(site, fuel="propane", days=days)).row("tank-pressure")
    assert row.status == status
    assert row.value == pytest.approx(propane_psi(low_degf))
    assert row.limit == "the pipe starts with 10 psi"
    assert ("vaporizer" in row.todo) == (status == "not ok")
    assert "tank-pressure" not in rows_at(GAS)
    unknown = replace(site, gas=replace(site.gas, pressure_psi=None))
    assert "tank-pressure" not in {one.key for one in site_sheet(
        plan_at(unknown, fuel="propane"))}
