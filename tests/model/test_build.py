"""The model as a whole: what it costs, what it covers, and what is read out of it."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from planner.model.build import build, fix, maximise_coverage, minimise_cost, read_choice
from planner.model.solver import solve
from planner.plan.price import price_of
from planner.search.problem import problems_of
from planner.service.choice import BY_HAND, DIRECT, MODULE, OFF, Choice
from planner.service.replay import Refusal, replay
from tests.homes import ALL, book, generator
from tests.model.asking import least_usd, most_coverage
from tests.model.tiny import MODULE as BY_MODULE
from tests.model.tiny import engine, house, motor, oven, spa, tables_of, well, work
from tests.oracle.wild import wild_book, wild_home

SIZES = book(generator(7.0, 2000.0), generator(11.0, 3000.0))


@pytest.mark.parametrize("whole_slots", [True, False])
@pytest.mark.parametrize("seed", range(6))
def test_variables_and_rows_have_names_of_their_own(seed, whole_slots):
    """No two variables and no two rows share a name, and each is one that an LP file can hold."""
    tables = tables_of(wild_home(seed, 4), wild_book(seed, (5.0, 9.0)))
    problem = build(tables, whole_slots=whole_slots).problem
    for names in ([var.name for var in problem.variables()],
                  [row.name for row in problem.constraints()]):
        assert len(names) == len(set(names))
        assert names
        assert all(re.fullmatch(r"[A-Za-z][A-Za-z0-9_]*", name) for name in names)


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(4))
def test_a_goal_or_a_budget_can_be_changed(seed):
    """A model asked one sum after another answers as one built anew for each sum."""
    tables = tables_of(wild_home(seed, 2), SIZES)
    model = build(tables)
    for usd in (1e6, 3400.0, 3900.0, 3000.0, 1000.0):
        maximise_coverage(model, usd)
        answer = solve(model.problem)
        fresh = most_coverage(tables, usd)
        assert answer.infeasible == (fresh is None)
        assert fresh is None or answer.objective == pytest.approx(fresh, abs=1e-5)
    model = build(tables)
    for coverage in (0.0, 0.8, 0.4):
        minimise_cost(model, coverage)
        answer = solve(model.problem)
        fresh = least_usd(tables, coverage)
        assert answer.infeasible == (fresh is None)
        assert fresh is None or answer.objective == pytest.approx(fresh, abs=1e-3)


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(8))
def test_the_cost_is_the_price_of_what_is_read(seed):
    """The model's least cost is what the price book asks for the connections it chose."""
    problem = problems_of(wild_home(seed, 3), wild_book(seed, (6.0, 12.0)))[-1]
    model = build(problem.tables, whole_slots=False)
    for coverage in (0.0, 0.5):
        minimise_cost(model, coverage)
        answer = solve(model.problem)
        assert answer.proven
        if answer.has_point:
            assert answer.objective == pytest.approx(
                price_of(problem.menu, read_choice(model)).usd, abs=1e-2)


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(8))
def test_what_is_read_covers_no_more_than_the_bound(seed):
    """Where the replay accepts what the model chose, it covers at most what the model promised."""
    problem = problems_of(wild_home(seed, 3), wild_book(seed, (6.0, 12.0)))[-1]
    model = build(problem.tables, whole_slots=False)
    maximise_coverage(model, 1e6)
    answer = solve(model.problem)
    assert answer.proven
    if answer.has_point:
        outcome = replay(problem.house, problem.supply, read_choice(model))
        assert isinstance(outcome, Refusal) or outcome.broken or (
            outcome.coverage <= answer.bound + 2e-6)


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(5))
def test_less_is_asked_of_shares_and_of_fewer_days(seed):
    """A model of shares of a slot covers at least as much, and one of the last day alone."""
    problem = problems_of(wild_home(seed, 3), SIZES)[0]
    most = []
    for whole, days in ((True, None), (False, None), (False, 1)):
        model = build(replace(problem.tables, last_days=days), whole_slots=whole)
        maximise_coverage(model, 3600.0)
        answer = solve(model.problem)
        most.append(-1.0 if answer.infeasible else answer.objective)
    assert most[0] <= most[1] + 1e-5
    assert most[1] <= most[2] + 1e-5


@pytest.mark.solver
def test_what_is_read_is_what_was_chosen():
    """Oven direct, heater and pump by module, kiln moved, spa left by hand, a starter on the pump.

    On 6 kW the kiln of 7 kW never fits; pump and heater, 4 and 2 kW, do not fit together beside the
    oven's 0.5 kW, and the pump's start of 12 kVA needs the soft starter. The heater can wait.
    """
    one = house(
        oven(0.5, 40), motor("pump", 4.0, 12.0, 40), work("heater", 2.0, 40, wait_h=0.5),
        work("kiln", 7.0, 50, allowed=ALL, importance=0), spa(0.4, 60))
    problem = problems_of(one, book(engine(6.0)))[0]
    model = build(problem.tables)
    maximise_coverage(model, 2000.0 + 900.0 + 2 * 250.0 + 100.0 + 330.0 + 180.0)
    answer = solve(model.problem)
    assert answer.proven
    assert answer.objective == pytest.approx(1.0)
    choice = read_choice(model)
    assert choice.connection[:3] == (DIRECT, MODULE, MODULE)
    assert choice.connection[3] == OFF
    assert choice.connection[4] in (OFF, BY_HAND)
    assert choice.soft_start == (0, 1, 0, 0, 0)
    assert choice.order == (1, 2)
    assert replay(problem.house, problem.supply, choice).coverage == pytest.approx(1.0)


@pytest.mark.solver
def test_the_order_that_is_read_keeps_every_wish():
    """The heater never before the pump: the pump comes first, though the heater's task is kept."""
    one = house(work("heater", 3.0, 40), well(3.0, 40, 41, 42, 43, allowed=BY_MODULE),
                never_before=(("heater", "well"),))
    model = build(problems_of(one, book(engine(5.0)))[0].tables)
    maximise_coverage(model, 1e6)
    assert solve(model.problem).proven
    assert read_choice(model).order == (1, 0)


@pytest.mark.solver
def test_a_home_without_wishes_is_covered():
    """Where nothing counts in coverage it is 1, and the cheapest valid plan is found."""
    tables = tables_of(house(oven(0.5, 40)), SIZES)
    assert most_coverage(tables) == pytest.approx(1.0)
    assert least_usd(tables, 1.0) == pytest.approx(2900.0)


def test_a_choice_that_is_not_open_cannot_be_fixed():
    """An oven that is always direct cannot be fixed as off."""
    model = build(problems_of(house(oven(3.0, 40)), book(engine(5.0)))[0].tables)
    with pytest.raises(ValueError, match="not open"):
        fix(model, Choice((OFF,), (0,), ()))
