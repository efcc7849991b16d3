"""A measured demand bounds what is always connected, where the conditions of 220.87 hold."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import Severity
from planner.facts.home import CodeBasis, CodeEntry
from planner.physics.demand.measured import quarter_hour_factor
from planner.plan.code import direct_demand
from planner.plan.compliance import compliance_of
from planner.plan.method import method_findings
from planner.report.code_words import counted_sentence, plan_demand_data, sheets_shown
from planner.report.plan_words import calculated_sentence
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, Choice
from tests.homes import base, book, generator, home, load

YEAR = CodeBasis("2023", "optional", measured_peak_kva=7.2, measured_days=365.0,
                 measured_interval_min=15.0)


def dwelling(code=YEAR, **changes):
    """Three motors of 6000 VA: 15,000 VA by 220.82, 23,025 VA by Part III (derived)."""
    pumps = [load(f"pump-{n}", 1.0, code=CodeEntry("motor", 6000.0)) for n in range(3)]
    return home(base(1.0), *pumps, **{"service_a": 200.0, "code": code, **changes})


def demand_of(one, *, whole=True):
    """What is counted of all its loads."""
    return direct_demand(one, frozenset(ld.id for ld in one.loads), whole_area=whole, entire=whole)


def plan_of(kw, code=YEAR):
    """All of it always connected behind one size of generator."""
    one = dwelling(code)
    offered = book(generator(kw, 4000.0), generator(2.0 * kw, 9000.0))
    found = next(problem for problem in problems_of(one, offered)
                 if problem.supply.generator.id == f"set-{kw:g}")
    return found.plan(Choice((DIRECT,) * 4, (0,) * 4, ()))


@pytest.mark.parametrize("whole", [True, False])
def test_a_year_bounds_whatever_is_connected(whole):
    """7.2 kVA over a year count 9000 VA (NEC 220.87, derived), of all and of a part alike."""
    found = demand_of(dwelling(), whole=whole)
    assert found.counts is found.measured
    assert found.counts.total_va == pytest.approx(9000.0)
    assert found.counts.amperes_a == pytest.approx(37.5)
    assert found.counts.method == "measured"


def test_a_home_without_a_measurement_is_as_before():
    """Nothing but the two methods is worked out, and the lesser of them counts."""
    found = demand_of(dwelling(CodeBasis("2023", "optional")))
    assert found.measured is None
    assert found.counts is found.calculated is found.optional


def test_a_large_measurement_changes_nothing():
    """13 kVA count 16,250 VA, above 15,000 VA by 220.82: that counts on."""
    found = demand_of(dwelling(replace(YEAR, measured_peak_kva=13.0)))
    assert found.measured.total_va == pytest.approx(16_250.0)
    assert found.counts is found.optional


def test_what_came_later_counts_besides():
    """An added pump counts with its nameplate: 9000 + 6000 VA (NEC 220.87, derived)."""
    found = demand_of(dwelling(replace(YEAR, measured_peak_kva=5.0, added=("pump-0",))))
    assert found.measured.total_va == pytest.approx(6250.0 + 6000.0)


@pytest.mark.parametrize("changes", [
    pytest.param({"measured_with_generation": True}, id="generation hides demand"),
    pytest.param({"measured_days": 29.0}, id="less than 30 days"),
    pytest.param({"measured_days": 100.0, "measured_interval_min": 60.0}, id="part of a year, 1 h"),
    pytest.param({"measured_interval_min": 1440.0}, id="blocks of a day"),
])
def test_where_the_conditions_are_not_met_it_does_not_count(changes):
    """NEC 220.87 and its exception; generation never, which is the safe side (derived)."""
    assert demand_of(dwelling(replace(YEAR, **changes))).measured is None


def test_less_than_a_year_adds_heating_or_cooling_by_calculation():
    """NEC 220.87, exception: the larger of both is included; 9000 + 5000 VA (derived)."""
    one = dwelling(replace(YEAR, measured_days=40.0))
    climate = (load("air", 2.0, code=CodeEntry("cooling", 4000.0)),
               load("heat", 2.0, code=CodeEntry("heating", 5000.0)))
    one = replace(one, loads=(*one.loads, *climate))
    assert demand_of(one).measured.total_va == pytest.approx(14_000.0)


@pytest.mark.parametrize(("interval_min", "factor"), [
    (1.0, 1.0), (15.0, 1.0), (30.0, 2.0 ** 0.5), (60.0, 2.0)])
def test_longer_averages_count_for_more(interval_min, factor):
    """The square root of how many quarters of an hour are in the interval (derived)."""
    assert quarter_hour_factor(interval_min) == pytest.approx(factor)
    found = demand_of(dwelling(replace(YEAR, measured_peak_kva=1.0,
                                       measured_interval_min=interval_min))).measured
    assert found.total_va == pytest.approx(1250.0 * factor)
    assert (f"× {factor:.2f}" in found.lines[0].text) is (factor > 1.0)


def test_a_line_carries_no_less_than_a_meter_can_know():
    """A meter tells nothing of single lines: a line carries at most all of it at 120 V (derived).

    900 VA measured are 1125 VA, 9.375 A at 120 V; the calculation says more for either line.
    """
    found = demand_of(dwelling(replace(YEAR, measured_peak_kva=0.9)))
    assert found.measured.lines_a == pytest.approx((9.375, 9.375))
    assert found.measured.amperes_a == pytest.approx(1125.0 / 240.0)


def test_a_line_carries_no_more_than_the_loads_say():
    """9000 VA on one line were 75 A; 220.82 says 62.5 A (15,000 VA, no 120 V load), which holds."""
    found = demand_of(dwelling())
    assert found.measured.lines_a == found.optional.lines_a
    assert max(found.measured.lines_a) < 75.0


def test_a_plan_may_stand_on_the_measurement_alone_and_says_so():
    """9000 VA fit 12 kW, 15,000 VA do not; the finding has both and what fits without."""
    plan = plan_of(12.0)
    found, = method_findings(plan)
    assert (found.severity, found.where) == (Severity.WARNING, "calculated load")
    assert "9,000 VA by 220.87, 15,000 VA by the optional method" in found.sentence
    assert found.remedy.endswith("without the measurement then fits: the 24 kW generator "
                                 "(24,000 W here).")


def test_the_report_names_the_clause_and_what_counts():
    """Sentences, the sheets and the plain data say that the measured demand counts, by 220.87."""
    plan = plan_of(12.0)
    found = compliance_of(plan)
    assert "9,000 VA by 220.87. The measured demand bounds it: 9,000 VA count" in (
        counted_sentence(found))
    assert "9,000 VA by the measured demand (220.87)" in calculated_sentence(plan)
    assert [sheet.method for sheet in sheets_shown(found.sheets)] == [
        "optional", "standard", "measured"]
    data = plan_demand_data(plan)
    assert data["counts"] == "measured"
    assert data["measured"]["total_va"] == pytest.approx(9000.0)


def test_where_it_does_not_count_the_report_says_so():
    """13 kVA are no help; the sentence says that the measured demand would be no less."""
    plan = plan_of(20.0, replace(YEAR, measured_peak_kva=13.0))
    assert "the measured demand would be no less" in counted_sentence(compliance_of(plan))
    assert "220.87" not in calculated_sentence(plan)
