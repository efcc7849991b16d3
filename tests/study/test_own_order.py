"""An order of one's own is played as it is, kept where it can be, and refused with the reason."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.plan.plan import Plan
from planner.search.frontier import frontier
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from planner.service.replay import replay
from planner.study.own_order import OwnOrder, as_wishes, in_own_order
from tests.homes import base, book, events, generator, home, load, random_home

BOOK = book(generator(5.0, 2000.0), generator(8.0, 3200.0), generator(24.0, 9000.0))
SEEDS = tuple(range(12))


@cache
def points(seed):
    """Frontier of a random home with up to four loads that take turns."""
    return frontier(random_home(seed, 4), BOOK).points


def turns(plan):
    """Ids of the loads of a plan that take turns, first priority first."""
    return tuple(plan.menu.house.ids[i] for i in plan.choice.order)


def outcomes(plan):
    """What becomes of every order of a plan."""
    return {ids: in_own_order(plan, ids) for ids in permutations(turns(plan))}


@pytest.mark.parametrize("seed", SEEDS)
def test_no_order_covers_more_than_the_one_that_was_found(seed):
    """Every order of every plan of a small home: none is better, and the found one is as found."""
    for plan in points(seed):
        found = outcomes(plan)
        as_found = found[turns(plan)].plan
        assert (as_found.choice, as_found.coverage) == (plan.choice, plan.coverage)
        assert max(one.plan.coverage for one in found.values() if one.plan) == pytest.approx(
            plan.coverage, abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_an_order_covers_what_the_replay_says(seed):
    """Same equipment, price and bound; the coverage is that of the replay in that order."""
    for plan in points(seed):
        for ids, own in outcomes(plan).items():
            assert (own.plan is None) == (own.refusal != "")
            if own.plan is None:
                continue
            assert turns(own.plan) == ids
            assert replace(own.plan.choice, order=plan.choice.order) == plan.choice
            assert (own.plan.cost_usd, own.plan.bound) == (plan.cost_usd, plan.bound)
            choice = Choice(plan.choice.connection, plan.choice.soft_start,
                            tuple(plan.menu.house.index(load_id) for load_id in ids))
            assert own.plan.coverage == replay(plan.menu.house, plan.supply, choice).coverage


def test_the_small_homes_above_have_orders_worse_and_refused():
    """Some order of theirs covers less, and some is refused: the tests above are about both."""
    plans = [plan for seed in SEEDS for plan in points(seed)]
    found = [(plan, own) for plan in plans for own in outcomes(plan).values()]
    assert any(own.plan and own.plan.coverage < plan.coverage - 0.01 for plan, own in found)
    assert any(own.plan is None for _, own in found)
    assert any(len(turns(plan)) >= 3 for plan in plans)


LOADS = (load("dryer", 4.0, label="Clothes dryer", importance=2, use=events((18.0, 1.0))),
         load("oven", 4.0, label="Oven", importance=4, use=events((18.0, 1.0))),
         load("spa", 4.0, label="Hot tub", importance=1, use=events((20.0, 1.0))))


def three_turns(**changes):
    """A 6 kW generator for a base of 1 kW and three loads of 4 kW that take turns."""
    loads = tuple(replace(one, **changes.pop(one.id, {})) for one in LOADS)
    problem = problems_of(home(base(1.0), *loads, **changes), book(generator(6.0, 3000.0)))[0]
    order = changes.get("never_before", ()) and (1, 2, 3)
    return problem.plan(Choice((DIRECT, MODULE, MODULE, MODULE), (0,) * 4, order or (2, 1, 3)))


def test_an_order_by_hand():
    """The oven ahead: the dryer misses its hour, 5 of 7 are covered; behind, the oven: 3 of 7."""
    plan = three_turns()
    assert plan.coverage == pytest.approx(5.0 / 7.0)
    own = in_own_order(plan, ["dryer", "oven", "spa"])
    assert own.plan.coverage == pytest.approx(3.0 / 7.0)
    assert own.refusal == ""
    assert in_own_order(plan, ("spa", "oven", "dryer")).plan.coverage == pytest.approx(5.0 / 7.0)


def test_a_wish_about_the_order_is_named():
    """The dryer is wished ahead of the oven: the other way round is refused by both labels."""
    plan = three_turns(never_before=(("oven", "dryer"),))
    for ids in (("oven", "dryer", "spa"), ("spa", "oven", "dryer"), ("oven", "spa", "dryer")):
        assert in_own_order(plan, ids) == OwnOrder(
            None, "Clothes dryer has to stand ahead of Oven: the wishes say so.")
    assert in_own_order(plan, ("spa", "dryer", "oven")).plan is not None


def test_the_order_by_importance_is_a_wish_too():
    """The oven matters more than the dryer, and the dryer more than the hot tub."""
    plan = three_turns(order_rule="importance")
    assert in_own_order(plan, ("oven", "dryer", "spa")).plan is not None
    assert in_own_order(plan, ("dryer", "oven", "spa")).refusal == (
        "Oven has to stand ahead of Clothes dryer: the wishes say so.")


def test_a_must_run_load_that_would_wait_is_named():
    """Behind the oven the dryer, which must run, misses its hour."""
    problem = problems_of(home(base(1.0), replace(LOADS[0], must_run=True), *LOADS[1:]),
                          book(generator(6.0, 3000.0)))[0]
    plan = problem.plan(Choice((DIRECT, MODULE, MODULE, MODULE), (0,) * 4, (1, 2, 3)))
    assert in_own_order(plan, ("oven", "dryer", "spa")) == OwnOrder(
        None, "Clothes dryer must run, but would wait or miss a call on day.")


@pytest.mark.parametrize("ids", [(), ("dryer", "oven"), ("dryer", "oven", "base"),
                                 ("dryer", "oven", "spa", "spa"), ("dryer", "oven", "boat")])
def test_an_order_of_other_loads_is_a_mistake(ids):
    """Exactly the loads that take turns stand in an order, each once."""
    plan = three_turns()
    with pytest.raises(ValueError, match=r"order|tuple|not in"):
        in_own_order(plan, ids)


@given(st.permutations(["dryer", "oven", "spa"]))
@settings(max_examples=20)
def test_an_order_as_wishes_leaves_that_order_only(ids):
    """A home with these wishes accepts this order and refuses all others."""
    wishes = as_wishes(ids)
    house = home(base(1.0), *LOADS, never_before=wishes)
    problem = problems_of(house, book(generator(6.0, 3000.0)))[0]
    order = tuple(problem.house.index(load_id) for load_id in ids)
    plan = problem.plan(Choice((DIRECT, MODULE, MODULE, MODULE), (0,) * 4, order))
    assert isinstance(plan, Plan)
    possible = [own for own, found in outcomes(plan).items() if found.plan]
    assert possible == [tuple(ids)]


def test_an_order_of_one_or_none_needs_no_wish():
    """Nothing is ahead of anything; of two the second is never before the first."""
    assert as_wishes([]) == as_wishes(["oven"]) == ()
    assert as_wishes(["oven", "dryer"]) == (("dryer", "oven"),)
