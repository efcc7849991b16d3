"""On small homes the frontier is the true one, and no bound is below the truth.

The truth is full enumeration of all connections, soft starters and orders by the plain rule.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import NoPlanError
from planner.facts.price_book import Transfer
from planner.model.build import build, maximise_coverage
from planner.model.solver import solve
from planner.search.frontier import frontier, frontier_by_size
from planner.search.limits import SearchLimits
from planner.search.problem import problems_of
from planner.study.recommend import recommend, smallest
from tests.homes import book, cheapest, generator, random_home
from tests.oracle.every_plan import every_plan, true_frontier

SIZES = (generator(4.0, 1500.0), generator(7.0, 2100.0), generator(11.0, 3000.0))


def small(seed):
    """A random home of 2-4 loads beside its base, and a book of three sizes."""
    return random_home(seed, 2 + seed % 3), book(*SIZES)


def points(found):
    """(cost, coverage) of the plans of a frontier."""
    return [(round(plan.cost_usd, 4), plan.coverage) for plan in found.points]


def assert_true(found, truth):
    """The frontier holds the true points, each proven or within its gap, no bound too low."""
    for plan in found.points:
        attainable = max(cover for usd, cover in truth if usd <= plan.cost_usd + 1e-6)
        assert plan.proof.bound is not None
        assert plan.proof.bound >= attainable - 1e-6
        assert plan.coverage >= attainable - plan.proof.gap - 1e-5
    assert [usd for usd, _ in points(found)] == pytest.approx([usd for usd, _ in truth])
    assert [c for _, c in points(found)] == pytest.approx([c for _, c in truth], abs=1e-5)


@pytest.mark.parametrize("seed", range(200))
def test_whole_house(seed):
    """The frontier equals full enumeration; there is no plan exactly where enumeration has none."""
    one, sizes = small(seed)
    truth = true_frontier(one, sizes)
    if not truth:
        with pytest.raises(NoPlanError):
            frontier(one, sizes)
        return
    assert_true(frontier(one, sizes), truth)


@pytest.mark.parametrize("seed", range(40))
def test_selected_circuits(seed):
    """The same with selected circuits: positions count, and what is off costs nothing."""
    one, sizes = small(seed)
    one = replace(one, transfer_kinds=frozenset({"selected-circuits"}))
    panels = tuple(Transfer(f"panel-{n}", f"{n} positions", "selected-circuits", 100.0, n,
                            200.0 + 60.0 * n, 100.0) for n in (4, 6, 12))
    sizes = replace(sizes, transfers=panels)
    truth = true_frontier(one, sizes, "selected-circuits")
    if not truth:
        with pytest.raises(NoPlanError):
            frontier(one, sizes)
        return
    assert_true(frontier(one, sizes), truth)


@pytest.mark.parametrize("seed", range(40))
def test_in_rounds(seed):
    """Walked in rounds of growing patience down to no slack, the frontier is still true."""
    limits = SearchLimits(many_turns=0, patience=(1, 8, 100_000), slack=0.0)
    one, sizes = small(seed)
    truth = true_frontier(one, sizes)
    if truth:
        assert_true(frontier(one, sizes, limits=limits), truth)
    else:
        with pytest.raises(NoPlanError):
            frontier(one, sizes, limits=limits)


@pytest.mark.parametrize("seed", range(40))
def test_cut_short(seed):
    """Where the search is cut short, every plan is real and no stated bound is below the truth."""
    limits = SearchLimits(many_turns=0, patience=(1, 2))
    one, sizes = small(seed)
    plans = set_of_plans(one, sizes)
    if not plans:
        return
    for plan in frontier(one, sizes, limits=limits).points:
        attainable = max(cover for usd, cover in plans if usd <= plan.cost_usd + 1e-6)
        assert plan.coverage <= attainable + 1e-6
        assert plan.proof.bound >= attainable - 1e-6


def set_of_plans(one, sizes):
    """Every (cost, coverage) pair that enumeration finds."""
    return list(every_plan(one, sizes))


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(40))
def test_by_the_model(seed):
    """Where the model bounds and proposes, plans are real and no bound is below the truth."""
    limits = SearchLimits(most_combinations=0)
    one, sizes = small(seed)
    plans = set_of_plans(one, sizes)
    if not plans:
        with pytest.raises(NoPlanError):
            frontier(one, sizes, limits=limits)
        return
    for plan in frontier(one, sizes, limits=limits).points:
        attainable = max(cover for usd, cover in plans if usd <= plan.cost_usd + 1e-6)
        assert plan.coverage <= attainable + 1e-6
        assert plan.proof.bound >= attainable - 1e-6


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(50))
@pytest.mark.parametrize("whole_slots", [True, False])
def test_bound_of_the_model(seed, whole_slots):
    """The model's optimum is never below the best plan of the same size and budget."""
    one, sizes = small(seed)
    for problem in problems_of(one, sizes):
        only = replace(sizes, generators=(problem.menu.generator,))
        truth = true_frontier(one, only)
        model = build(problem.tables, whole_slots=whole_slots)
        for usd, coverage in truth:
            maximise_coverage(model, usd + 1e-6)
            answer = solve(model.problem)
            assert answer.proven
            assert answer.objective is not None
            assert answer.objective >= coverage - 1e-6


@pytest.mark.parametrize("seed", range(30))
def test_picks(seed):
    """Cheapest, best and smallest agree with enumeration."""
    one, sizes = small(seed)
    truth = true_frontier(one, sizes)
    if not truth:
        return
    goal = truth[len(truth) // 2]
    assert cheapest(one, sizes, goal[1] - 1e-9).cost_usd == pytest.approx(goal[0])
    bought = recommend(one, sizes, budget_usd=goal[0])
    assert bought.plan.coverage == pytest.approx(goal[1], abs=1e-5)
    reach = [g for g in sizes.generators
             if any(c >= goal[1] - 1e-6
                    for _, c in true_frontier(one, replace(sizes, generators=(g,))))]
    least = smallest(one, sizes, goal[1] - 1e-6, none_starved=False)
    assert least.plan.supply.generator.id == reach[0].id


@pytest.mark.parametrize("seed", range(20))
def test_each_size(seed):
    """The frontier of each size by itself equals enumeration of that size."""
    one, sizes = small(seed)
    found = frontier_by_size(one, sizes)
    for size in sizes.generators:
        truth = true_frontier(one, replace(sizes, generators=(size,)))
        assert (size.id in found) == bool(truth)
        if truth:
            assert_true(found[size.id], truth)
