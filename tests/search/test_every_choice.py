"""On small homes with every corner of the rule the search finds what full enumeration finds.

Every connection, soft starter and order is played by the planner's own replay, so that the search
alone is held to account; the rule itself is held to a second one in `tests/oracle`.
"""

from __future__ import annotations

from itertools import combinations, permutations, product

import numpy as np
import pytest

from planner.plan.price import price_of
from planner.progress import unheard
from planner.search.cheapest import cheapest_of
from planner.search.limits import LEAST_GAIN, USUAL_LIMITS, SearchLimits
from planner.search.options import ways_of
from planner.search.orders import with_best_order
from planner.search.problem import problems_of
from planner.search.rising import Rising
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from planner.service.replay import Refusal, replay
from tests.oracle.wild import wild_book, wild_home

SAME = 1e-8
LOADS = 3


def is_firm_enough(house, connection):
    """Whether what is needed is connected as firmly, and no wish stands behind a direct load."""
    for i, k in np.argwhere(house.closure):
        if connection[i] == DIRECT and connection[k] != DIRECT:
            return False
        if connection[i] == MODULE and connection[k] not in (DIRECT, MODULE):
            return False
    return not any(connection[k] == DIRECT and connection[i] == MODULE
                   for i, k in np.argwhere(house.wished))


def orders_of(house, connection):
    """Every order of the module loads that keeps who stands before whom."""
    modules = [i for i, how in enumerate(connection) if how == MODULE]
    return [order for order in permutations(modules)
            if not any(house.before[later, first] for first, later in combinations(order, 2))]


def choices_of(problem):
    """Every connection with its soft starters, as a list of choices that differ in order."""
    house, menu = problem.house, problem.menu
    fitting = [np.flatnonzero(np.isfinite(row)).tolist() for row in menu.soft_cost]
    for connection in product(*(ways_of(problem, i) for i in range(house.count))):
        if is_firm_enough(house, connection):
            orders = orders_of(house, connection)
            for soft in product(*(fitting[i] if how in (DIRECT, MODULE) else [0]
                                  for i, how in enumerate(connection))):
                for sensing, kept_open in product(sensing_sets(menu, connection),
                                                  kept_open_sets(menu, connection)):
                    yield [Choice(connection, soft, order, sensing, kept_open)
                           for order in orders]


def sensing_sets(menu, connection):
    """Every set of modules that could be of the dearer kind that senses its call."""
    may = [i for i, how in enumerate(connection)
           if how == MODULE and menu.sensing_kind[i] is not None]
    return subsets(may)


def kept_open_sets(menu, connection):
    """Every set of loads that could be off by a module that stays open."""
    return subsets([i for i, how in enumerate(connection)
                    if how == OFF and menu.keep_cost[i] < np.inf])


def subsets(places):
    """Every set of some of these, none and all too."""
    return [frozenset(some) for size in range(len(places) + 1)
            for some in combinations(places, size)]


def most_of(problem, choices):
    """The most that any of some choices covers; -1 if none is a plan."""
    most = -1.0
    for choice in choices:
        played = replay(problem.house, problem.supply, choice)
        if not isinstance(played, Refusal) and not played.broken:
            most = max(most, played.coverage)
    return most


def truth_of(problems):
    """(cost, coverage) of all that covers `LEAST_GAIN` more than what is cheaper."""
    best = {}
    for problem in problems:
        for choices in choices_of(problem):
            price = price_of(problem.menu, choices[0]) if choices else None
            if price is not None and problem.passes_code(choices[0]):
                usd = round(price.usd, 6)
                best[usd] = max(best.get(usd, -1.0), most_of(problem, choices))
    points = []
    for usd in sorted(best):
        if best[usd] > -1.0 and (not points or best[usd] >= points[-1][1] + LEAST_GAIN - 1e-9):
            points.append((usd, best[usd]))
    return points


@pytest.mark.parametrize("limits", [USUAL_LIMITS, SearchLimits(probe=1)])
@pytest.mark.parametrize("seed", range(40))
def test_the_frontier_is_the_true_one(seed, limits):
    """Cost and coverage of every point are those of full enumeration; nothing is missing."""
    problems = problems_of(wild_home(seed, LOADS), wild_book(seed), limits)
    rising = Rising(limits)
    list(rising.run(problems, unheard))
    found = [(point.usd, point.coverage) for point in rising.points]
    assert not rising.opened
    np.testing.assert_allclose(np.array(found).reshape(-1, 2),
                               np.array(truth_of(problems)).reshape(-1, 2), rtol=0.0, atol=SAME)


@pytest.mark.parametrize("seed", range(60, 80))
def test_the_cheapest_for_a_goal_is_on_the_frontier(seed):
    """Every point's coverage as a goal leads to that point's cost; a higher one to the next."""
    home, book = wild_home(seed, LOADS), wild_book(seed)
    problems = problems_of(home, book)
    rising = Rising(USUAL_LIMITS)
    list(rising.run(problems, unheard))
    for point in rising.points:
        plan = cheapest_of(problems, home, book, point.coverage)
        assert plan is not None
        assert plan.cost_usd == pytest.approx(point.usd)
        assert plan.coverage >= point.coverage - SAME
    if rising.points:
        beyond = cheapest_of(problems, home, book, rising.points[-1].coverage + LEAST_GAIN)
        assert beyond is None or rising.points[-1].coverage + LEAST_GAIN <= beyond.coverage + SAME


@pytest.mark.parametrize("seed", range(80, 110))
def test_the_best_order_is_found(seed):
    """For given connections no order covers more, and there is one exactly where any is a plan."""
    problem = problems_of(wild_home(seed, LOADS + 1), wild_book(seed))[-1]
    for number, choices in enumerate(choices_of(problem)):
        if number % 7 or not choices:
            continue
        most = most_of(problem, choices)
        found = with_best_order(problem, choices[0])
        assert (found is not None) == (most > -1.0)
        if found is not None:
            assert most_of(problem, [found]) == pytest.approx(most, abs=SAME)
