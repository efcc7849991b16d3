"""Rules of the calculated load that the examples of NEC Annex D do not reach.

Clauses of the NEC are those of 2023 where no edition is named, read in secondary copies; the
figures below are derived from them.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import Severity
from planner.facts.home import CodeBasis, CodeEntry
from planner.physics.demand import (
    DemandBasis,
    DemandEntry,
    Measurement,
    calculated_load,
    dwelling_load,
)
from planner.physics.demand import tables as T
from planner.physics.demand.cooking import cooking_demand_va
from tests.homes import base, home, load

STANDARD = DemandBasis("2023", "standard", 1500.0)
EXISTING = DemandBasis("2023", "existing", 1500.0)
GENERAL_D2A = [
    DemandEntry("range", "cooking", 12000.0), DemandEntry("water heater", "appliance", 2500.0),
    DemandEntry("dishwasher", "appliance", 1200.0), DemandEntry("dryer", "dryer", 5000.0)]


def test_220_83_steps():
    """The loads of D2(a) without climate in the 8 kVA steps of NEC 220.83: 16,680 VA (derived).

    8000 + 0.4 · (29,700 − 8000).
    """
    assert dwelling_load(EXISTING, GENERAL_D2A).total_va == pytest.approx(16680.0)


def test_220_83_a_counts_existing_cooling_inside_the_steps_and_says_so():
    """NEC 220.83(A) is open here: existing cooling adds 40 %, and a finding says so (derived).

    Inside the steps as NREL ResStock counts it (`postprocess_panel_existing_load_nec_v2.py`).
    """
    sheet = dwelling_load(EXISTING, [*GENERAL_D2A, DemandEntry("air", "cooling", 6000.0)])
    assert sheet.total_va == pytest.approx(16680.0 + 0.4 * 6000.0)
    assert any("220.83(A)" in finding.sentence for finding in sheet.findings)


@pytest.mark.parametrize(("units", "expected_va"), [
    (3, 16680.0 + 9000.0),  # fewer than four units at 100 %, beside the steps
    (4, 16680.0 + 0.4 * 9000.0 + 1000.0),  # four or more inside the steps, cooling beside
])
def test_220_83_b_new_climate(units, expected_va):
    """NEC 220.83(B): the larger of new cooling and heating at 100 % (unit rule from memory)."""
    sheet = dwelling_load(replace(EXISTING, climate_added=True), [
        *GENERAL_D2A, DemandEntry("heat", "heating", 9000.0, units=units, added=True),
        DemandEntry("air", "cooling", 1000.0)])
    assert sheet.total_va == pytest.approx(expected_va)


def test_existing_2026_takes_the_larger_of_two_readings():
    """Proposal for NEC Table 120.83 (2026): 80 % of an added vehicle; never below 220.83 (2023).

    The proposal as NREL ResStock tests it (`tests/test_nec_revision.py`); the sums are derived.
    """
    basis = DemandBasis("2026", "existing", 1500.0)
    vehicle = DemandEntry("vehicle", "vehicle", 7200.0, added=True)
    without = dwelling_load(basis, GENERAL_D2A).total_va
    sheet = dwelling_load(basis, [*GENERAL_D2A, vehicle])
    assert sheet.total_va == pytest.approx(without + 0.8 * 7200.0)
    cooled = DemandBasis("2026", "existing", 1500.0, climate_added=True)
    air = DemandEntry("air", "cooling", 6000.0, added=True)
    assert dwelling_load(cooled, [*GENERAL_D2A, air]).total_va == pytest.approx(without + 6000.0)
    assert {f.where for f in sheet.findings} == {"code.edition", "code.method"}


def test_220_87_measured_peak():
    """NEC 220.87 at 7.2 kVA over a year: 9.0 kVA, 37.5 A (derived); added loads at nameplate."""
    basis = DemandBasis("2023", "measured", 1500.0, measured=Measurement(7.2, 365.0, 15.0))
    sheet = dwelling_load(basis, GENERAL_D2A)
    assert sheet.total_va == pytest.approx(9000.0)
    assert sheet.amperes_a == pytest.approx(37.5)
    assert sheet.findings == ()
    added = DemandEntry("vehicle", "vehicle", 7200.0, added=True)
    assert dwelling_load(basis, [*GENERAL_D2A, added]).total_va == pytest.approx(16200.0)


@pytest.mark.parametrize(("measurement", "where", "severity"), [
    (Measurement(7.2, 20.0, 15.0), "code.measured.days", Severity.ERROR),
    (Measurement(7.2, 60.0, 15.0), "code.measured.days", Severity.WARNING),
    (Measurement(7.2, 60.0, 15.0, True), "code.measured.with_generation", Severity.ERROR),
    (Measurement(7.2, 365.0, 15.0, True), "code.measured.with_generation", Severity.WARNING),
    (Measurement(7.2, 365.0, 60.0), "code.measured.interval", Severity.WARNING),
    (Measurement(7.2, 60.0, 60.0), "code.measured.interval", Severity.ERROR),
])
def test_220_87_conditions(measurement, where, severity):
    """NEC 220.87 and its exception: what the data do not meet is a finding."""
    basis = DemandBasis("2023", "measured", 1500.0, measured=measurement)
    found = {finding.where: finding.severity for finding in dwelling_load(basis, []).findings}
    assert found[where] is severity


def test_measured_needs_the_entire_dwelling_and_a_measurement():
    """Named loads, or a missing peak, are calculated by the optional method, with a finding."""
    house = home(base(1.0), load("well", 2.0), code=CodeBasis(
        "2023", "measured", measured_peak_kva=4.0, measured_days=365.0, measured_interval_min=15.0))
    assert calculated_load(house).method == "measured"
    part = calculated_load(house, ["well"])
    assert part.method == "optional"
    assert "entire dwelling" in part.findings[0].sentence
    missing = dwelling_load(DemandBasis("2023", "measured", 1500.0), [])
    assert missing.method == "optional"
    assert missing.findings[0].severity is Severity.ERROR


def test_220_53_four_fixed_appliances():
    """NEC 220.53: four count at 75 %, three at 100 %; small ones not from 2020 on (from memory)."""
    three = [DemandEntry(f"appliance {n}", "appliance", 1000.0) for n in range(3)]
    small = DemandEntry("small one", "appliance", 400.0)
    before = dwelling_load(STANDARD, []).total_va
    old = replace(STANDARD, edition="2017")
    assert dwelling_load(STANDARD, three).total_va - before == pytest.approx(3000.0)
    assert dwelling_load(STANDARD, [*three, three[0]]).total_va - before == pytest.approx(3000.0)
    assert dwelling_load(STANDARD, [*three, small]).total_va - before == pytest.approx(3400.0)
    assert dwelling_load(old, [*three, small]).total_va - before == pytest.approx(2550.0)


@pytest.mark.parametrize("edition", ["2017", "2020", "2023"])
@pytest.mark.parametrize("category", ["fuel-heating", "air-handler"])
def test_220_53_leaves_out_heating_and_air_conditioning_equipment(edition, category):
    """NEC 220.53: such equipment is not one of the four, nor does it count at 75 % beside four.

    A furnace blower is space-heating equipment, an air handler both; each counts in full.
    """
    basis = replace(STANDARD, edition=edition)
    before = dwelling_load(basis, []).total_va
    fixed = [DemandEntry(f"appliance {n}", "appliance", 1000.0) for n in range(4)]
    blower = DemandEntry("blower", category, 600.0)
    three = dwelling_load(basis, [*fixed[:3], blower]).total_va - before
    four = dwelling_load(basis, [*fixed, blower]).total_va - before
    assert (three, four) == pytest.approx((3000.0 + 600.0, 3000.0 + 600.0))


@pytest.mark.parametrize(("method", "fuel_va", "handler_va"), [
    ("optional", 0.4 * 600.0, 600.0),  # 220.82(B), 220.82(C)
    ("existing", 0.4 * 600.0, 600.0),  # 220.83(B): cooling is new
])
@pytest.mark.parametrize("climate", ["cooling", "heating"])
def test_an_air_handler_counts_with_what_it_blows_for(method, fuel_va, handler_va, climate):
    """NEC 220.82(C), 220.83(B): in full beside the steps, in either season; a furnace inside them.

    Of heating by gas these clauses say nothing, so its blower is an appliance in the steps.
    """
    basis = DemandBasis("2023", method, 3000.0, climate_added=True)
    rest = [DemandEntry("range", "cooking", 12000.0), DemandEntry("unit", climate, 5000.0)]
    before = dwelling_load(basis, rest).total_va
    for category, added_va in (("fuel-heating", fuel_va), ("air-handler", handler_va)):
        sheet = dwelling_load(basis, [*rest, DemandEntry("blower", category, 600.0)])
        assert sheet.total_va - before == pytest.approx(added_va), category


def test_220_54_dryers():
    """NEC 220.54: at least 5000 VA each, five at 85 %."""
    one = DemandEntry("dryer", "dryer", 4000.0)
    before = dwelling_load(STANDARD, []).total_va
    assert dwelling_load(STANDARD, [one]).total_va - before == pytest.approx(5000.0)
    assert dwelling_load(STANDARD, [one] * 5).total_va - before == pytest.approx(21250.0)


@pytest.mark.parametrize(("edition", "expected_va"), [
    ("2020", 3840.0), ("2023", 7200.0), ("2026", 3840.0)])
def test_220_57_vehicle(edition, expected_va):
    """NEC 220.57 (2023): at least 7200 VA; before, and in 120.57 (2026), the nameplate.

    Of NEC 2026 only secondary summaries were read.
    """
    basis = replace(STANDARD, edition=edition)
    vehicle = DemandEntry("vehicle", "vehicle", 3840.0)
    added_va = dwelling_load(basis, [vehicle]).total_va - dwelling_load(basis, []).total_va
    assert added_va == pytest.approx(expected_va)


def test_largest_motor_and_noncoincident_loads():
    """NEC 220.60 and 220.50: the larger season, and 25 % of the largest motor.

    From 2020 on of any motor, also of the season that does not count (from memory).
    """
    loads = [DemandEntry("air", "cooling", 4000.0, motor_va=4000.0),
             DemandEntry("heat", "heating", 6000.0),
             DemandEntry("pump", "motor", 1000.0, motor_va=1000.0)]
    before = dwelling_load(STANDARD, []).total_va
    now = dwelling_load(STANDARD, loads).total_va - before
    then = dwelling_load(replace(STANDARD, edition="2017"), loads).total_va - before
    assert now == pytest.approx(6000.0 + 1000.0 + 0.25 * 4000.0)
    assert then == pytest.approx(6000.0 + 1000.0 + 0.25 * 1000.0)


def test_neutral_above_200_amperes():
    """NEC 220.61(B)(2): 70 % of the part of the neutral above 200 A, 48 kVA at 240 V (derived)."""
    sheet = dwelling_load(replace(STANDARD, area_ft2=0.0), [
        DemandEntry("welder", "motor", 60000.0, neutral_va=60000.0)])
    unreduced_va = 3000.0 + 0.35 * 1500.0 + 60000.0
    assert sheet.neutral_va == pytest.approx(48000.0 + 0.7 * (unreduced_va - 48000.0))


def test_neutral_of_cooking_and_dryers():
    """NEC 220.61(B)(1): 70 % of their demand, unless they have no neutral at all."""
    before_va = dwelling_load(STANDARD, []).neutral_va
    for category, demand_va in (("cooking", 8000.0), ("dryer", 5000.0)):
        usual = DemandEntry("appliance", category, demand_va if category == "dryer" else 12000.0)
        bare = replace(usual, neutral_va=0.0)
        assert dwelling_load(STANDARD, [usual]).neutral_va - before_va == pytest.approx(
            0.7 * demand_va)
        assert dwelling_load(STANDARD, [bare]).neutral_va == before_va


def test_a_load_of_a_home_as_the_code_sees_it():
    """On one leg all returns through the neutral, on two none; a motor among appliances counts.

    NEC 220.61 and 220.50; the dishwasher has no starting surge, the disposal has one.
    """
    disposal = load("disposal", 0.9, leg="L1", starting_kva=4.0, code=CodeEntry("appliance", 900.0))
    dishwasher = load("dishwasher", 1.2, leg="L2", code=CodeEntry("appliance", 1200.0))
    heater = load("heater", 4.5, code=CodeEntry("appliance", 4500.0))
    code = CodeBasis("2023", "standard")
    bare = calculated_load(home(code=code))
    sheet = calculated_load(home(disposal, dishwasher, heater, code=code))
    assert sheet.total_va - bare.total_va == pytest.approx(6600.0 + 0.25 * 900.0)
    assert sheet.neutral_va - bare.neutral_va == pytest.approx(2100.0 + 0.25 * 900.0)


def test_lighting_steps_above_120_kva():
    """NEC Table 220.45: 3000 VA in full, 35 % up to 120,000 VA, 25 % above (derived)."""
    sheet = dwelling_load(replace(STANDARD, area_ft2=(130000.0 - 4500.0) / 3.0), [])
    assert sheet.total_va == pytest.approx(3000.0 + 0.35 * 117000.0 + 0.25 * 10000.0)


def test_optional_method_below_100_amperes_is_flagged():
    """NEC 220.82(A): the optional method asks for a service of 100 A or more."""
    small = dwelling_load(DemandBasis("2023", "optional", 800.0, service_a=60.0), [])
    large = dwelling_load(DemandBasis("2023", "optional", 800.0, service_a=100.0), [])
    assert [finding.where for finding in small.findings] == ["code.method"]
    assert large.findings == ()


def test_selected_circuits_count_themselves():
    """Without the whole area, kitchen and laundry circuits count 1500 VA or more, not the area.

    NEC 220.52(A) and (B); the sums, and 40 % of the rest by 220.82(B), are derived.
    """
    kitchen = load("kitchen", 1.0, leg="L1", code=CodeEntry("small-appliance", 900.0))
    laundry = load("laundry", 1.0, leg="L2", code=CodeEntry("laundry", 1800.0))
    lights = load("lights", 0.6, code=CodeEntry("general", 600.0))
    house = home(kitchen, laundry, lights, floor_area_ft2=3000.0)
    part = calculated_load(house, whole_area=False)
    assert part.total_va == pytest.approx(1500.0 + 1800.0 + 600.0)
    whole = calculated_load(house)
    assert whole.total_va == pytest.approx(10000.0 + 0.4 * (9000.0 + 4500.0 - 10000.0))
    assert calculated_load(house, []).total_va == whole.total_va
    assert part.minimum_service_a == 20
    assert whole.minimum_service_a == 100


def test_unknown_load_is_refused():
    """A load id that the home does not have is an error that names it."""
    with pytest.raises(KeyError, match="no load sauna"):
        calculated_load(home(base(1.0)), ["sauna"])


@pytest.mark.parametrize(("units_kw", "demand_kw"), [
    ([1.5], 1.5),  # up to 1¾ kW: outside the table
    ([3.0], 2.4),  # Column A
    ([3.5], 2.8),  # Column B
    ([8.75], 7.0), ([8.8], 8.0),
    ([3.0, 5.0], 0.8 * 3.0 + 0.8 * 5.0),  # Note 3: each column by itself
    ([12.4], 8.0), ([12.5], 8.4),  # a major fraction counts as a kilowatt
    ([30.0], 30.0),  # above 27 kW: outside the table
])
def test_cooking_columns_and_notes(units_kw, demand_kw):
    """NEC Table 220.55, Columns A to C and Notes 1 and 3 (derived from the table)."""
    assert cooking_demand_va(units_kw) == pytest.approx(1000.0 * demand_kw)


def test_cooking_table_properties():
    """NEC Table 220.55: factors never rise, Column B never above A, Column C rises with the units.

    15 + n up to 40 units and 25 + ¾·n above; the change at 41, not 31, is from memory: only so do
    the two meet, 55 kW at 40 units.
    """
    counts = range(1, 71)
    small = [T.small_cooking_share(n) for n in counts]
    middle = [T.middle_cooking_share(n) for n in counts]
    demand = [T.cooking_demand_kw(n) for n in counts]
    assert small == sorted(small, reverse=True)
    assert middle == sorted(middle, reverse=True)
    assert all(b <= a for a, b in zip(small, middle, strict=True))
    assert demand == sorted(demand)
    assert [T.cooking_demand_kw(n) for n in (24, 25, 40, 41)] == [39.0, 40.0, 55.0, 55.75]


def test_dryer_table_properties():
    """NEC Table 220.54: the factor never rises, ends at 25 % (above 11 dryers from memory)."""
    shares = [T.dryer_share(n) for n in range(1, 60)]
    assert shares == sorted(shares, reverse=True)
    assert T.dryer_share(11) == 0.47
    assert T.dryer_share(60) == 0.25


CATEGORIES = ["general", "small-appliance", "laundry", "appliance", "cooking", "dryer", "cooling",
              "heat-pump", "supplemental-heat", "heating", "vehicle", "motor", "air-handler",
              "fuel-heating"]
ENTRY = st.builds(
    DemandEntry, name=st.just("load"), category=st.sampled_from(CATEGORIES),
    va=st.floats(50.0, 20000.0), units=st.integers(1, 5), with_supplemental=st.booleans(),
    neutral_va=st.none() | st.floats(0.0, 5000.0), added=st.booleans())
BASIS = st.builds(
    DemandBasis, edition=st.sampled_from(["2017", "2020", "2023", "2026"]),
    method=st.sampled_from(["standard", "optional", "existing"]),
    area_ft2=st.none() | st.floats(0.0, 8000.0), climate_added=st.booleans())


@given(basis=BASIS, entries=st.lists(ENTRY, max_size=8))
def test_every_sheet_adds_up(basis, entries):
    """The demand lines add up to the total; no load is negative; order changes nothing."""
    sheet = dwelling_load(basis, entries)
    demand_va = sum(line.va for line in sheet.lines if line.role == "demand")
    assert sheet.total_va == pytest.approx(demand_va)
    assert min((line.va for line in sheet.lines), default=0.0) >= 0.0
    assert 0.0 <= sheet.neutral_va == pytest.approx(sum(ln.va for ln in sheet.neutral_lines))
    assert dwelling_load(basis, entries[::-1]).total_va == pytest.approx(sheet.total_va)
    assert all(line.text and line.clause for line in sheet.lines + sheet.neutral_lines)


@given(basis=BASIS, entries=st.lists(ENTRY, max_size=6), more=ENTRY)
def test_one_more_load_never_lowers_the_optional_load(basis, entries, more):
    """NEC 220.82 without separate heating units has no factor that falls with more loads."""
    optional = replace(basis, method="optional")
    plain = [entry for entry in entries if entry.category != "heating"]
    if more.category == "heating":
        more = replace(more, units=1)
    before, after = dwelling_load(optional, plain), dwelling_load(optional, [*plain, more])
    assert after.total_va >= before.total_va - 1e-6
