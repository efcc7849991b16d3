"""What a timed search begins with: a real plan at its price, for most sizes that have any."""

from __future__ import annotations

from itertools import count

import pytest

from planner.errors import NoPlanError
from planner.progress import unheard
from planner.search.desk import desk_of
from planner.search.frontier import frontier, plans_of
from planner.search.ground import Ground
from planner.search.hard.seeding import seed_of
from planner.search.limits import Stop, limits_for
from planner.search.problem import problems_of
from tests.homes import book, generator, random_home
from tests.oracle.wild import wild_book, wild_home

SIZES = (generator(5.0, 1500.0), generator(9.0, 2100.0), generator(16.0, 3000.0))


def small(seed):
    """A random or a wild home of 4 loads beside its base, and a book of three sizes."""
    return (wild_home(seed, 4), wild_book(seed)) if seed % 2 else (random_home(seed, 4),
                                                                   book(*SIZES))


@pytest.mark.parametrize("goal", [None, 0.5])
@pytest.mark.parametrize("seed", range(30))
def test_a_seed_is_a_plan_at_its_price(seed, goal):
    """The replay accepts it, it costs what its leaf says, and it reaches an easy goal."""
    for problem in problems_of(*small(seed)):
        ground = Ground(problem, desk_of(problem.house))
        leaf = seed_of(ground, goal, unheard)
        if leaf is not None:
            assert leaf.is_leaf
            plan = problem.plan(ground.choice(leaf, leaf.order))
            assert plan.cost_usd == pytest.approx(leaf.usd)
            most = plans_of([problem])[-1]
            assert plan.cost_usd >= plans_of([problem])[0].cost_usd - 1e-6
            assert plan.coverage <= most.coverage + 0.0005


def test_most_sizes_that_have_a_plan_get_a_seed():
    """Of the sizes of thirty homes that have a plan, at least three quarters."""
    able, seeded = 0, 0
    for problem in (one for seed in range(30) for one in problems_of(*small(seed))):
        if plans_of([problem]):
            able += 1
            leaf = seed_of(Ground(problem, desk_of(problem.house)), None, unheard)
            seeded += leaf is not None
    assert able > 40
    assert seeded >= 0.75 * able


def test_a_timed_search_that_is_given_its_time_finds_the_same():
    """Beginning with seeds changes nothing in the end: the same costs and coverages."""
    for seed in range(20):
        try:
            usual = frontier(*small(seed)).points
        except NoPlanError:
            continue
        looks = count()
        stop = Stop(1e9, clock=lambda looks=looks: float(next(looks)))
        timed = frontier(*small(seed), limits=limits_for(seconds=1e9, stop=stop)).points
        assert [(plan.cost_usd, plan.proof.kind) for plan in timed] == [
            (pytest.approx(plan.cost_usd), "proven") for plan in usual]
        assert [plan.coverage for plan in timed] == pytest.approx(
            [plan.coverage for plan in usual], abs=1e-6)
