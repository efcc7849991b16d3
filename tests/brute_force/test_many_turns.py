"""Where seven loads take turns, no bound on the search over orders cuts off the best of 5040."""

from __future__ import annotations

from dataclasses import replace

import pytest
from planner.search.combinations import combinations_of
from planner.search.sweep import sweep

from planner.search.options import options_of
from planner.search.problem import problems_of
from tests.homes import base, book, events, generator, home, load
from tests.oracle.market import most_at, offers
from tests.oracle.wild import crowded_home, wild_book

SEEDS = 40


def crowd(seed):
    """Seven loads that can only take turns, one set, and a controller that drives them all."""
    sizes = wild_book(seed, ((6.0, 7.0, 9.0)[seed % 3],))
    controllers = tuple(replace(one, modules=20) for one in sizes.controllers)
    return crowded_home(seed, 7), replace(sizes, soft_starters=(), controllers=controllers)


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(SEEDS))
def test_the_best_order_is_found(seed):
    """The search ends at the coverage that full enumeration reaches."""
    problem = problems_of(*crowd(seed))[0]
    combinations = combinations_of(problem, options_of(problem), 10)
    assert combinations is not None
    found = sweep(problem, combinations)
    truth = most_at(offers(*crowd(seed)), 1e9)
    assert not found.rows.size
    assert max((p.coverage for p in found.points), default=-1.0) == pytest.approx(truth, abs=2e-6)


@pytest.mark.solver
@pytest.mark.parametrize("nodes", [0, 1, 100_000])
@pytest.mark.parametrize("weights", [(1, 2, 3, 4, 5, 4, 3), (5, 5, 5, 1, 1, 1, 1), (3,) * 7])
def test_a_crowd_that_fills_the_set_to_the_last_watt(weights, nodes):
    """Of seven loads of 2 kW at once, 1 kW of base leaves a 7 kW generator three: the weightiest.

    A bound that is a hair too low would show.
    """
    loads = [load(f"load-{n}", 2.0, importance=weight, allowed=frozenset({"module"}),
                  use=events((18.0, 1.0))) for n, weight in enumerate(weights)]
    problem = problems_of(home(base(1.0), *loads), book(generator(7.0, 1000.0)))[0]
    combinations = combinations_of(problem, options_of(problem), 10)
    found = sweep(problem, combinations, node_limit=nodes)
    truth = sum(sorted(weights)[-3:]) / sum(weights)
    reached = [p.coverage for p in found.points] + found.bounds.tolist()
    assert max(reached) >= truth - 2e-6
    if nodes > 1:
        assert max(reached) == pytest.approx(truth, abs=2e-6)
