"""What a size can do at any price: exactly what the whole frontier says it can, without prices."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import planner
from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.plan.price import price_of
from planner.progress import unheard
from planner.search.cheapest import NONE_AT_ALL, cheapest_of
from planner.search.frontier import plans_of
from planner.search.limits import LEAST_GAIN
from planner.search.problem import problems_of, sized
from planner.service.choice import BY_HAND, DIRECT, MODULE
from planner.study import reaching
from planner.study.any_price import asked, at_any_price, choice_reaching, least_usd, reach_of
from planner.study.quick import quick_problems
from planner.study.reaching import Asking, cheapest_reaching, covering_most, look_for_reaching
from planner.tolerances import reaches
from tests.homes import base, book, events, generator, home, load, motor, task
from tests.oracle.wild import wild_book, wild_home

CASES = Path(planner.__file__).parents[1] / "cases"
MORE = 1e-6  # of coverage


def offered():
    """Three sizes, of which the smallest is short of nearly everything."""
    return book(generator(5.0, 2500.0), generator(9.0, 4000.0), generator(16.0, 6000.0))


def wild(seed):
    """A wild home of 2 to 4 loads besides its base, each of its problems by itself."""
    house, prices = wild_home(seed, (3, 4, 3, 2)[seed % 4]), wild_book(seed)
    if seed % 5 == 0:  # a controller for two modules alone
        prices = replace(prices, controllers=prices.controllers[:1])
    return house, prices, [(problem,) for problem in problems_of(house, prices)]


@pytest.mark.parametrize("seed", range(150))
def test_it_reaches_exactly_what_some_plan_reaches(seed):
    """It says yes where the search by price finds a plan, and no where that proves there is none.

    At goals up and down, and at the most that the size covers and just above it.
    """
    house, prices, sizes = wild(seed)
    for mine in sizes:
        plans = plans_of(list(mine))
        most = plans[-1].coverage if plans else 0.0
        for goal in (0.0, 0.4, 0.8, 0.97, 1.0, most, most + MORE):
            usual = cheapest_of(mine, house, prices, goal)
            assert reach_of(mine, goal) == (usual is not None), (mine[0].menu.generator.id, goal)


def test_both_answers_occur():
    """Of the questions above some have the answer yes and some no, at every goal but the least."""
    answers = {goal: {reach_of(mine, goal) for seed in range(12) for mine in wild(seed)[2]}
               for goal in (0.4, 0.8, 0.97, 1.0)}
    assert all(found == {True, False} for found in answers.values())


@pytest.mark.parametrize("seed", range(40))
def test_what_it_finds_can_be_built_and_reaches_it(seed):
    """The choice that it gives is a plan of the problem as it is, prices, blind modules and all."""
    for mine in wild(seed)[2]:
        reaching = choice_reaching(mine, 0.4)
        if reaching is not None:
            own, choice = reaching
            assert own is mine[0]
            assert own.plan(choice).coverage >= 0.4 - 1e-9


def test_of_several_problems_it_names_the_one():
    """The choice belongs to the size that is large enough, and not to the first of the list."""
    house = home(base(0.5), load("heater", 10.0))
    problems = problems_of(house, offered())
    own, choice = choice_reaching(problems, 1.0)
    assert own.menu.generator.id == "set-16"
    assert own in problems
    assert own.plan(choice).coverage == 1.0


@pytest.mark.parametrize("seed", range(60))
def test_what_covers_most_is_the_dearest_of_the_frontier(seed):
    """It covers as much as the last plan of the size's frontier, but for what nobody notices.

    It costs no more than that.
    """
    for mine in wild(seed)[2]:
        plans, most = plans_of(list(mine)), covering_most(mine)
        assert (most is None) == (not plans)
        if most is not None:
            assert abs(most.coverage - plans[-1].coverage) < LEAST_GAIN
            assert most.cost_usd <= plans[-1].cost_usd + 1e-6


def test_what_covers_most_is_a_plan_even_where_patience_ends(monkeypatch):
    """A size that has a plan is said to have one, also if nothing cheaper could be looked for."""
    monkeypatch.setattr(reaching, "cheapest_reaching", lambda *_: None)
    for mine in wild(7)[2]:
        plans, most = plans_of(list(mine)), covering_most(mine)
        assert (most is None) == (not plans)
        assert most is None or most.coverage >= plans[-1].coverage - 1e-9


@pytest.mark.parametrize("seed", range(40))
def test_the_cheapest_is_the_cheapest(seed):
    """It is as cheap as that of the search by price, and there is none where that has none.

    Nor is there one that is cheaper than it.
    """
    house, prices, sizes = wild(seed)
    for mine in sizes:
        for goal in (0.0, 0.8, 1.0):
            usual = cheapest_of(mine, house, prices, goal)
            found = cheapest_reaching(mine, goal)
            assert (found is None) == (usual is None)
            if found is not None and usual is not None:
                assert found.cost_usd == pytest.approx(usual.cost_usd)
                assert cheapest_reaching(mine, goal, below_usd=found.cost_usd) is None


def test_a_size_of_which_it_is_not_known_is_searched(monkeypatch):
    """Where no answer at any price is found in time, the cheapest is found by price, and proven."""
    house, prices, _ = wild(6)
    problems = problems_of(house, prices)
    usual = look_for_reaching(problems, 0.5)
    assert usual.plan is not None
    assert usual.proven
    monkeypatch.setattr(reaching, "asked", lambda *_: (None, False))
    found = look_for_reaching(problems, 0.5)
    assert found.plan is not None
    assert (found.plan.cost_usd, found.proven) == (usual.plan.cost_usd, True)
    monkeypatch.setattr(reaching, "asked", lambda *_: (None, True))
    assert look_for_reaching(problems, 0.5) == NONE_AT_ALL


def test_nothing_costs_anything():
    """Neither the machine nor what is connected to it."""
    for (problem,) in wild(3)[2]:
        free = at_any_price(problem)
        found = choice_reaching([problem], 0.0)
        if found is not None:
            assert price_of(problem.menu, found[1]).usd > 0.0
        for usd in (free.menu.module_cost, free.menu.off_cost, free.menu.keep_cost,
                    free.menu.soft_cost):
            assert (usd[np.isfinite(usd)] == 0.0).all()
        assert free.menu.base + free.menu.transfer_usd(0) + free.menu.controller_usd(1) == 0.0


def test_a_load_that_may_take_turns_is_not_tried_as_direct():
    """A module does all that it does; one that may not take turns stays as it is."""
    house = home(base(0.5), task("range", 3.0, (18.0, 1.0)),
                 load("oven", 2.0, allowed=frozenset({"direct"}), use=events((17.0, 1.0))))
    (problem,) = sized(house, offered(), "set-16")
    allowed = at_any_price(problem).menu.allowed
    place = {one: i for i, one in enumerate(problem.house.ids)}
    assert allowed[place["range"], [DIRECT, MODULE]].tolist() == [False, True]
    assert allowed[place["oven"], [DIRECT, MODULE]].tolist() == [True, False]


def test_what_a_direct_load_needs_may_be_direct():
    """A load that can only be direct needs another one, which then has to be direct too."""
    house = home(base(0.5), load("blower", 0.5),
                 motor("air", 2.0, 6.0, requires=("blower",), allowed=frozenset({"direct"})))
    (problem,) = sized(house, offered(), "set-16")
    assert at_any_price(problem).menu.allowed[problem.house.index("blower"), DIRECT]
    assert reach_of([problem], 1.0)


def test_a_load_that_must_stand_ahead_of_a_direct_one_may_be_direct():
    """A direct load counts as ahead of all modules, so what is ahead of it has to be direct too."""
    house = home(base(0.5), load("first", 0.5),
                 load("second", 0.5, allowed=frozenset({"direct"})),
                 never_before=(("second", "first"),))
    (problem,) = sized(house, offered(), "set-16")
    assert at_any_price(problem).menu.allowed[problem.house.index("first"), DIRECT]
    assert reach_of([problem], 1.0)


def test_what_nobody_asks_for_is_off():
    """It serves nobody, so it is neither connected nor left to be opened by hand."""
    house = home(base(0.5), load("lamp", 1.0, importance=0,
                                 allowed=frozenset({"direct", "module", "off"})),
                 task("range", 3.0, (18.0, 1.0)))
    (problem,) = sized(house, offered(), "set-16")
    lamp = problem.house.index("lamp")
    assert problem.menu.allowed[lamp, BY_HAND]
    assert at_any_price(problem).menu.allowed[lamp].tolist() == [True, False, False, False]


def test_what_is_told_of_several_ways_is_what_each_says_by_itself():
    """The farmhouse's sizes with their wires and tanks: asked in turn and one by one, the same.

    What does for one is tried on the next, and a way that limits more than another is not searched.
    """
    one = read_home(CASES / "rural_propane_well.toml")[0]
    offered = read_book(CASES / "demo_price_book.toml")[0]
    problems = sorted(quick_problems(one, offered), key=least_usd)[:40]
    asking, told = Asking(problems, 0.97, unheard), set()
    for problem in problems:
        found, proven = asking.reaching(problem)
        alone, sure = asked([problem], 0.97)
        assert (found is None) == (alone is None)
        assert not (proven and not sure)
        told.add(found is None)
        if found is not None:
            assert found[0] is problem
            assert reaches(problem.coverage(found[1]), 0.97)
    assert told == {True, False}
