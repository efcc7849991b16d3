"""A wish about the order that a connection undoes is said, with what would keep it."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planner.plan.unkept import unkept_findings, unkept_orders

from planner.errors import Severity
from planner.plan.findings import findings_of_plan
from planner.plan.plan import Plan
from planner.report.data import plan_data
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from tests.homes import base, book, events, generator, home, load

TURNS = frozenset({"direct", "module"})


def plan_of(connection, order, never=(("dryer", "air"),), allowed=TURNS, kw=8.0, **changes):
    """Base 1, dryer 4 and air 4 kW on 8 kW: two of them fit; both call at six, the air waits."""
    one = home(base(1.0, label="Lights"),
               load("dryer", 4.0, label="Dryer", importance=1, wait_h=2.0, allowed=allowed,
                    use=events((18.0, 1.0)), **changes),
               load("air", 4.0, label="Air", importance=4, wait_h=1.0, use=events((18.0, 1.0))),
               load("spa", 3.0, label="Spa", importance=1, use=events((6.0, 1.0))),
               never_before=never)
    problem = problems_of(one, book(generator(kw, 3000.0)))[0]
    return problem.plan(Choice((DIRECT, *connection), (0,) * 4, order))


def test_a_direct_load_ahead_of_what_takes_turns_is_told_with_both_and_why():
    """The dryer goes first although it never should; behind a module the air would not wait."""
    plan = plan_of((DIRECT, MODULE, MODULE), (2, 3))
    assert plan.load("air").longest_wait_h == 1.0
    (ahead, behind), = unkept_orders(plan)
    assert (ahead.id, [one.id for one in behind]) == ("dryer", ["air"])
    found, = unkept_findings(plan)
    assert (found.severity, found.where) == (Severity.WARNING, "wishes: never_before")
    assert found.sentence == (
        "Dryer is always connected, so it is ahead of Air, although the file says that it never "
        "goes before: what takes turns gets the room that is left.")
    price_usd = plan_of((MODULE, MODULE, MODULE), (2, 3, 1)).cost_usd
    assert found.remedy == (
        "Connected by a module it would wait its turn behind them: served Dryer 100 % either way, "
        f"Air 100 % either way; coverage 100 % either way, {price_usd:,.0f} instead of "
        f"{plan.cost_usd:,.0f} USD. To have that, allow it a module only: "
        'connections = ["module"].')


@pytest.mark.parametrize(("connection", "order", "never"), [
    pytest.param((MODULE, MODULE, MODULE), (2, 1, 3), (("dryer", "air"),), id="kept by turns"),
    pytest.param((DIRECT, MODULE, MODULE), (2, 3), (), id="no wish"),
    pytest.param((DIRECT, MODULE, MODULE), (2, 3), (("air", "dryer"),), id="the other way"),
    pytest.param((DIRECT, DIRECT, MODULE), (3,), (("dryer", "air"),), id="both always connected"),
])
def test_a_wish_that_is_kept_is_not_told(connection, order, never):
    """Kept by the order; or neither load waits for the other."""
    assert unkept_findings(plan_of(connection, order, never, kw=12.0)) == ()


def test_what_follows_from_two_wishes_is_told_too():
    """Never the dryer before the air, nor the air before the spa: so nor the dryer before that."""
    plan = plan_of((DIRECT, MODULE, MODULE), (3, 2), (("dryer", "air"), ("air", "spa")))
    (_, behind), = unkept_orders(plan)
    assert {one.id for one in behind} == {"air", "spa"}
    assert "ahead of Air and Spa" in unkept_findings(plan)[0].sentence


def test_a_load_that_may_have_no_module_is_told_so():
    """The wish cannot be kept then, and nothing is promised."""
    plan = plan_of((DIRECT, MODULE, MODULE), (2, 3), allowed=frozenset({"direct"}))
    assert "cannot be connected by a module" in unkept_findings(plan)[0].remedy


def test_what_would_not_work_behind_a_module_is_told_so():
    """A dryer that must run and would have to wait is no plan with this generator."""
    plan = plan_of((DIRECT, MODULE, MODULE), (2, 3), must_run=True)
    assert "do not work" in unkept_findings(plan)[0].remedy


def test_a_load_that_an_always_connected_one_needs_takes_no_turns():
    """What the lights need cannot be shed from under them."""
    plan = plan_of((DIRECT, MODULE, MODULE), (2, 3))
    house = plan.menu.house.home
    needing = replace(house, loads=(replace(house.loads[0], requires=("dryer",)),
                                    *house.loads[1:]))
    other = problems_of(needing, plan.menu.book)[0].plan(plan.choice)
    assert "do not work" in unkept_findings(other)[0].remedy


def test_the_finding_is_part_of_the_plans_data_and_findings():
    """JSON and command line give it."""
    plan = plan_of((DIRECT, MODULE, MODULE), (2, 3))
    assert isinstance(plan, Plan)
    assert unkept_findings(plan)[0] in findings_of_plan(plan)
    assert plan_data(plan)["findings"][0]["where"] == "wishes: never_before"
