"""What the sheet says of transfer equipment, service, grounding, faults and place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.price_book import Module
from planner.physics.wire.branch import usual_branch
from planner.plan.module_lines import ModuleLine
from planner.service.choice import OFF
from planner.site.sheet import modules, site_sheet
from tests.homes import load
from tests.site.places import KNOWN, PLACE, SERVICE, SET, WHOLE, plan_at


@pytest.fixture(scope="module")
def known():
    """Give the plan of a home whose site is known."""
    return plan_at(KNOWN)


def at(plan, *, transfer=None, generator=None, **changes):
    """Put a plan at another site, or behind other equipment, without planning again."""
    menu = plan.menu
    one = replace(menu.house.home, **changes)
    menu = replace(menu, house=replace(menu.house, home=one),
                   transfers=(transfer,) if transfer else menu.transfers,
                   generator=generator or menu.generator)
    return replace(plan, menu=menu,
                   supply=replace(plan.supply, generator=generator or plan.supply.generator))


def test_the_neutral_decides_the_grounding(known):
    """Not switched: one bond, at the service. Switched: electrode and jumper. Unknown: both said.

    3 AWG copper lines: 8 AWG to the electrode by Table 250.66 (from memory).
    """
    kept = site_sheet(known)
    assert "not separately derived" in kept.row("neutral-bond").text
    assert "electrode" not in {row.key for row in kept}
    switched = site_sheet(at(known, transfer=replace(WHOLE, switches_neutral=True)))
    assert "is a separately derived system" in switched.row("neutral-bond").text
    assert switched.row("electrode").text == "8 AWG copper"
    assert switched.row("bonding-jumper").text == "8 AWG copper"
    silent = site_sheet(at(known, transfer=replace(WHOLE, switches_neutral=None)))
    assert silent.row("neutral-bond").status == "missing"
    assert "only if the neutral is switched" in silent.row("electrode").text


def test_service_rated_or_not(known):
    """Yes: it is the service disconnect, and neutral and ground part behind it (250.142(B)).

    No: one stands ahead of it. Unknown: missing.
    """
    rows = [site_sheet(at(known, transfer=replace(WHOLE, service_rated=rated))).row("service-rated")
            for rated in (True, False, None)]
    assert [row.status for row in rows] == ["to do", "to do", "missing"]
    assert "grounding conductor" in rows[0].todo
    assert "ahead of it" in rows[1].todo


def test_the_wire_to_the_panel_is_a_feeder(known):
    """A grounding conductor runs with it: 100 A, 8 AWG copper (Table 250.122, from memory).

    What is there may be an old cable of three wires, so the row is to do, however large it is.
    """
    row = site_sheet(known).row("panel-feeder")
    assert row.status == "to do"
    assert row.text.endswith("ground 8 AWG copper")
    assert "neutral and ground apart in the panel" in row.todo
    assert "250.142(B)" in row.clause
    aluminum = replace(SERVICE, conductor="4/0", material="aluminum")
    wide = site_sheet(at(known, service_a=200.0, site=replace(KNOWN, service=aluminum)))
    assert wide.row("panel-feeder").text.endswith("ground 4 AWG aluminum")
    small = replace(SERVICE, conductor="6")
    row = site_sheet(at(known, site=replace(KNOWN, service=small))).row("panel-feeder")
    assert row.status == "not ok"


def test_equipment_larger_than_the_service(known):
    """As service disconnect it protects the service conductors: its breaker is theirs (230.90)."""
    assert "service-overcurrent" in {row.key for row in site_sheet(known)}  # 200 A on 100 A
    row = site_sheet(known).row("service-overcurrent")
    assert row.status == "to do"
    assert row.text.startswith("100 A at most")
    for other in (replace(WHOLE, rating_a=100.0), replace(WHOLE, service_rated=False)):
        assert "service-overcurrent" not in {
            row.key for row in site_sheet(at(known, transfer=other))}


@pytest.mark.parametrize(("wire_ft", "far"), [(None, False), (50.0, False), (51.0, True)])
def test_within_sight_is_fifty_feet(known, wire_ft, far):
    """NEC Article 100, from memory: beyond it a disconnect at the building is asked for."""
    row = site_sheet(at(known, site=replace(KNOWN, wire_ft=wire_ft))).row("in-sight")
    assert row.status == "to do"
    assert row.todo.startswith("Put a disconnect at the building") == far


def test_a_wire_in_the_ground_is_covered(known):
    """NEC Table 300.5, from memory: 18 in over PVC, 6 in over rigid metal conduit; else no row."""
    for raceway, cover in (("PVC", "18 in"), ("steel", "6 in")):
        site = replace(KNOWN, trench_ft=30.0, raceway=raceway)
        assert site_sheet(at(known, site=site)).row("burial").text.startswith(cover)
    assert "burial" not in {row.key for row in site_sheet(known)}


def test_heat_asks_for_larger_wire_to_the_panel(known):
    """At 120 degF (48.9 degC) the table of 310.12 does not hold: 83 A after correction by 0.82.

    4 AWG copper, 95 · 0.82 = 77.9 A, is too little, 3 AWG, 90.2 A, enough (derived).
    """
    hot = tuple(replace(day, high_degf=120.0) for day in known.menu.house.home.days)
    assert "3 AWG" in site_sheet(at(known, days=hot)).row("panel-feeder").limit


def test_the_wire_to_the_panel_is_for_the_larger_of_both_devices_ahead(known):
    """On the generator its own breaker alone stands ahead: 150 A behind a service of 100 A.

    Table 250.122 (from memory): 6 AWG copper for 150 A, 8 AWG for 100 A.
    """
    sheet = site_sheet(replace(known, supply=replace(known.supply, generator=replace(
        known.supply.generator, breaker_a=150.0))))
    row = sheet.row("panel-feeder")
    assert "for 150 A" in row.limit + row.text
    assert "ground 6 AWG copper" in row.text + row.todo
    assert "for 100 A" in site_sheet(known).row("panel-feeder").limit


def test_ratings_of_the_transfer_equipment(known):
    """Equipment below the service or the generator's breaker is not ok."""
    small = site_sheet(at(known, transfer=replace(WHOLE, rating_a=80.0)))
    assert small.row("transfer-service").status == "not ok"
    assert small.row("transfer-feeder").status == "not ok"
    assert site_sheet(known).row("transfer-service").status == "ok"


@pytest.mark.parametrize(("edition", "number"), [
    ("2017", "445.18"), ("2020", "445.18(D)"), ("2023", "445.19(C)"), ("2026", "445.19(C)")])
def test_emergency_shutdown_by_edition(known, edition, number):
    """The clause follows the edition; 2026 names that of 2023."""
    code = replace(known.menu.house.home.code, edition=edition)
    row = site_sheet(at(known, code=code)).row("shutdown")
    assert row.clause.startswith(number)
    assert ("not asked" in row.text) == (edition == "2017")


@pytest.mark.parametrize(("replaced", "there", "rated", "status"), [
    (True, True, False, "ok"), (True, False, False, "not ok"), (False, False, False, "ok"),
    (False, False, True, "to do"), (True, None, False, "missing"), (False, None, False, "ok")])
def test_surge_and_disconnect_where_the_service_is_replaced(
        known, replaced, there, rated, status):
    """Both are asked of service equipment that is replaced; a service-rated switch may be such."""
    service = replace(SERVICE, replaced=replaced, surge_protected=there, disconnect_outside=there)
    sheet = site_sheet(at(known, transfer=replace(WHOLE, service_rated=rated),
                          site=replace(KNOWN, service=service)))
    assert [sheet.row(key).status for key in ("surge", "outside-disconnect")] == [status] * 2


def test_surge_protection_came_in_2020(known):
    """The edition of 2017 asks for neither, whatever is replaced."""
    code = replace(known.menu.house.home.code, edition="2017")
    service = replace(SERVICE, replaced=True, surge_protected=False, disconnect_outside=False)
    sheet = site_sheet(at(known, code=code, site=replace(KNOWN, service=service)))
    assert [sheet.row(key).status for key in ("surge", "outside-disconnect")] == ["ok", "ok"]


def test_a_fault_beyond_what_is_withstood(known):
    """12 kA from the utility is too much for 10 kA of switch, panel and module; 10 kA is not."""
    keys = ("fault-transfer", "fault-panel", "fault-module-relay")
    for amperes, status in ((12000.0, "not ok"), (10000.0, "ok")):
        sheet = site_sheet(at(known, fault_current_a=amperes))
        assert [sheet.row(key).status for key in keys] == [status] * 3


@pytest.mark.parametrize(("withstands_a", "flows_a", "status", "key"), [
    (5000.0, 5000.0, "ok", ""), (5000.0, 5001.0, "not ok", ""),
    (5000.0, None, "missing", "home.fault_current"),
    (None, 5000.0, "missing", "short_circuit of the soft starter in the price book")])
def test_a_soft_starter_is_held_against_the_fault(known, withstands_a, flows_a, status, key):
    """One row for each kind that the plan has; without its rating the row names the key."""
    starters = tuple(replace(one, short_circuit_a=withstands_a)
                     for one in known.menu.book.soft_starters)
    menu = replace(known.menu, book=replace(known.menu.book, soft_starters=starters))
    air = known.menu.house.index("air")
    soft = tuple(int(i == air) for i in range(known.menu.house.count))
    started = replace(known, menu=menu, choice=replace(known.choice, soft_start=soft))
    row = site_sheet(at(started, fault_current_a=flows_a)).row("fault-soft-starter-soft")
    assert row.status == status
    assert key in row.todo
    assert row.clause == "110.9, 110.10"
    assert not any("soft-starter" in row.key for row in site_sheet(known))


def test_the_generator_counts_where_it_gives_more(known):
    """20 kVA over X''d 0.12 is 694 A; a utility of 500 A does not hide it (derived)."""
    sheet = site_sheet(at(known, fault_current_a=500.0))
    assert sheet.row("fault-generator").value == pytest.approx(83.333 / 0.12, abs=0.1)
    assert "695 A" in sheet.row("fault-panel").limit
    silent = site_sheet(at(known, generator=replace(SET, subtransient=None))).row("fault-generator")
    assert silent.status == "to do"
    assert silent.value == pytest.approx(83.333 / 0.1, abs=0.1)


def test_circuits_moved_off_lose_the_dwelling_table():
    """310.12 is for an entire dwelling: with a load on the utility side Table 310.16 counts.

    100 A: 4 AWG copper by 310.12(A), 3 AWG by Table 310.16 at 75 degC.
    """
    whole = site_sheet(plan_at(KNOWN)).row("panel-feeder")
    assert "4 AWG" in whole.limit
    plan = plan_at(KNOWN, loads=(
        load("spare", 2.0, allowed=frozenset({"off"}), importance=0),))
    moved = replace(plan.choice, connection=(*plan.choice.connection[:-1], OFF))
    part = site_sheet(replace(plan, choice=moved)).row("panel-feeder")
    assert "3 AWG" in part.limit
    assert "310.16" in part.clause


def test_a_distance_that_is_named_is_enough(known):
    """Too near is not ok; at the distance that the row names it is ok."""
    near = replace(KNOWN, place=replace(PLACE, opening_ft=4.9, wall_ft=3.0))
    sheet = site_sheet(at(known, site=near))
    assert [sheet.row(key).status for key in ("opening", "wall")] == ["not ok", "not ok"]
    assert "5 ft" in sheet.row("wall").todo
    far = replace(KNOWN, place=replace(PLACE, opening_ft=5.0, wall_ft=5.0))
    sheet = site_sheet(at(known, site=far))
    assert [sheet.row(key).status for key in ("opening", "wall")] == ["ok", "ok"]
    masonry = replace(KNOWN, place=replace(PLACE, wall_ft=2.0, wall_is_combustible=False))
    assert site_sheet(at(known, site=masonry)).row("wall").status == "ok"


def test_the_sound_at_the_neighbour(known):
    """66 dB at 23 ft is 60.0 dB at 46 ft (derived: −6.02 dB), ok at 60; 59 dB asks for 52 ft.

    At the distance that is named it is ok, a foot nearer it is not.
    """
    row = site_sheet(known).row("noise")
    assert row.value == pytest.approx(59.98, abs=0.01)
    assert row.status == "ok"
    strict = replace(PLACE, neighbour_limit_db=59.0)
    row = site_sheet(at(known, site=replace(KNOWN, place=strict))).row("noise")
    assert row.status == "not ok"
    assert "52 ft away" in row.todo
    for feet, status in ((52.0, "ok"), (51.0, "not ok")):
        site = replace(KNOWN, place=replace(strict, neighbour_ft=feet))
        assert site_sheet(at(known, site=site)).row("noise").status == status
    silent = site_sheet(at(known, generator=replace(SET, noise_db=None))).row("noise")
    assert silent.status == "missing"
    assert "price book" in silent.todo


def test_snow_and_water(known):
    """Heights above none are to do, with the pad that is planned; none is ok."""
    deep = replace(PLACE, snow_in=18.0, raised_pad=True)
    sheet = site_sheet(at(known, site=replace(KNOWN, place=deep)))
    assert sheet.row("snow").status == "to do"
    assert "raised pad is planned" in sheet.row("snow").todo
    assert sheet.row("flood").status == "ok"


def test_a_module_hangs_between_breaker_and_load(known):
    """A contactor module has its breaker, its wire and its place beside the panel."""
    sheet = site_sheet(known)
    row = sheet.row("module-heater")
    assert row.status == "ok"
    assert row.value == 30.0
    assert "panel main" in row.todo
    assert sheet.row("wire-heater").text.startswith("10 AWG copper")
    assert "Article 725" in sheet.row("control-wiring").clause


def test_a_stage_of_heat_is_opened_at_the_air_handler(known):
    """A thermostat module of back-up heat opens that stage's wire; no compressor is spoken of."""
    call = Module("call", "thermostat module", "thermostat", 0, 0.0, 0.0, 50.0, 50.0)
    heater = known.menu.house.home.load("heater")
    for category, words in (("supplemental-heat", "this stage of heat, at the air handler"),
                            ("cooling", "calls the compressor")):
        one = replace(heater, code=replace(heater.code, category=category))
        row, = modules._thermostat(known, ModuleLine(one, call, usual_branch(one), 1))
        assert words in row.todo


def test_a_bundle_is_in_words(known):
    """More than two cables are derated; of wires above is spoken only where there are any."""
    assert site_sheet(known).row("bundled-cables").text == "2, not derated"
    site = replace(KNOWN, service=replace(SERVICE, bundled_cables=5))
    row = site_sheet(at(known, site=site)).row("bundled-cables")
    assert row.text == "5, derated"
    assert "wires above" in row.todo
    assert "laid new" in modules._bundle(at(known, site=site), wires=False).todo


def test_cables_in_a_bundle_need_larger_wire(known):
    """Ten cables together are derated to half: 40 A at 90 degC of 10 AWG is 20 A, so 8 AWG.

    NEC 334.80: 55 · 0.5 = 27.5 A, and 30 A may stand behind it (240.4(B)).
    """
    service = replace(SERVICE, bundled_cables=10)
    sheet = site_sheet(at(known, site=replace(KNOWN, service=service)))
    assert sheet.row("wire-heater").text.startswith("8 AWG copper")
    unknown = site_sheet(at(known, site=replace(
        KNOWN, service=replace(SERVICE, bundled_cables=None))))
    assert "no more than two cables" in unknown.row("wire-heater").text


def test_a_heater_is_asked_for_where_it_freezes(known):
    """Below freezing the charger's circuit feeds a heater as well."""
    assert "heater" in site_sheet(known).row("battery-charger").what
    assert "heater" not in site_sheet(at(known, winter_degf=40.0)).row("battery-charger").what
