"""Where no enumeration reaches, nothing near a plan that is shown beats what is said of it.

The frontiers are searched shortly, so that their plans and bounds are not the best there are.
"""

from __future__ import annotations

import random
from functools import cache
from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.plan.plan import Plan
from planner.search.frontier import Frontier, plans_of
from planner.search.limits import SearchLimits
from planner.search.problem import problems_of
from tests.benchmarks.questions import grown_book, grown_home
from tests.brute_force.two_steps import beside
from tests.oracle.known import known

CASES = Path(__file__).parents[2] / "cases"
SAME = 1e-9
SHORT = SearchLimits(nodes=20_000, probe=2_000, all_nodes=6_000)
TRIES = 200
LEAST_FOUND = 25
PLANS = 2


def estate():
    """The largest home of `cases`."""
    one, _ = read_home(CASES / "large_estate.toml")
    return one, read_book(one.price_book)[0]


HOMES = {
    "estate": estate, "made up": lambda: (grown_home(20, 3), grown_book(20, 3)),
    **{f"groups, {seed}": lambda seed=seed: (known(seed).home, known(seed).book)
       for seed in (4, 12, 18)},
}


@cache
def near(name):
    """A frontier, and what is found near its plans: (plan, USD, coverage, choice)."""
    one, sizes = HOMES[name]()
    plans = Frontier(plans_of(list(problems_of(one, sizes, SHORT))))
    rng, found = random.Random(name), []
    several = plans.points[:: max(1, len(plans.points) // PLANS)]
    for plan in several:
        found += [(plan, *each) for each in beside(plan, rng, TRIES)]
    return plans, found


@pytest.mark.parametrize("name", HOMES)
def test_nothing_near_a_plan_is_above_what_is_stated(name):
    """Two changes of a plan never lead to more than the bound that is stated at their price."""
    plans, found = near(name)
    assert len(found) >= LEAST_FOUND
    for _, usd, coverage, _ in found:
        bound = plans.bound_at(usd)
        assert bound is None or coverage <= bound + SAME


@pytest.mark.parametrize("name", ["groups, 4", "made up"])
def test_what_is_missed_is_found(name):
    """Were a worse neighbour shown in a plan's place, something better would be found near it."""
    _, found = near(name)
    plan, _, _, choice = next(each for each in found if each[2] < each[0].coverage - 0.01)
    worse = Plan(plan.menu, plan.supply, choice)
    better = [coverage for usd, coverage, _ in beside(worse, random.Random(name), TRIES)
              if usd <= max(worse.cost_usd, plan.cost_usd) + SAME]
    assert max(better) > worse.coverage + SAME
