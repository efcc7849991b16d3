"""Where seven loads take turns, no bound on the search over orders cuts off the best of 5040."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import NoPlanError
from planner.search.frontier import frontier
from planner.search.limits import SearchLimits
from tests.homes import base, book, events, generator, home, load
from tests.oracle.market import most_at, offers
from tests.oracle.wild import crowded_home, wild_book

SEEDS = 40


def crowd(seed):
    """Seven loads that can only take turns, one set, and a controller that drives them all.

    The book has modules of one sense: this is about orders, and each choice between two modules
    would double the 5040 plays (test_wild_homes has the choices).
    """
    sizes = wild_book(seed, ((6.0, 7.0, 9.0)[seed % 3],))
    controllers = tuple(replace(one, modules=20) for one in sizes.controllers)
    senses = min(sizes.modules, key=lambda one: one.price + one.installation).senses
    modules = tuple(one for one in sizes.modules if one.senses == senses)
    return crowded_home(seed, 7), replace(sizes, modules=modules, soft_starters=(),
                                          controllers=controllers)


@pytest.mark.parametrize("seed", range(SEEDS))
def test_the_best_order_is_found(seed):
    """The search ends at the coverage that full enumeration reaches."""
    truth = most_at(offers(*crowd(seed)), 1e9)
    try:
        points = frontier(*crowd(seed)).points
    except NoPlanError:
        points = ()
    assert all(plan.proof.kind == "proven" for plan in points)
    assert max((plan.coverage for plan in points), default=-1.0) == pytest.approx(truth, abs=1e-9)


@pytest.mark.parametrize("nodes", [1, 100_000])
@pytest.mark.parametrize("weights", [(1, 2, 3, 4, 5, 4, 3), (5, 5, 5, 1, 1, 1, 1), (3,) * 7])
def test_a_crowd_that_fills_the_set_to_the_last_watt(weights, nodes):
    """Of seven loads of 2 kW at once, 1 kW of base leaves a 7 kW generator three: the weightiest.

    A bound that is a hair too low would show.
    """
    loads = [load(f"load-{n}", 2.0, importance=weight, allowed=frozenset({"module"}),
                  use=events((18.0, 1.0))) for n, weight in enumerate(weights)]
    set_of_7 = generator(7.0, 1000.0, permitted_average=1.0)
    limits = SearchLimits(nodes=nodes, probe=nodes)
    plan = frontier(home(base(1.0), *loads), book(set_of_7), limits=limits).points[-1]
    truth = sum(sorted(weights)[-3:]) / sum(weights)
    assert plan.proof.bound >= truth - 1e-9
    if nodes > 1:
        assert plan.coverage == pytest.approx(truth, abs=1e-9)
