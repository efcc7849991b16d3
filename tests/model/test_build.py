"""The model as a whole: what it costs, what it covers, and what is read out of it."""

from __future__ import annotations

import re

import pytest

from planner.model.build import build, maximise_coverage, minimise_cost, read_choice
from planner.model.solver import solve
from planner.plan.price import price_of
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF
from planner.service.replay import Refusal, replay
from tests.homes import ALL, base, book, generator, home, random_home
from tests.model.asking import least_usd, most_coverage
from tests.model.tiny import at, load, motor, tables_of
from tests.oracle.wild import wild_book, wild_home

SIZES = book(generator(7.0, 2000.0), generator(11.0, 3000.0))


@pytest.mark.parametrize("seed", range(20))
def test_variables_and_rows_have_names_of_their_own(seed):
    """No two variables and no two rows share a name, and each is one that an LP file can hold."""
    problem = build(tables_of(wild_home(seed, 4), wild_book(seed, (5.0, 9.0)))).problem
    for names in ([var.name for var in problem.variables()],
                  [row.name for row in problem.constraints()]):
        assert len(names) == len(set(names))
        assert names
        assert all(re.fullmatch(r"[A-Za-z][A-Za-z0-9_]*", name) for name in names)


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(8))
def test_a_goal_or_a_budget_can_be_changed(seed):
    """A model asked one sum after another answers as one built anew for each sum."""
    tables = tables_of(random_home(seed, 3), SIZES)
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
@pytest.mark.parametrize("seed", range(25))
def test_the_cost_is_the_price_of_what_is_read(seed):
    """The model's least cost is what the price book asks for the connections it chose."""
    problem = problems_of(wild_home(seed, 3), wild_book(seed, (6.0, 12.0)))[-1]
    model = build(problem.tables)
    for coverage in (0.0, 0.5):
        minimise_cost(model, coverage)
        answer = solve(model.problem)
        assert answer.proven
        if answer.has_point:
            assert answer.objective == pytest.approx(
                price_of(problem.menu, read_choice(model)).usd, abs=1e-2)


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(25))
def test_what_is_read_covers_no_more_than_the_bound(seed):
    """Where the replay accepts what the model chose, it covers at most what the model promised."""
    problem = problems_of(wild_home(seed, 3), wild_book(seed, (6.0, 12.0)))[-1]
    model = build(problem.tables, whole_slots=False)
    maximise_coverage(model, 1e6)
    answer = solve(model.problem)
    assert answer.proven
    if answer.has_point:
        outcome = replay(problem.house, problem.supply, read_choice(model))
        assert isinstance(outcome, Refusal) or outcome.coverage <= answer.bound + 2e-6


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(8))
def test_shares_of_a_slot_are_looser(seed):
    """A model in which a load may run part of a slot covers at least as much."""
    problem = problems_of(random_home(seed, 4), SIZES)[0]
    most = []
    for whole in (True, False):
        model = build(problem.tables, whole_slots=whole)
        maximise_coverage(model, 3600.0)
        answer = solve(model.problem)
        most.append(-1.0 if answer.infeasible else answer.objective)
    assert most[1] >= most[0] - 1e-5


@pytest.mark.solver
def test_what_is_read_is_what_was_chosen():
    """Lamp direct, heater by module behind the pump, oven moved away, a soft starter on the pump.

    On 6 kW the oven of 7 kW never fits; pump and heater, 5 kW and 2 kW, do not fit together, and
    the pump, which cannot wait, comes first; its start of 12 kVA needs the soft starter.
    """
    one = home(
        base(0.4), motor("pump", 5.0, 12.0, allowed=frozenset({"module"}), use=at(40)),
        load("heater", 2.0, allowed=frozenset({"module"}), wait_h=0.5, use=at(40)),
        load("oven", 7.0, allowed=ALL, importance=0, use=at(50)))
    problem = problems_of(one, book(generator(6.0, 2000.0)))[0]
    model = build(problem.tables)
    maximise_coverage(model, 2000.0 + 900.0 + 2 * 250.0 + 100.0 + 330.0 + 180.0)
    answer = solve(model.problem)
    assert answer.proven
    assert answer.objective == pytest.approx(1.0)
    choice = read_choice(model)
    assert choice.connection == (DIRECT, MODULE, MODULE, OFF)
    assert choice.soft_start == (0, 1, 0, 0)
    assert choice.order == (1, 2)
    assert replay(problem.house, problem.supply, choice).coverage == pytest.approx(1.0)


@pytest.mark.solver
def test_a_home_without_wishes_is_covered():
    """Where nothing counts in coverage it is 1, and the cheapest valid plan is found."""
    tables = tables_of(home(base(0.5)), SIZES)
    assert most_coverage(tables) == pytest.approx(1.0)
    assert least_usd(tables, 1.0) == pytest.approx(2900.0)
