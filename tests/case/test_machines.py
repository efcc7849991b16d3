"""What kinds of the library draw and start with, against figures known from elsewhere."""

from __future__ import annotations

import pytest

from planner.case.library import kinds
from planner.case.read import read_home_text
from planner.errors import CaseError
from planner.facts.home import DesignDay
from planner.service.use import calls_of, use_on
from tests.case.files import HEAD, load_text, read_load, read_text

DRY = DesignDay("hot", "hot", "summer", 1.0, 72.0, 93.0)
STORM = DesignDay("mild", "mild", "mild", 1.0, 55.0, 65.0)


def hours(load, day):
    """Hours of a day in which a load calls."""
    return 0.25 * calls_of(use_on(load, day), day).sum()


def start_a(load):
    """Locked-rotor current [A]."""
    return 1000.0 * load.starting_kva / load.volts


@pytest.mark.parametrize(("year", "least_kw", "most_kw"), [
    (1998, 4.0, 4.2), (2008, 3.2, 3.35), (2018, 2.9, 3.1)])
def test_three_tons_draw_by_their_age(tmp_path, year, least_kw, most_kw):
    """At 95 degF about 4.1 kW of the 1990s, 3.3 from 2006 and 3.0 from 2015; from memory.

    The nameplate that the code counts does not know the year.
    """
    load = read_load(tmp_path, "central air conditioner", 'size = "3 ton"', f"year = {year}")
    assert least_kw <= load.kw_on("hot") <= most_kw
    assert load.running_kw == load.kw_on("hot")
    assert load.code.va == pytest.approx(5559.0, rel=0.01)


def test_an_efficiency_that_is_given_wins(tmp_path):
    """36 kBtu/h over an EER of 12 are 3.0 kW (derived), whatever the year says."""
    load = read_load(tmp_path, "central air conditioner", 'size = "3 ton"', "eer = 12.0")
    assert load.running_kw == pytest.approx(3.0)
    (found,) = [one for one in load.assumed if one.key == "running"]
    assert found.spread < 0.1


def test_an_unknown_age_takes_a_middle_one_with_its_whole_range(tmp_path):
    """3 ton of any age: 2.7 to 4.5 kW, derived from the efficiencies of 1992 and 2015."""
    load = read_load(tmp_path, "central air conditioner", 'size = "3 ton"')
    (found,) = [one for one in load.assumed if one.key == "running"]
    low_kw, high_kw = (load.running_kw * (1.0 + sign * found.spread) for sign in (-1.0, 1.0))
    assert low_kw == pytest.approx(36.0 / 11.85 * 0.9, abs=0.01)
    assert high_kw == pytest.approx(36.0 / 8.75 * 1.1, abs=0.01)


def test_a_heat_pump_draws_another_power_on_a_cold_day(tmp_path):
    """3 ton at 20 degF: 36 kBtu/h · 0.6625 / 3412 / 2.455 = 2.85 kW; hot days need more (derived).

    The largest of the days is the draw that a plan is made with.
    """
    load = read_load(tmp_path, "heat pump", 'size = "3 ton"', "year = 2008")
    assert load.kw_on("cold") == pytest.approx(2.85, abs=0.01)
    assert load.kw_on("hot") == pytest.approx(36.0 / 11.0)
    assert load.running_kw == max(load.kw_on("cold"), load.kw_on("hot"))
    assert load.kva_on("cold") == pytest.approx(load.kw_on("cold") / 0.95)
    assert load.on("cold").running_kw == load.kw_on("cold")


@pytest.mark.parametrize("tons", [2.0, 3.0, 5.0])
def test_indoor_fans_draw_146_w_a_ton(tmp_path, tons):
    """365 W per 1000 ft³/min, AHRI 210/240 and 10 CFR 430 App. M, from memory; 400 ft³/min a ton.

    A permanent-split-capacitor fan starts with 2 to 3 times its running current (from memory).
    """
    load = read_load(tmp_path, "air handler", f'size = "{tons} ton"')
    assert load.running_kw == pytest.approx(0.146 * tons, rel=0.01)
    assert 2.0 <= load.starting_kva / load.running_kva <= 3.0


def test_a_furnace_and_its_blower_draw_about_half_a_kilowatt(tmp_path):
    """80 kBtu/h 0.45 to 0.6 kW; a 1/2 hp blower 365 W per 1000 ft³/min at 1200: 0.44 kW.

    From memory (AHRI 210/240); the flow is common practice, no source. The code still counts the
    full-load current of NEC Table 430.248: 9.8 A at 120 V.
    """
    assert 0.45 <= read_load(tmp_path, "gas furnace", 'size = "80 kBtu/h"').running_kw <= 0.6
    blower = read_load(tmp_path, "furnace blower", 'size = "0.5 hp"')
    assert blower.running_kw == pytest.approx(0.438, rel=0.02)
    assert start_a(blower) <= 3.0 * blower.running_a + 1e-9
    assert blower.code.va == pytest.approx(9.8 * 120.0)


def test_a_quarter_horsepower_blower_counts_by_the_table_though_it_draws_half(tmp_path):
    """NEC Table 430.248: 5.8 A at 115 V; 430.6(A)(1): the table, from memory.

    It draws half of that (common practice, no source), and a module stands for the whole.
    """
    blower = read_load(tmp_path, "furnace blower", 'size = "0.25 hp"')
    assert blower.running_a == pytest.approx(2.9)
    assert blower.code.va == pytest.approx(5.8 * 120.0)
    assert blower.plate_a == pytest.approx(5.8)


@pytest.mark.parametrize(("kind", "given", "key"), [
    ("furnace blower", 'nameplate = "600 VA"', "nameplate"), ("sump pump", 'running = "5 A"',
                                                             "running")])
def test_a_motor_counts_no_less_than_the_table_of_its_horsepower(tmp_path, kind, given, key):
    """5.8 A at 120 V are 696 VA for 1/4 hp (NEC Table 430.248, 430.6(A)), and a note says so."""
    home = read_text(tmp_path, HEAD + load_text("it", kind, 'size = "0.25 hp"', given))
    assert home.load("it").code.va == pytest.approx(696.0)
    noted = [one for one in home.findings if one.where.endswith(key)]
    assert ["696 VA" in one.sentence for one in noted] == [True]
    larger = read_text(tmp_path, HEAD + load_text("it", kind, 'size = "0.25 hp"',
                                                  'nameplate = "750 VA"'))
    assert larger.load("it").code.va == pytest.approx(750.0)
    assert not [one for one in larger.findings if one.where.endswith(key)]


@pytest.mark.parametrize("kind", ["furnace blower", "gas furnace", "air handler"])
def test_an_electronic_fan_does_not_start_hard(tmp_path, kind):
    """Electronically commutated: no start (from memory); unknown, the harder one is assumed."""
    assert not read_load(tmp_path, kind, 'blower = "ecm"').is_motor
    unknown = read_load(tmp_path, kind)
    assert unknown.is_motor
    assert [one.text for one in unknown.assumed if one.key == "blower"] == ["psc"]


@pytest.mark.parametrize(("hp", "amperes"), [(0.5, 6.0), (0.75, 8.0), (1.0, 9.8)])
def test_submersible_pumps_run_above_the_motor_table(tmp_path, hp, amperes):
    """6 / 8 / 9.8 A at 1/2, 3/4, 1 hp and 230 V, service-factor load; from memory.

    Never below them by more than 1 %, nor 6 % above.
    """
    load = read_load(tmp_path, "well pump", f'size = "{hp} hp"')
    assert 0.99 * amperes <= load.running_a <= 1.06 * amperes


def test_a_soft_starter_suits_a_pump_with_three_wires_only(tmp_path):
    """Unknown counts as two wires, and is marked; pumps with a capacitor start have none."""
    unknown = read_load(tmp_path, "well pump")
    assert not unknown.soft_start_fits
    assert any(one.key == "wires" for one in unknown.assumed)
    assert not read_load(tmp_path, "well pump", 'wires = "two-wire"').soft_start_fits
    assert read_load(tmp_path, "well pump", 'wires = "three-wire"').soft_start_fits
    for kind in ("pool pump", "booster pump", "irrigation pump", "air compressor"):
        assert not read_load(tmp_path, kind).soft_start_fits
    assert read_load(tmp_path, "central air conditioner").soft_start_fits


def test_a_sump_pump_works_in_a_storm(tmp_path):
    """Half of a stormy day, an hour or so of a dry one; common practice, no source."""
    load = read_load(tmp_path, "sump pump")
    assert hours(load, STORM) >= 10.0
    assert hours(load, DRY) <= 2.0


def test_a_well_pump_runs_about_an_hour_a_day(tmp_path):
    """20 to 40 runs of 1 to 3 min (from memory): 20 to 120 min a day."""
    assert 20.0 / 60.0 <= hours(read_load(tmp_path, "well pump"), DRY) <= 2.0


def test_the_pump_of_a_spa_starts(tmp_path):
    """2 hp at 230 V: 72 A at locked rotor (NEC Table 430.251(A)), on top of the heater."""
    load = read_load(tmp_path, "spa", 'size = "5.5 kW"')
    assert start_a(load) == pytest.approx(72.0)
    assert load.motor_hp == pytest.approx(2.0)
    small = read_load(tmp_path, "spa", 'size = "1.5 kW"', 'leg = "L1"')
    assert start_a(small) == pytest.approx(82.8)  # 3/4 hp at 115 V, the same table


def test_a_refrigerator_thaws_its_coil(tmp_path):
    """The room that it needs is that of the heater; its compressor draws 0.2 kW and starts alone.

    A heater of 0.45 kW is common practice, no source; six times 0.2 kW at a factor of 0.85.
    """
    load = read_load(tmp_path, "refrigerator")
    assert (load.running_kw, load.mean_kw) == (0.45, 0.2)
    assert load.mean_kva == pytest.approx(0.2 / 0.85)
    assert load.starting_kva == pytest.approx(6.0 * 0.2 / 0.85)
    large = read_load(tmp_path, "refrigerator", 'size = "0.6 kW"')
    assert (large.running_kw, large.mean_kw) == (0.6, 0.0)


@pytest.mark.parametrize(("kind", "watts"), [("refrigerator", 450.0), ("freezer", 400.0)])
def test_a_defrost_heater_has_no_power_factor_of_a_motor(tmp_path, kind, watts):
    """A heating element is a resistor, its VA are its watts; the source says whose they are."""
    load = read_load(tmp_path, kind)
    assert (1000.0 * load.running_kva, load.code.va) == pytest.approx((watts, watts))
    assert "defrost heater" in next(one.source for one in load.assumed if one.key == "nameplate")


def test_a_compressor_may_need_more_than_its_defrost_heater(tmp_path):
    """0.44 kW at a factor of 0.85 are 0.518 kVA, more than the 0.45 kVA of the heater."""
    load = read_load(tmp_path, "refrigerator", 'size = "0.44 kW"')
    assert load.running_kva == pytest.approx(0.44 / 0.85)
    assert load.running_kw == 0.45


@pytest.mark.parametrize(("hp", "va"), [(0.3333, 500.0), (0.5, 650.0), (0.75, 912.0)])
def test_a_disposal_by_the_list_of_nameplates(tmp_path, hp, va):
    """500, 650 and 912 VA at 1/3, 1/2 and 3/4 hp (NREL ResStock, nameplate_rating_new_load.csv)."""
    load = read_load(tmp_path, "garbage disposal", f'size = "{hp} hp"')
    assert load.code.va == pytest.approx(va, rel=0.01)
    assert load.running_kva == pytest.approx(va / 1000.0, rel=0.01)


def test_small_things_do_not_draw_all_day(tmp_path):
    """Lights, a router and an office together take 5 to 10 kWh a day; common practice, no source.

    Induction takes about half of its nameplate while a meal is cooked.
    """
    kwh = 0.0
    for kind, size in (("lighting and receptacles", "2000 ft^2"), ("router", "30 W"),
                       ("home office", "150 W")):
        load = read_load(tmp_path, kind, f'size = "{size}"')
        kwh += load.running_kw * hours(load, STORM)
    assert 5.0 <= kwh <= 10.0
    induction = read_load(tmp_path, "induction cooktop", 'size = "7.2 kW"')
    assert induction.running_kw == pytest.approx(3.6)
    assert induction.code.va == pytest.approx(7200.0)


@pytest.mark.parametrize(("breaker", "amperes"), [(20, 16), (30, 24), (40, 32), (50, 40), (60, 48)])
def test_a_breaker_of_a_charger_carries_four_fifths(tmp_path, breaker, amperes):
    """A 50 A breaker is a 40 A charger: 125 % of a continuous load (NEC 625.42, from memory)."""
    load = read_load(tmp_path, "vehicle charger", f'breaker = "{breaker} A"')
    assert load.running_a == pytest.approx(amperes)
    assert load.code.va == pytest.approx(240.0 * amperes)


@pytest.mark.parametrize("kind", [
    "elevator", "welder", "water softener", "snow melting", "power-vent water heater",
    "geothermal heat pump", "grinder pump", "variable-speed pool pump", "variable-speed well pump",
    "gas tankless water heater"])
def test_kinds_that_were_missing_are_there(tmp_path, kind):
    """Each fills a load by its name alone."""
    assert read_load(tmp_path, kind).running_kw > 0.0


def test_a_grinder_pump_is_no_small_ejector(tmp_path):
    """240 V, 1 to 2 hp: 12 A and 72 A at 2 hp (NEC Tables 430.248 and 430.251(A))."""
    load = read_load(tmp_path, "grinder pump", 'size = "2 hp"')
    assert (load.volts, load.running_a) == (240, pytest.approx(12.0))
    assert start_a(load) == pytest.approx(72.0)


@pytest.mark.parametrize("kind", ["variable-speed pool pump", "variable-speed well pump",
                                  "inverter heat pump", "ductless heat pump"])
def test_what_stands_behind_an_inverter_does_not_start_hard(tmp_path, kind):
    """No locked-rotor start; from memory."""
    assert not read_load(tmp_path, kind).is_motor


@pytest.mark.parametrize("kind", ["solar", "solar panels", "home battery", "pv"])
def test_the_sun_and_batteries_are_not_planned(kind):
    """A finding says so, with what to do; nothing is guessed."""
    with pytest.raises(CaseError) as refused:
        read_home_text(HEAD + load_text("it", kind), "house.toml")
    (finding,) = refused.value.findings[:1]
    assert "not planned" in finding.sentence
    assert "705" in finding.remedy


def test_what_a_kind_does_after_a_cut(tmp_path):
    """Compressors, heaters and pumps go on by themselves; washers and dryers wait for a button.

    Common practice, no source. What must not be cut takes no turns. A file may say otherwise.
    """
    for kind, restarts in (("heat pump", "by itself"), ("electric water heater", "by itself"),
                           ("vehicle charger", "by itself"), ("clothes washer", "start button"),
                           ("electric dryer", "start button"), ("range", "start button"),
                           ("elevator", "must not"), ("stair lift", "must not"),
                           ("medical equipment", "must not")):
        load = read_load(tmp_path, kind)
        assert load.restarts == restarts
        assert any(one.key == "restarts" for one in load.assumed)
    assert read_load(tmp_path, "range", 'restarts = "by itself"').restarts == "by itself"
    assert all("module" not in kind.connections for kind in kinds().values()
               if kind.restarts == "must not")


def test_electric_heat_works_in_stages(tmp_path):
    """15 kW in three stages of 5: together they run as long as the whole, each after the other.

    Stages of about 5 kW are common practice, no source; the sum is derived.
    """
    cold = DesignDay("cold", "cold", "winter", 1.0, 5.0, 23.0)
    whole = read_load(tmp_path, "electric furnace", 'size = "15 kW"')
    stages = [read_load(tmp_path, "electric furnace", f'stage = "{place} of 3"')
              for place in (1, 2, 3)]
    assert [one.running_kw for one in stages] == [5.0, 5.0, 5.0]
    assert all(any(item.key == "size" for item in one.assumed) for one in stages)
    busy = [hours(one, cold) for one in stages]
    assert busy[0] > busy[1] > busy[2] > 0.0
    assert 5.0 * sum(busy) == pytest.approx(15.0 * hours(whole, cold), rel=0.05)
    mild = read_load(tmp_path, "heat pump back-up heat", 'stage = "2 of 2"', 'size = "5 kW"')
    assert mild.use["winter"].balance_degf < 35.0
