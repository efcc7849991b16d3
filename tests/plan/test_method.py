"""A plan that fits by the optional method only says so, with what then fits."""

from __future__ import annotations

import pytest

from planner.errors import Severity
from planner.facts.home import CodeBasis, CodeEntry
from planner.plan.code import always_connected
from planner.plan.compliance import compliance_of
from planner.plan.findings import findings_of_plan
from planner.plan.method import method_findings
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from tests.homes import ALL, base, book, generator, home, load


def plan_of(kw=18.0, *sizes, connection=(DIRECT,) * 4, edition="2023", **changes):
    """Three motors of 6000 VA that draw 1 kW each, the last one never behind a module.

    By 220.82 (derived): 10,000 VA and 40 % of 4500 + 18,000 - 10,000 = 15,000 VA. By Part III:
    3000 + 35 % of 1500 = 3525 VA, 18,000 VA and 25 % of a motor, 1500 VA: 23,025 VA.
    """
    pumps = [load(f"pump-{n}", 1.0, label=f"Pump {n}", allowed=ALL if n < 2 else ALL - {"module"},
                  code=CodeEntry("motor", 6000.0)) for n in range(3)]
    one = home(base(1.0), *pumps, **{"service_a": 200.0, "code": CodeBasis(edition, "optional"),
                                     **changes})
    offered = book(generator(kw, 4000.0, breaker_a=80.0),
                   *(generator(size, 6000.0) for size in sizes))
    found = next(problem for problem in problems_of(one, offered)
                 if problem.supply.generator.id == f"set-{kw:g}")
    order = tuple(i for i, how in enumerate(connection) if how == MODULE)
    return found.plan(Choice(connection, (0,) * 4, order))


def test_both_totals_stand_beside_the_rating_with_what_is_to_verify():
    """The clause, our reading as ours, the smaller feeder, the figure over, and what then fits."""
    plan = plan_of(18.0, 24.0, 40.0)
    found, = method_findings(plan)
    assert (found.severity, found.where) == (Severity.WARNING, "calculated load")
    assert found.sentence == (
        "what is always connected fits by the optional method only: 15,000 VA by it, 23,025 VA by "
        "Part III, and the generator may carry 18,000 W here. 220.82(A) asks that one set of "
        "service or feeder conductors of 100 A or more serves the total connected load of the "
        "dwelling; our reading: behind whole-house transfer equipment those are the conductors "
        "from it (200 A) to the panel. The generator's own feeder is smaller (75.0 A per leg "
        "behind its own 80 A breaker), so the authority having jurisdiction may ask for Part III.")
    assert found.remedy == (
        "Ask it before ordering. By Part III the plan is 5,025 VA over; then fits: the 24 kW "
        "generator (24,000 W here), or, by the calculation alone, this one with one of these "
        "behind a module: Pump 0, Pump 1.")


def test_where_nothing_then_fits_that_is_said():
    """23,025 VA are above every generator, and above 16 kW with any one pump shed (17,025 VA)."""
    found, = method_findings(plan_of(16.0))
    assert found.remedy.endswith("7,025 VA over; then fits: no generator of the price book.")


@pytest.mark.parametrize("changes", [
    pytest.param({"kw": 24.0}, id="Part III fits too"),
    pytest.param({"kw": 40.0, "service_a": 60.0}, id="a small service goes by Part III"),
    pytest.param({"kw": 18.0, "connection": (DIRECT, DIRECT, OFF, DIRECT)}, id="a part of it"),
])
def test_nothing_is_said_where_part_three_fits(changes):
    """It fits, or it counts already."""
    plan = plan_of(**changes) if "connection" not in changes else plan_of(
        changes["kw"], connection=changes["connection"])
    assert method_findings(plan) == ()
    assert plan.direct_demand.total_va <= 1000.0 * plan.supply.derated_kw


def test_the_equipment_behind_which_220_82_is_read_is_no_smaller_than_the_service():
    """What the finding says of the conductors is what the plan buys: 100 A or more."""
    plan = plan_of()
    home_a = plan.menu.house.home.service_a
    assert plan.price.transfer.rating_a >= home_a >= 100.0
    assert always_connected(plan.menu, plan.choice).why_not_optional == ""


def test_it_is_part_of_the_compliance_and_of_the_plans_findings():
    """The sheet, the page and the command read the same; numbered anew in 2026."""
    plan = plan_of()
    assert method_findings(plan)[0] in compliance_of(plan).findings
    assert method_findings(plan)[0] in findings_of_plan(plan)
    assert "120.82(A)" in method_findings(plan_of(edition="2026"))[0].sentence
