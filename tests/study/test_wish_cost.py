"""What a wish costs is what planning again without it, or with it, says."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import NoPlanError
from planner.search.cheapest import cheapest_of
from planner.search.frontier import frontier, frontier_of
from planner.search.problem import problems_of, sized
from planner.study.why_smaller.remedies import remedies_of
from planner.study.wish_cost import cost_of_wish, wish_costs
from planner.study.wishes import wishes_of
from tests.homes import base, book, cheapest, events, generator, home, motor, random_home, task

GOAL = 0.9


@pytest.fixture(scope="module")
def offered():
    """Four sizes."""
    return book(generator(6.0, 3000.0), generator(8.0, 4000.0), generator(12.0, 6000.0),
                generator(24.0, 9000.0))


@pytest.fixture(scope="module")
def evening():
    """A must-run pump, and three comforts that all want to run in the evening."""
    return home(base(0.5), motor("pump", 1.0, 4.0, must_run=True, use=events((18.0, 0.5))),
                task("range", 5.0, (18.0, 1.0), importance=4),
                task("dryer", 4.5, (18.0, 1.0), importance=2, wait_h=2.0),
                task("heater", 4.0, (17.5, 1.0), importance=3, wait_h=1.0),
                never_before=(("dryer", "heater"),))


@pytest.fixture(scope="module")
def costs(evening, offered):
    """All wishes of the evening home."""
    return wish_costs(evening, offered, cheapest(evening, offered, GOAL), GOAL)


def weight_of(one):
    """Importance of what coverage counts: the pump runs for too short to count."""
    return sum(comfort.importance for comfort in one.comforts if comfort.id != "pump")


def test_every_wish_is_asked_about_once_each_way(costs):
    """Given up: the must-run, each comfort, the pair; added: promises, must-runs, the order."""
    asked = sorted((one.wish.kind, one.direction, one.wish.load_ids) for one in costs)
    assert asked == sorted([
        ("must-run", "give up", ("pump",)),
        *(("comfort", "give up", (one,)) for one in ("pump", "range", "dryer", "heater")),
        *(("must-run", "add", (one,)) for one in ("range", "dryer", "heater")),
        *(("promise", "add", (one,)) for one in ("range", "dryer", "heater")),
        ("never-before", "give up", ("dryer", "heater")), ("order", "add", ()),
    ])


def test_costs_are_those_of_planning_again(costs, evening, offered):
    """Each price is that of the cheapest plan of the changed home that misses no more."""
    now = cheapest_of(problems_of(evening, offered), evening, offered, GOAL)
    missed = (1.0 - GOAL) * weight_of(evening)
    for one in costs:
        left = weight_of(one.home)
        goal = max(0.0, 1.0 - missed / left)
        assert one.goal == pytest.approx(goal)
        then = cheapest_of(problems_of(one.home, offered), one.home, offered, goal)
        assert (then is None) == (one.plan is None)
        if then is not None:
            assert one.plan.cost_usd == pytest.approx(then.cost_usd)
            sign = 1.0 if one.direction == "add" else -1.0
            assert one.price_usd == pytest.approx(sign * (then.cost_usd - now.cost_usd))
            assert one.size_kw == pytest.approx(
                sign * (one.plan.supply.derated_kw - now.supply.derated_kw))


@pytest.mark.parametrize("seed", range(12))
def test_giving_up_never_costs_more_and_adding_never_less(seed):
    """Whatever home, goal and wish: a family that asks for less does not pay more."""
    one = random_home(seed, 4)
    sizes = book(generator(4.0, 1500.0), generator(7.0, 2100.0), generator(11.0, 3000.0))
    try:
        points = frontier(one, sizes).points
    except NoPlanError:
        return
    for plan in points:
        for cost in wish_costs(one, sizes, plan, plan.coverage):
            if cost.plan is None:
                assert cost.direction == "add"
            else:
                assert cost.price_usd >= -1e-6, (cost.wish, cost.direction)


def test_the_changed_homes_differ_by_their_wish_only(costs, evening):
    """Loads and comforts that are not asked about stay as they are."""
    for one in costs:
        others = [load.id for load in evening.loads if load.id not in one.wish.load_ids]
        assert [one.home.load(name) for name in others] == [evening.load(name) for name in others]
        assert [c for c in one.home.comforts if c.id != one.wish.comfort] == [
            c for c in evening.comforts if c.id != one.wish.comfort]
        assert one.home != evening


def test_some_wishes_cost_something_and_some_nothing(costs):
    """Otherwise this home would show nothing; the dearest stands first."""
    prices = [one.price_usd for one in costs if one.price_usd is not None]
    assert prices == sorted(prices, reverse=True)
    assert prices[0] > 0.0
    assert 0.0 in prices


def test_what_cannot_be_had_stands_last_and_has_no_price(evening):
    """With one size only, a wish that it cannot meet is said to be impossible."""
    single = book(generator(8.0, 4000.0))
    goal = cheapest(evening, single, 0.5).coverage
    found = wish_costs(evening, single, cheapest(evening, single, goal), goal)
    impossible = [one for one in found if one.plan is None]
    assert impossible
    assert found[-len(impossible):] == tuple(impossible)
    assert {one.price_usd for one in impossible} == {None}


def test_at_a_fixed_size_only_that_size_is_planned(evening, offered):
    """The price changes by modules and starters, never by the machine."""
    plan = frontier_of(sized(evening, offered, "set-12"), evening, offered).covering(GOAL)
    found = cost_of_wish(evening, offered, plan, GOAL, "range", "set-12")
    assert {(one.wish.kind, one.direction) for one in found} == {
        ("comfort", "give up"), ("must-run", "add"), ("promise", "add")}
    for one in found:
        again = cheapest_of(sized(one.home, offered, "set-12"), one.home, offered, one.goal)
        assert one.plan.supply.generator.id == "set-12"
        assert one.plan.cost_usd == pytest.approx(again.cost_usd)


def test_the_other_rule_is_given_up_where_it_is_the_home_s(evening, offered):
    """A home that asks for the order by importance is told what that costs."""
    ruled = replace(evening, never_before=(), order_rule="importance")
    found = wish_costs(ruled, offered, cheapest(ruled, offered, 0.5), 0.5)
    order = next(one for one in found if one.wish.kind == "order")
    assert order.direction == "give up"
    assert order.home.order_rule == "free"
    assert order.price_usd is not None
    assert order.price_usd >= 0.0


def test_nobody_is_told_what_giving_up_medical_equipment_would_save(evening, offered):
    """It may be made a must-run; that it is done without is neither priced nor proposed."""
    loads = tuple(replace(one, kind="medical equipment") if one.id in {"pump", "range"} else one
                  for one in evening.loads)
    house = replace(evening, loads=loads)
    found = wish_costs(house, offered, cheapest(house, offered, GOAL), GOAL)
    about = {(one.wish.load_ids, one.direction) for one in found}
    assert (("range",), "add") in about
    assert not about & {(("range",), "give up"), (("pump",), "give up")}
    proposed = {load_id for one in remedies_of(house, offered, "set-8", GOAL, wishes_of(house),
                                               ["range"]) for load_id in one.load_ids}
    assert proposed
    assert not proposed & {"range", "pump"}
