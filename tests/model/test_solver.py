"""What the solver's word is worth: only what its own status proves passes for proven."""

from __future__ import annotations

import random

import pulp
import pytest

from planner.errors import SolverError
from planner.model import solver
from planner.model.build import build, maximise_coverage
from planner.model.solver import solve, solver_name
from planner.search.problem import problems_of
from tests.homes import book, generator, random_home
from tests.model.asking import least_usd, most_coverage
from tests.model.tiny import TINY, tables_of

pytestmark = pytest.mark.solver
each_solver = pytest.mark.parametrize("name", ["HiGHS", "CBC"])
each_sense = pytest.mark.parametrize("sense", [pulp.LpMinimize, pulp.LpMaximize])


def one_whole_number(sense, *, least=None):
    """A whole x up to 3.5, aimed at 2·x + 0.5 maximised or −2·x + 0.5 minimised."""
    problem = pulp.LpProblem("number", sense)
    number = problem.add_variable("x", 0, 5, "Integer")
    problem += 2 * number <= 7
    if least is not None:
        problem += 2 * number >= least
    problem.setObjective(-sense * 2 * number + 0.5)
    return problem


def even_split(seconds, name, sense):
    """A split of numbers into equal halves, six times at once: far too much for a moment's work.

    Aimed at 7 plus the sum of what is missing; its negative where it is maximised.
    """
    rng = random.Random(3)
    problem = pulp.LpProblem("split", sense)
    half = [problem.add_variable(f"x{i}", 0, 1, "Binary") for i in range(50)]
    missing = []
    for row in range(6):
        sizes = [rng.randrange(100) for _ in half]
        over, under = problem.add_variable(f"o{row}", 0), problem.add_variable(f"u{row}", 0)
        taken = pulp.lpSum(size * var for size, var in zip(sizes, half, strict=True))
        problem += taken + under - over == sum(sizes) // 2
        missing += [over, under]
    problem.setObjective(sense * (pulp.lpSum(missing) + 7.0))
    return problem, solve(problem, seconds=seconds, prefer=name)


@each_solver
@each_sense
def test_objective_and_bound_have_the_sign_and_the_constant_of_the_problem(name, sense):
    """2·3 + 0.5 maximised, −2·3 + 0.5 minimised; point and bound are the same."""
    answer = solve(one_whole_number(sense), prefer=name)
    assert answer.proven
    assert answer.has_point
    assert not answer.infeasible
    assert answer.solver == name
    assert answer.objective == pytest.approx(-sense * 6.0 + 0.5)
    assert answer.bound == pytest.approx(answer.objective)


@each_solver
@each_sense
def test_relaxed_is_at_least_as_good(name, sense):
    """Without whole numbers x is 3.5: 2·3.5 + 0.5 maximised."""
    problem = one_whole_number(sense)
    answer = solve(problem, relaxed=True, prefer=name)
    assert answer.proven
    assert answer.bound == pytest.approx(-sense * 7.0 + 0.5)
    assert problem.variables()[0].varValue == pytest.approx(3.5)


@each_solver
@each_sense
@pytest.mark.parametrize("relaxed", [False, True])
def test_infeasible_is_proven_and_has_no_point(name, sense, relaxed):
    """2·x ≥ 8 and ≤ 7: no point, no objective, no bound to be read."""
    answer = solve(one_whole_number(sense, least=8), relaxed=relaxed, prefer=name)
    assert answer.infeasible
    assert answer.proven
    assert not answer.has_point
    assert answer.objective is None
    assert answer.bound is None


@each_solver
def test_infeasible_only_in_whole_numbers_is_proven_too(name):
    """A whole x with 2·x = 7 does not exist, though 3.5 would do without wholeness."""
    problem = one_whole_number(pulp.LpMaximize, least=7)
    assert solve(problem, relaxed=True, prefer=name).has_point
    answer = solve(problem, prefer=name)
    assert answer.infeasible
    assert answer.proven
    assert not answer.has_point


@each_solver
@pytest.mark.parametrize("relaxed", [False, True])
def test_unbounded_is_not_infeasible(name, relaxed):
    """With nothing to hold x there are points enough; nothing is proven."""
    problem = pulp.LpProblem("unbounded", pulp.LpMaximize)
    number = problem.add_variable("x", 0, None, "Integer")
    problem += number >= 3
    problem.setObjective(number + 0.0)
    answer = solve(problem, relaxed=relaxed, prefer=name)
    assert not answer.infeasible
    assert not answer.proven
    assert answer.bound is None


@each_solver
@each_sense
@pytest.mark.parametrize("seconds", [0.0, 0.2])
def test_a_time_limit_is_no_proof(name, sense, seconds):
    """Stopped early, a point is a point, its bound is at least as good, and nothing is proven.

    With halves of numbers nothing is missing, so a bound is 7 (−7 maximised) or nearer the optimum.
    """
    problem, answer = even_split(seconds, name, sense)
    assert not answer.proven
    assert not answer.infeasible
    if answer.has_point:
        assert answer.objective == pytest.approx(pulp.value(problem.objective))
        assert all(row.valid(1e-4) for row in problem.constraints())
    else:
        assert answer.objective is None
    if answer.bound is not None:
        assert sense * answer.bound >= 7.0 - 1e-6
        if answer.has_point:
            assert sense * answer.bound <= sense * answer.objective + 1e-6


@each_solver
def test_a_point_within_the_gap_passes_for_proven_only_if_it_is_optimal(name):
    """However wide the gap, the bound holds for the optimum, and what is proven is the optimum."""
    for seed in range(4):
        problem = problems_of(random_home(seed, 4), book(generator(8.0, 2000.0)))[0]
        model = build(problem.tables)
        maximise_coverage(model, 4000.0)
        best = solve(model.problem)
        rough = solve(model.problem, gap=0.5, prefer=name)
        assert rough.infeasible == best.infeasible
        if best.infeasible:
            continue
        assert rough.has_point
        assert rough.objective <= best.objective + 1e-5
        assert rough.bound >= best.objective - 1e-5
        if rough.proven:
            assert rough.objective == pytest.approx(best.objective, abs=1e-5)


@pytest.mark.parametrize("rule", TINY)
def test_both_solvers_agree_on_tiny_homes(rule):
    """Largest coverage and least cost are the same by either solver."""
    tables = TINY[rule]()
    assert most_coverage(tables, prefer="CBC") == pytest.approx(
        most_coverage(tables, prefer="HiGHS"), abs=1e-5)
    assert least_usd(tables, 0.5, prefer="CBC") == pytest.approx(
        least_usd(tables, 0.5, prefer="HiGHS"), abs=1e-3)


@pytest.mark.parametrize("seed", range(6))
def test_both_solvers_agree_on_random_homes(seed):
    """The largest coverage for a small sum and for any is the same by either solver, or none."""
    tables = tables_of(random_home(seed, 4), book(generator(7.0, 2000.0), generator(11.0, 3000.0)))
    for usd in (3300.0, 1e6):
        one, other = (most_coverage(tables, usd, prefer=name) for name in ("HiGHS", "CBC"))
        assert (one is None) == (other is None)
        assert one is None or one == pytest.approx(other, abs=1e-5)


def test_where_highs_is_missing_cbc_serves(monkeypatch):
    """The solver that runs is the one that is there, and the answer says which."""
    assert solver_name() == "HiGHS"
    assert solve(one_whole_number(pulp.LpMaximize)).solver == "HiGHS"
    monkeypatch.setattr(solver, "find_spec", lambda name: None)
    assert solver_name() == "CBC"
    answer = solve(one_whole_number(pulp.LpMaximize))
    assert answer.solver == "CBC"
    assert answer.objective == pytest.approx(6.5)


def test_where_no_solver_runs_an_error_says_so(monkeypatch, tmp_path):
    """A program that is not there raises SolverError, not the library's own error."""
    monkeypatch.setattr(pulp.PULP_CBC_CMD, "pulp_cbc_path", str(tmp_path / "absent"))
    with pytest.raises(SolverError, match="CBC did not run"):
        solve(one_whole_number(pulp.LpMaximize), prefer="CBC")


@each_solver
def test_the_same_problem_gives_the_same_point(name):
    """Twice solved from scratch, every variable has the same value."""
    points = []
    for _ in range(2):
        model = build(tables_of(random_home(1, 4), book(generator(9.0, 2000.0))))
        maximise_coverage(model, 4000.0)
        assert solve(model.problem, prefer=name).has_point
        points.append({var.name: var.varValue for var in model.problem.variables()})
    assert points[0] == points[1]
    assert points[0]


@pytest.mark.solver
def test_a_limit_of_nodes_gives_the_same_point_and_a_bound_that_nothing_beats():
    """A knapsack of 40 odd things: after the root its bound is above the optimum, always."""
    def knapsack():
        problem = pulp.LpProblem("knapsack", pulp.LpMaximize)
        take = [problem.add_variable(f"take_{i}", cat="Binary") for i in range(40)]
        problem += pulp.lpSum((7 * i % 31 + 5.3) * one for i, one in enumerate(take))
        problem += pulp.lpSum((11 * i % 37 + 3.7) * one for i, one in enumerate(take)) <= 200.3
        return problem

    best = solve(knapsack())
    first, again = solve(knapsack(), nodes=1), solve(knapsack(), nodes=1)
    assert best.proven
    assert first == again
    assert first.bound >= best.objective - 1e-6
