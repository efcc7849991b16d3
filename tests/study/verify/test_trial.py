"""A plan stands on a changed home exactly where it could be made there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import VerificationError
from planner.plan.menu import menu_of
from planner.plan.plan import Plan
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from planner.service.house import house_of
from planner.service.supply import supply_of
from planner.study.verify.trial import Stand, resolved, stand_of
from tests.homes import base, book, cheapest, events, generator, home, load, motor, random_home

DIRECT_ONLY = frozenset({"direct"})


def with_load(house, load_id, **changes):
    """Change one load of a home."""
    return replace(house, loads=tuple(replace(one, **changes) if one.id == load_id else one
                                      for one in house.loads))


def made_there(plan, house):
    """Make the plan on another home from scratch; None where that is refused."""
    arrays = house_of(house)
    menu = menu_of(arrays, plan.menu.book, plan.supply.generator, plan.menu.kind)
    supply = supply_of(arrays, plan.supply.generator, plan.menu.book)
    try:
        return Plan(menu, supply, plan.choice)
    except (VerificationError, ValueError):  # ValueError: no module suits, so it has no price
        return None


def plan_of(house, offered, connection, soft, order):
    """Plan a choice on the first size of a book."""
    return problems_of(house, offered)[0].plan(Choice(connection, soft, order))


def turns_plan():
    """A must-run pump behind a dryer in the order, and an air conditioner with a soft starter."""
    house = home(base(1.0), load("dryer", 4.0, use=events((7.0, 1.0))),
                 motor("pump", 2.0, 6.0, must_run=True, use=events((7.0, 0.5))),
                 motor("air", 2.0, 9.0, use=events((15.0, 2.0))))
    return plan_of(house, book(generator(10.0, 5000.0, short_time=3.0)),
                   (DIRECT, MODULE, MODULE, MODULE), (0, 0, 0, 1), (1, 2, 3))


CHANGES = {
    "nothing": ("base", {}, ""),
    "always too much": ("base", {"running_kw": 11.0, "running_kva": 11.0}, "running power"),
    "must-run late": ("dryer", {"running_kw": 8.0, "running_kva": 8.0}, "pump must run"),
    "soft starter too small": ("air", {"running_kva": 9.7, "starting_kva": 20.0},
                               "the soft starter does not fit: air"),
    "module too small": ("air", {"motor_hp": 5.5}, "no module of the price book fits: air"),
    "less coverage": ("air", {"running_kw": 9.5, "running_kva": 9.5, "starting_kva": 12.0}, ""),
}


@pytest.mark.parametrize("name", CHANGES)
def test_a_plan_is_refused_where_it_cannot_be_made(name):
    """Each reason is said, and coverage and cost are those of the plan made there."""
    load_id, changes, said = CHANGES[name]
    plan = turns_plan()
    changed = with_load(plan.menu.house.home, load_id, **changes)
    stand, there = stand_of(plan, changed), made_there(plan, changed)
    assert said in stand.refusal
    assert bool(said) == bool(stand.refusal) == (there is None)
    if there is not None:
        assert stand == Stand("", there.coverage, there.cost_usd)
    if name == "less coverage":
        assert stand.coverage < plan.coverage


def test_the_calculated_load_can_refuse():
    """What is always on draws little, but the code counts more than the set gives."""
    house = home(base(1.0), load("oven", 2.0, allowed=DIRECT_ONLY))
    plan = plan_of(house, book(generator(10.0, 5000.0)), (DIRECT, DIRECT), (0, 0), ())
    oven = house.load("oven")
    changed = with_load(house, "oven", code=replace(oven.code, va=40_000.0))
    assert "calculated load" in stand_of(plan, changed).refusal
    assert made_there(plan, changed) is None


@pytest.mark.parametrize("seed", range(8))
def test_any_plan_stands_where_it_could_be_made(seed):
    """For random homes with every draw and start a fifth up."""
    house = random_home(seed, 4)
    offered = book(generator(9.0, 4000.0), generator(20.0, 7000.0))
    changed = replace(house, loads=tuple(
        replace(one, running_kw=1.2 * one.running_kw, running_kva=1.2 * one.running_kva,
                starting_kva=1.2 * one.starting_kva) for one in house.loads))
    plan = cheapest(house, offered, 0.0)
    stand, there = stand_of(plan, changed), made_there(plan, changed)
    if there is None:
        assert stand.refusal
    else:
        assert stand == Stand("", there.coverage, there.cost_usd)


def test_what_the_plan_costs_bounds_what_is_looked_for():
    """The plan that is known to do is itself found again, and so is a cheaper one."""
    house = home(base(3.0))
    dear = book(generator(10.0, 10_000.0))
    plan = cheapest(house, dear, 0.9)
    assert resolved(house, dear, 0.9, stand_of(plan, house)).cost_usd == plan.cost_usd
    both = book(generator(5.0, 3000.0), generator(10.0, 10_000.0))
    assert resolved(house, both, 0.9, Stand("", 1.0, plan.cost_usd)).supply.generator.id == "set-5"


def test_a_plan_below_the_goal_bounds_nothing():
    """Its cost says nothing about what reaches the goal."""
    house = home(base(3.0), load("dryer", 5.0, use=events((18.0, 2.0))))
    offered = book(generator(5.0, 3000.0), generator(10.0, 10_000.0))
    found = resolved(house, offered, 0.9, Stand("", 0.0, 4000.0))
    assert found.supply.generator.id == "set-10"


def test_a_home_that_nothing_serves_gets_no_plan():
    """None, not an exception: it is an answer here."""
    house = home(base(40.0))
    assert resolved(house, book(generator(5.0, 3000.0)), 0.5, Stand("too much")) is None
