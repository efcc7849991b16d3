"""The site sheet: what is known is worked out, what is not is said to be missing."""

from __future__ import annotations

from dataclasses import fields, replace

import pytest

from planner.facts.site import Place, ServiceEquipment, Site
from planner.physics.wire.conductor_tables import SIZES
from planner.physics.wire.start_drop import run_ohm, start_voltages
from planner.physics.wire.voltage_drop import highest_ohm_per_kft
from planner.plan.site.feeder import named
from planner.plan.site.works import works_of
from planner.site.sheet import site_sheet
from planner.site.wire import drop_share, feeder_run
from tests.homes import generator
from tests.site.places import KNOWN, PICKED, PLACE, SERVICE, SET, WHOLE, plan_at


@pytest.fixture(scope="module")
def known():
    """Give the plan of a home whose site is known."""
    return plan_at(KNOWN)


@pytest.fixture(scope="module")
def unknown():
    """Give the plan of a home that says nothing of its site."""
    return plan_at(None, fault_current_a=None)


def at(plan, site, **changes):
    """Put a plan at another site without planning again, with the cheapest way to stand there."""
    one = replace(plan.menu.house.home, site=site, **changes)
    house = replace(plan.menu.house, home=one)
    works = works_of(house, plan.menu.book, plan.supply.generator)[0]
    return replace(plan, menu=replace(plan.menu, house=house, works=works))


def test_a_known_site_leaves_nothing_missing(known):
    """Where every fact is given no row is missing, and nothing of this place is wrong."""
    sheet = site_sheet(known)
    assert sheet.of("missing") == ()
    assert sheet.of("not ok") == ()
    assert [group.key for group in sheet.groups] == [
        "conductors", "transfer", "fuel", "grounding", "modules", "placement"]
    keys = [row.key for row in sheet]
    assert len(keys) == len(set(keys))
    assert len(sheet.frame()) == len(keys)
    assert "0 missing" in repr(sheet)


def test_every_row_is_whole(known, unknown):
    """A row has words, a clause or source, and says what to do unless it is right."""
    for row in (*site_sheet(known), *site_sheet(unknown)):
        assert row.what
        assert row.text
        assert row.clause
        assert row.todo or row.status == "ok"
        assert (row.value is None) == (row.unit == "")


MISSING = {
    "meter-capacity": "site.gas.meter", "gas-pipe": "site.gas.pipe",
    "feeder-drop": "site.wire", "start-240": "site.wire", "fault-utility": "home.fault_current",
    "fault-transfer": "home.fault_current", "fault-panel": "site.service.interrupting_rating",
    "surge": "site.service.surge_protected",
    "outside-disconnect": "site.service.disconnect_outside",
    "space-depth": "site.service.working_depth", "space-width": "site.service.working_width",
    "service-bond": "site.service.conductor", "bundled-cables": "site.service.bundled_cables",
    "opening": "site.place.opening", "wall": "site.place.wall",
    "gas-meter": "site.place.gas_meter", "property-line": "site.place.property_line",
    "noise": "site.place.neighbour", "snow": "site.place.snow", "flood": "site.place.flood"}


def test_nothing_known_is_nothing_assumed(unknown):
    """Without a site each of these rows is missing and names the key where the fact goes."""
    sheet = site_sheet(unknown)
    for key, place in MISSING.items():
        row = sheet.row(key)
        assert row.status == "missing", key
        assert "missing: " in row.todo
        assert place in row.todo
    with pytest.raises(KeyError):
        sheet.row("no such row")


@pytest.mark.parametrize("name", [
    one.name for one in fields(Place) if one.name not in (
        "wall_is_combustible", "raised_pad")])
def test_each_fact_of_the_place_alone_is_missed(known, name):
    """Taking one fact away makes one row missing, and no other row changes its status."""
    full = {row.key: row.status for row in site_sheet(known)}
    bare = site_sheet(at(known, replace(KNOWN, place=replace(PLACE, **{name: None}))))
    changed = [row for row in bare if row.status != full[row.key]]
    assert [row.status for row in changed] == ["missing"]


@pytest.mark.parametrize("name", ["disconnect_outside", "surge_protected", "panel_rating_ka",
                                  "panel_working_depth_in", "panel_working_width_in",
                                  "bundled_cables"])
def test_each_fact_of_the_service_alone_is_missed(known, name):
    """The same for what is known of the service."""
    full = {row.key: row.status for row in site_sheet(known)}
    bare = site_sheet(at(known, replace(KNOWN, service=replace(SERVICE, **{name: None}))))
    assert [row.status for row in bare if row.status != full[row.key]] == ["missing"]


def test_the_feeder_of_the_small_home(known):
    """20 kW, 83.3 A: 95.8 A by 445.13, 3 AWG copper at 75 degC terminals, 8 AWG to ground.

    Tables 310.16 and 250.122 (from memory).
    """
    sheet = site_sheet(known)
    assert sheet.row("generator-breaker").value == 90.0
    assert sheet.row("feeder").text.startswith("3 AWG copper")
    assert "95.9 A" in sheet.row("feeder").limit  # 95.83, rounded to the side that works
    assert sheet.row("equipment-ground").text == "8 AWG copper"


def test_unmarked_terminals_say_what_a_mark_is_worth(known):
    """With 60 degC terminals it is 1 AWG, and the row says that a mark of 75 makes it 3 AWG."""
    row = site_sheet(at(known, replace(KNOWN, terminals_degc=None))).row("feeder")
    assert row.text.startswith("1 AWG copper")
    assert "3 AWG" in row.todo
    assert "site.terminals" in row.todo


@pytest.mark.parametrize("material", ["copper", "aluminum"])
@pytest.mark.parametrize("raceway", ["PVC", "steel"])
@pytest.mark.parametrize("length_ft", [50.0, 200.0, 400.0, 550.0])
def test_the_wire_that_is_named_keeps_the_drop(known, material, raceway, length_ft):
    """Where the least by code loses more than 3 %, a larger wire is laid, and ground with it."""
    plan = at(known, replace(KNOWN, material=material, raceway=raceway, wire_ft=length_ft))
    run, sheet = feeder_run(plan), site_sheet(plan)
    row = sheet.row("feeder-drop")
    assert row.value <= 3.0
    assert run.laid == plan.menu.works.feeder.size
    if row.status == "ok":
        assert run.laid == run.by_code.size
        return
    assert drop_share(plan, run, run.by_code.size) > 0.03
    assert SIZES.index(run.laid) > SIZES.index(run.by_code.size)
    assert run.laid in row.todo
    assert drop_share(plan, run, run.laid) <= 0.03
    assert "250.122(B)" in sheet.row("equipment-ground").clause
    assert sheet.row("feeder-neutral").text.startswith(f"{named(run.laid, material)}, as large")


def test_too_long_a_way_is_said(known):
    """Where no single conductor keeps the drop no size is named."""
    row = site_sheet(at(known, replace(KNOWN, wire_ft=4000.0))).row("feeder-drop")
    assert row.status == "to do"
    assert "No single conductor" in row.todo


def test_a_generator_too_large_for_one_wire():
    """Where no single conductor carries it the sheet says so and still has its other groups."""
    plan = plan_at(None, machine=generator(90.0, 9000.0), service_a=400.0,
                   transfer=replace(WHOLE, rating_a=400.0))
    sheet = site_sheet(plan)
    assert sheet.row("feeder").status == "not ok"
    assert "parallel" in sheet.row("feeder").todo
    assert sheet.row("opening").status == "missing"


def test_a_start_over_a_long_wire(known):
    """The dip at the panel grows with the way; where it is too deep a wire that mends it is named.

    With the wire that is named the dip is within the limit.
    """
    dips = [site_sheet(at(known, replace(KNOWN, wire_ft=ft))).row("start-240").value
            for ft in (10.0, 60.0, 120.0)]
    assert dips == sorted(dips)
    home = known.menu.house.home
    tight = replace(home.limits, allowed_dip=dips[1] / 100.0 - 0.002)
    row = site_sheet(at(known, KNOWN, limits=tight)).row("start-240")
    assert row.status == "not ok"
    size = row.todo.removeprefix("Lay ").split()[0]
    air = known.menu.house.home.load("air")
    mended = start_voltages(air.starting_kva, air.starting_pf, 240.0, known.supply.kva,
                            SET.reactance, run_ohm(size, KNOWN.wire_ft))
    assert mended.panel_dip <= tight.allowed_dip
    beyond = replace(home.limits, allowed_dip=0.01)
    assert "soft starter" in site_sheet(at(known, KNOWN, limits=beyond)).row("start-240").todo


def test_what_plugs_in_at_the_end_sees_the_neutral(known):
    """A neutral smaller than the lines leaves less for circuits of one leg, by 16 A through it.

    Derived: 5 % less the drop of the lines, less 16 A over 60 ft of it, of 120 V; up to 3 % of it
    over 12 AWG at 2.0 ohm/kft (NEC Chapter 9, Table 9). With 500 ft and large wire it is the 5 %.
    """
    plan = at(known, replace(KNOWN, wire_ft=500.0))
    run, row = feeder_run(plan), site_sheet(plan).row("branch-drop")
    share = drop_share(plan, run, run.laid)
    back_ohm = highest_ohm_per_kft(run.laid) * 0.5
    left_v = 120.0 * (0.05 - share) - 16.0 * back_ohm
    assert left_v < 0.03 * 120.0
    assert row.value == pytest.approx(1000.0 * left_v / (2.0 * 16.0 * highest_ohm_per_kft("12")))


def test_selected_circuits(unknown):
    """Selected circuits count their poles, and say nothing of the service that they leave alone."""
    sheet = site_sheet(plan_at(KNOWN, transfer=PICKED))
    assert sheet.row("positions").text == "6 of 10"
    assert sheet.row("positions").status == "ok"
    row = sheet.row("transfer-wire")  # 100 A: 1 AWG at 60 degC, 8 AWG to ground
    assert row.text.startswith("1 AWG copper")
    assert "ground 8 AWG copper" in row.text
    assert "apart" in row.todo
    keys = {row.key for row in sheet}
    assert not keys & {"service-rated", "transfer-service", "panel-feeder", "service-bond"}
    assert "positions" not in {row.key for row in site_sheet(unknown)}


def test_site_facts_have_no_defaults_that_hide():
    """What the sheet misses is unknown in the facts: None, so that nothing is assumed there."""
    assert {getattr(Site(), name) for name in ("wire_ft", "terminals_degc")} == {None}
    assert {getattr(ServiceEquipment(), name) for name in (
        "conductor", "panel_rating_ka", "bundled_cables", "surge_protected")} == {None}
    assert SET.noise_db is not None
    assert generator(10.0, 1.0).noise_db is None
