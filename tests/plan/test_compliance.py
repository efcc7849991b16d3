"""Which way a plan meets NEC 702.4, and what is said about it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import Severity
from planner.facts.home import CodeBasis, CodeEntry
from planner.facts.price_book import SoftStarter
from planner.plan.compliance import compliance_of
from planner.plan.findings import findings_of_plan
from planner.plan.module_lines import module_lines, to_verify_of_modules
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from tests.homes import base, book, generator, home, load, motor

AUTHORITY = "ask the authority having jurisdiction"


def plan_of(edition="2023", setpoint_a=None, connection=(DIRECT, MODULE), kw=10.0, **changes):
    """A base and a dryer on a generator of 10 kW, 41.7 A: 3525 VA of circuits always connected."""
    one = home(base(1.0), load("dryer", 5.0), code=CodeBasis(edition, "optional"), **changes)
    offered = book(generator(kw, 4000.0, breaker_a=50.0))
    offered = replace(offered, controllers=tuple(
        replace(part, setpoint_a=setpoint_a) for part in offered.controllers))
    order = tuple(i for i, how in enumerate(connection) if how == MODULE)
    return problems_of(one, offered)[0].plan(Choice(connection, (0, 0), order))


def wheres(found, severity):
    """Places of the findings of a severity."""
    return [one.where for one in found.findings if one.severity is severity]


@pytest.mark.parametrize(("edition", "clause"), [
    ("2017", "702.4(B)(2)(b)"), ("2020", "702.4(B)(2)(b)"), ("2023", "702.4(A)(2)")])
def test_the_largest_connected_load_is_the_usual_way(edition, clause):
    """With management and no setpoint; the clause by the edition; frequency alone is a finding."""
    found = compliance_of(plan_of(edition))
    assert (found.way, found.clauses) == ("largest connected load", (clause,))
    assert found.sheets.counts.total_va == pytest.approx(3525.0)
    assert found.limit_va == pytest.approx(10_000.0)
    assert (found.breaker_a, found.setpoint_a) == (50.0, None)
    warned = [one for one in found.findings if one.severity is Severity.WARNING]
    assert ["frequency alone" in one.sentence for one in warned] == [True]
    assert AUTHORITY in warned[0].remedy


def test_without_management_everything_is_connected():
    """Nothing is shed, so nothing is said about shedding."""
    found = compliance_of(plan_of(connection=(DIRECT, DIRECT)))
    assert (found.way, found.clauses) == ("no management", ("702.4(A)(1)",))
    assert wheres(found, Severity.WARNING) == []


@pytest.mark.parametrize(("listed_a", "most_a"), [(100.0, 33), (30.0, 30)])
def test_a_listed_setpoint_is_a_continuous_load(listed_a, most_a):
    """41.67 A carry a continuous 33.3 A (220.70, 125 %), and never more than is listed."""
    found = compliance_of(plan_of(setpoint_a=listed_a))
    assert (found.way, found.setpoint_a) == ("setpoint", most_a)
    assert found.clauses == ("702.4(A)(2)", "220.70", "750.30")
    assert wheres(found, Severity.WARNING) == []


def test_the_rule_of_the_setpoint_is_numbered_anew_in_2026():
    """Article 220 is 120, Article 750 is 130."""
    assert compliance_of(plan_of("2026", setpoint_a=30.0)).clauses[1:] == ("120.70", "130.30")


@pytest.mark.parametrize("changes", [
    {"edition": "2020"},  # 220.70 came in 2023
    {"connection": (DIRECT, MODULE), "kw": 3.6},  # 14.7 A always connected; 12 A may be set
])
def test_a_setpoint_that_does_not_count_is_said(changes):
    """Then the plan complies by the largest connected load."""
    found = compliance_of(plan_of(setpoint_a=30.0, **changes))
    assert found.way == "largest connected load"
    assert any("30 A does not count" in one.sentence for one in found.findings)


def test_a_breaker_that_is_not_stated_is_verified():
    """Nothing is made up; one above the transfer equipment is a warning."""
    plan = plan_of()
    for breaker_a, severity in ((None, Severity.NOTE), (250.0, Severity.WARNING)):
        machine = replace(plan.supply.generator, breaker_a=breaker_a)
        changed = replace(plan, supply=replace(plan.supply, generator=machine))
        found = compliance_of(changed)
        assert f"generator {machine.id}" in wheres(found, severity)


def test_a_heavier_line_than_the_generator_gives_is_a_warning():
    """Two plates of 30 A on one line of a generator of 20.8 A per leg."""
    plates = [load(f"plate-{n}", 0.5, leg="L1", allowed=frozenset({"direct"}),
                   code=CodeEntry("motor", 1200.0)) for n in range(2)]
    one = home(*plates, floor_area_ft2=0.0, code=CodeBasis("2023", "optional"))
    plan = problems_of(one, book(generator(6.5, 3000.0)))[0].plan(
        Choice((DIRECT, DIRECT), (0, 0), ()))
    heavy_a = compliance_of(plan).sheets.counts.heavier_line_a
    assert heavy_a > plan.supply.leg_a
    assert "loads" in wheres(compliance_of(plan), Severity.WARNING)


@pytest.mark.parametrize(("withstands_a", "said"), [
    (10_000.0, True), (12_000.0, False), (None, False)])
def test_transfer_equipment_too_weak_for_the_fault_is_said(withstands_a, said):
    """NEC 110.9: a plan warns where its transfer equipment stands less than the utility gives."""
    plan = plan_of(fault_current_a=12_000.0)
    transfers = tuple(replace(one, short_circuit_a=withstands_a) for one in plan.menu.transfers)
    plan = replace(plan, menu=replace(plan.menu, transfers=transfers))
    found = [one for one in findings_of_plan(plan) if one.where.startswith("transfer ")]
    assert [one.severity for one in found] == [Severity.WARNING] * said


@pytest.mark.parametrize(("withstands_a", "said"), [
    (5000.0, True), (12_000.0, False), (None, False)])
def test_a_soft_starter_too_weak_for_the_fault_is_said(withstands_a, said):
    """NEC 110.9: of those that the plan has; the other kind of the book is not asked."""
    starter = SoftStarter("soft", "soft starter", 0.4, 40.0, 250.0, 80.0,
                          short_circuit_a=withstands_a)
    other = replace(starter, id="other", short_circuit_a=100.0)
    one = home(base(1.0), motor("air", 3.0, 15.0), fault_current_a=12_000.0)
    offered = book(generator(12.0, 4000.0), soft_starters=(other, starter))
    problem = problems_of(one, offered)[0]
    for soft, is_said in ((2, said), (0, False)):
        plan = problem.plan(Choice((DIRECT, DIRECT), (0, soft), ()))
        found = [one for one in findings_of_plan(plan) if "soft starter" in one.where]
        assert [(one.severity, one.where) for one in found] == [
            (Severity.WARNING, "soft starter soft")] * is_said
        assert all("soft starter withstands 5,000 A" in one.sentence for one in found)


def test_modules_are_listed_with_their_branch_circuit():
    """5 kW stand behind 30 A, 125 % of 20.8 A; what is not known is to be verified."""
    plan = plan_of()
    line, = module_lines(plan)
    assert (line.load.id, line.module.id) == ("dryer", "relay")
    assert (line.branch.breaker_a, line.branch.clause, line.in_circuit) == (30.0, "422.11(E)", True)
    said = " ".join(one.sentence for one in to_verify_of_modules(plan))
    assert "dryer 30 A" in said
    assert "fault current is not known" in said
    assert "no short-circuit rating" in said
    known = plan_of(fault_current_a=5000.0)
    assert not any("fault" in one.where for one in to_verify_of_modules(known))
    assert to_verify_of_modules(plan_of(connection=(DIRECT, DIRECT))) == ()
