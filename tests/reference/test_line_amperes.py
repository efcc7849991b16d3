"""Amperes of each line of a calculated load, by every method; all derived from what a sum is.

NEC Annex D, D1(b) (2005) itself stands in `test_annex_d.py`.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from planner.facts.home import CodeBasis, CodeEntry
from planner.physics.demand import (
    DemandBasis,
    DemandEntry,
    Measurement,
    calculated_load,
    dwelling_load,
)
from tests.homes import base, home, load

MEASURED = Measurement(6.0, 365.0, 15.0)
BASES = [DemandBasis(edition, method, area, measured=MEASURED)
         for edition in ("2017", "2020", "2023", "2026")
         for method in ("standard", "optional", "existing", "measured")
         for area in (1500.0, None)]
KINDS = ("general", "small-appliance", "laundry", "appliance", "cooking", "dryer", "vehicle",
         "motor", "cooling", "heat-pump", "supplemental-heat", "heating", "air-handler",
         "fuel-heating")


def some_loads(seed, legs=("L1", "L2", "both"), motors=False):
    """Random loads of all kinds on some legs."""
    rng = random.Random(f"lines {seed}")
    found = []
    for number in range(rng.randrange(1, 12)):
        va = 100.0 * rng.randrange(2, 60)
        found.append(DemandEntry(f"load {number}", rng.choice(KINDS), va, leg=rng.choice(legs),
                                 added=rng.random() < 0.3,
                                 motor_va=va if motors and rng.random() < 0.4 else 0.0))
    return found


@pytest.mark.parametrize("seed", range(40))
def test_the_mean_of_the_lines_is_the_load_at_240_v(seed):
    """A 120 V load weighs twice on its own line, so the mean stays (derived)."""
    for basis in BASES:
        for climate_added in (False, True):
            sheet = dwelling_load(replace(basis, climate_added=climate_added), some_loads(seed))
            assert sum(sheet.lines_a) / 2.0 == pytest.approx(sheet.amperes_a)
            assert min(sheet.lines_a) >= -1e-9


@pytest.mark.parametrize("seed", range(40))
def test_loads_at_240_v_leave_the_lines_even(seed):
    """Where nothing is on one leg both lines carry the calculated load (derived)."""
    for basis in BASES:
        sheet = dwelling_load(basis, some_loads(seed, ("both",), motors=True))
        assert sheet.lines_a == pytest.approx((sheet.amperes_a, sheet.amperes_a))
        assert not [one for one in sheet.findings if one.where == "loads"]


@pytest.mark.parametrize("seed", range(40))
def test_legs_that_change_places_change_the_lines(seed):
    """With every load on the other leg the lines change places, nothing else does (derived)."""
    other = {"L1": "L2", "L2": "L1", "both": "both"}
    loads = some_loads(seed, motors=True)
    swapped = [replace(one, leg=other[one.leg]) for one in loads]
    for basis in BASES:
        sheet, mirror = dwelling_load(basis, loads), dwelling_load(basis, swapped)
        assert mirror.lines_a == pytest.approx(sheet.lines_a[::-1])
        assert mirror.minimum_service_a == sheet.minimum_service_a
        assert mirror.total_va == sheet.total_va


@pytest.mark.parametrize(("basis", "each_va"), [
    (DemandBasis("2023", "standard", 1000.0), 0.75 * 1200.0),
    (DemandBasis("2023", "optional", 1000.0), (10000.0 + 0.4 * 2300.0) / 12300.0 * 1200.0),
    (DemandBasis("2023", "existing", 1000.0), (8000.0 + 0.4 * 4300.0) / 12300.0 * 1200.0)])
def test_a_load_counts_on_its_line_with_what_the_method_counts(basis, each_va):
    """Four appliances of 1200 VA on L1 beside 7500 VA: 75 %, or the mean share (derived)."""
    sheet = dwelling_load(basis, [DemandEntry(f"appliance {n}", "appliance", 1200.0, leg="L1")
                                  for n in range(4)])
    assert sheet.lines_a[0] - sheet.lines_a[1] == pytest.approx(4 * each_va / 120.0)


def uneven(leg):
    """A home of 400 A with four large 120 V loads on L1, two of which can be on another leg."""
    loads = [load(f"pump-{n}", 1.9, leg=on, code=CodeEntry("motor", 1900.0))
             for n, on in enumerate(("L1", "L1", leg, leg))]
    kiln = load("kiln", 12.0, code=CodeEntry("appliance", 12000.0))
    return home(base(1.0), *loads, kiln,
                code=CodeBasis("2023", "standard"), floor_area_ft2=2000.0, service_a=400.0)


def test_uneven_lines_are_a_warning_and_its_remedy_works():
    """The heavier line needs the larger rating; with loads moved over it does not (derived)."""
    sheet = calculated_load(uneven("L1"))
    (finding,) = sheet.findings
    assert finding.severity == "warning"
    assert finding.remedy.startswith("Move 120 V loads from L1 to L2, or take ")
    assert f"or take {sheet.minimum_service_a} A." in finding.remedy
    moved = calculated_load(uneven("L2"))
    assert moved.findings == ()
    assert moved.minimum_service_a < sheet.minimum_service_a
    assert moved.total_va == sheet.total_va


def test_new_cooling_alone_on_one_line_counts_there():
    """Part of an existing dwelling with nothing in the steps: 1200 VA at 120 V are 10 A (derived).

    NEC 220.83(B): new cooling in full.
    """
    basis = DemandBasis("2023", "existing", None, climate_added=True, entire=False)
    sheet = dwelling_load(basis, [DemandEntry("air", "cooling", 1200.0, leg="L1", added=True)])
    assert sheet.lines_a == pytest.approx((10.0, 0.0))
