"""The cheapest plan for a goal is that of the whole frontier, only found sooner."""

from __future__ import annotations

import pytest

from planner.errors import NoPlanError
from planner.search.cheapest import cheapest_of
from planner.search.frontier import frontier
from planner.search.problem import problems_of
from tests.homes import book, generator, random_home


@pytest.mark.parametrize("seed", range(30))
def test_the_goal_is_reached_at_the_price_of_the_frontier(seed):
    """For every goal the same cost and coverage, or no plan on either way."""
    house = random_home(seed, 5)
    offered = book(generator(6.0, 3000.0), generator(9.0, 4500.0), generator(14.0, 6000.0))
    try:
        points = frontier(house, offered)
    except NoPlanError:
        assert cheapest_of(problems_of(house, offered), house, offered, 0.0) is None
        return
    goals = {0.0, 0.5, 0.9, 1.0, *(plan.coverage for plan in points.points)}
    for goal in sorted(goals):
        wanted = points.covering(goal)
        found = cheapest_of(problems_of(house, offered), house, offered, goal)
        assert (found is None) == (wanted is None)
        if found is not None:
            assert found.cost_usd == pytest.approx(wanted.cost_usd)
            assert found.coverage == pytest.approx(wanted.coverage, abs=2e-6)
