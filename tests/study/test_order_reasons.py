"""What is said about the order is what playing another order shows."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.report.order_words import order_sentences
from planner.service.replay import replay
from planner.study.order_reasons import order_reasons
from tests.homes import base, book, cheapest, events, generator, home, load, task

GOAL = 0.6


@pytest.fixture(scope="module")
def offered():
    """One size, so that all must share it."""
    return book(generator(7.0, 3000.0))


@pytest.fixture(scope="module")
def supper():
    """A range that cannot wait, a heater that catches up, a dryer that may not go first."""
    return home(base(0.5), task("range", 5.0, (18.0, 1.0), importance=3),
                task("heater", 4.5, (18.0, 1.0), importance=5, wait_h=2.0),
                task("dryer", 4.0, (19.0, 0.5), importance=1, wait_h=0.5),
                never_before=(("dryer", "heater"),))


@pytest.fixture(scope="module")
def explained(supper, offered):
    """The plan and the reasons of its order."""
    plan = cheapest(supper, offered, GOAL)
    return plan, order_reasons(supper, offered, plan, GOAL)


def test_swaps_are_those_of_the_replay(explained):
    """Service and coverage of a swap are those of the order with two neighbours exchanged."""
    plan, reasons = explained
    order = list(plan.choice.order)
    assert len(reasons.swaps) == len(order) - 1 > 0
    for place, swap in enumerate(reasons.swaps):
        if swap.kind == "wish":
            continue
        other = [*order[:place], order[place + 1], order[place], *order[place + 2:]]
        then = replay(plan.menu.house, plan.supply, replace(plan.choice, order=tuple(other)))
        assert swap.coverage_then == pytest.approx(then.coverage)
        assert swap.load_then == pytest.approx(then.service[order[place]])
        assert swap.behind_then == pytest.approx(then.service[order[place + 1]])


def test_a_load_that_cannot_wait_is_said_to_go_first_for_that(explained, supper):
    """The range goes ahead of what matters more, because behind it supper is not made."""
    plan, reasons = explained
    said = order_sentences(plan, reasons, GOAL)
    assert said[0] == (
        "range goes ahead of heater. The other way round: range: not done instead of all done on "
        "day; dryer: all done instead of not done on day; 66.6 % instead of 88.8 % would be kept.")
    assert supper.load("heater").importance > supper.load("range").importance


def test_a_wish_about_the_order_is_named_as_the_reason(explained):
    """Where the family asked for it, nothing else is given as a reason."""
    plan, reasons = explained
    assert [swap.kind for swap in reasons.swaps] == ["covers-less", "wish"]
    assert order_sentences(plan, reasons, GOAL)[1] == (
        "heater goes ahead of dryer because you asked for it.")


def test_the_other_rule_is_planned_and_not_guessed(explained, supper, offered):
    """By importance the heater takes the evening from the range, and coverage falls by that."""
    plan, reasons = explained
    ruled = replace(supper, order_rule="importance")
    assert reasons.other.by_importance
    assert reasons.other.same_equipment < plan.coverage
    assert reasons.other.plan.cost_usd == pytest.approx(cheapest(ruled, offered, GOAL).cost_usd)
    said = order_sentences(plan, reasons, GOAL)[-1]
    assert said.startswith("With priorities strictly in order of importance the same equipment")


def test_an_order_that_makes_no_difference_is_said_to_make_none(offered):
    """Loads that never meet could change places."""
    house = home(base(0.5), load("early", 6.0, use=events((6.0, 1.0))),
                 load("late", 6.0, use=events((20.0, 1.0))),
                 code=replace(home().code, small_appliance_circuits=0, laundry_circuits=0))
    plan = cheapest(house, offered, 1.0)
    reasons = order_reasons(house, offered, plan, 1.0)
    assert [swap.kind for swap in reasons.swaps] == ["alike"]
    assert "just as well" in order_sentences(plan, reasons, 1.0)[0]


def test_one_turn_needs_no_order(offered):
    """A single load that takes turns is not compared with anything."""
    house = home(base(3.0), load("oven", 3.5, use=events((18.0, 1.0)),
                                 allowed=frozenset({"module"})))
    plan = cheapest(house, offered, 1.0)
    reasons = order_reasons(house, offered, plan, 1.0)
    assert (reasons.swaps, reasons.other) == ((), None)
    assert order_sentences(plan, reasons, 1.0) == (
        "Only oven takes turns: it runs whenever there is room beside what is always on; oven: as "
        "always.",)
