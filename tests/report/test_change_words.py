"""What changes from one plan to another is said fully, plainly, and only where it changes."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations

import pytest

from planner.facts.price_book import Transfer
from planner.report.change_words import change_sentences
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from tests.homes import ALL, base, events, home, load, motor
from tests.report.plans import book, generator

HOUSE = home(
    base(1.0),
    load("dryer", 5.0, label="Clothes dryer", importance=2, wait_h=1.0, allowed=ALL, nature="task",
         use=events((7.0, 1.0), (18.0, 1.0))),
    motor("air", 3.0, 8.0, label="Air conditioner", importance=5, wait_h=1.0, allowed=ALL,
          nature="task", use=events((8.0, 2.0), (18.0, 0.5))),
    load("pool", 0.5, label="Pool pump", importance=1, allowed=ALL, use=events((0.0, 4.0))),
)
BOOK = book(generator(6.0, 3000.0), generator(14.0, 5000.0))


def plan_of(*connection, soft=0, order=None, size=0, house=HOUSE, offered=BOOK):
    """Plan the home with the connections of dryer, air and pool."""
    turns = [i for i, how in enumerate(connection, start=1) if how == MODULE]
    problem = problems_of(house, offered)[size]
    return problem.plan(Choice((DIRECT, *connection), (0, 0, soft, 0),
                               tuple(order if order is not None else turns)))


def test_the_same_plan_changes_nothing():
    """Neither do two plans that differ in what is known of them only."""
    plan = plan_of(MODULE, MODULE, DIRECT)
    assert change_sentences(plan, replace(plan, bound=1.0)) == ("Nothing changes.",)


def test_a_load_left_out_is_said_with_its_comfort():
    """A module (250 USD) and 160 USD of controller less, a relocation (180 USD) more."""
    before, after = plan_of(MODULE, MODULE, MODULE), plan_of(MODULE, MODULE, OFF)
    assert change_sentences(before, after) == (
        "It costs 230 USD less, 4,680 USD in all.",
        "pool: without power instead of as always on day.",
        "Pool pump is no longer on standby power.")


def test_a_load_taken_in_is_said_with_its_comfort():
    """From not on standby power to always on: all that it asks for."""
    before, after = plan_of(MODULE, MODULE, OFF), plan_of(MODULE, MODULE, DIRECT)
    assert change_sentences(before, after) == (
        "It costs 180 USD less, 4,500 USD in all.",
        "pool: as always instead of without power on day.",
        "Pool pump is always on instead of not being on standby power.")


def test_turns_instead_of_always_on_with_their_wait():
    """Air behind the dryer: at 18:00 both call, and the half hour of air waits an hour."""
    before = plan_of(MODULE, DIRECT, DIRECT, size=1)
    after = plan_of(MODULE, MODULE, DIRECT, size=0)
    assert change_sentences(before, after) == (
        "It costs 1,750 USD less, 4,500 USD in all.",
        "The generator is the 6 kW generator instead of the 14 kW generator.",
        "Air conditioner takes turns instead of being always on, and waits up to 1 h.")


def test_another_order_says_who_waits_now():
    """The wait goes over from the air to the dryer; what matters more comes first."""
    before, after = (plan_of(MODULE, MODULE, DIRECT, order=order) for order in ((1, 2), (2, 1)))
    assert change_sentences(before, after) == (
        "It costs the same.",
        "Air conditioner no longer waits.",
        "Clothes dryer waits up to 30 min.",
        "The order in which loads take turns changes.")
    assert change_sentences(after, before)[1:3] == (
        "Air conditioner waits up to 1 h.", "Clothes dryer no longer waits.")


def test_an_order_without_effect_is_still_a_change():
    """Pump and air never meet, so only their order is another."""
    before, after = (plan_of(DIRECT, MODULE, MODULE, order=order, size=1)
                     for order in ((2, 3), (3, 2)))
    assert change_sentences(before, after) == (
        "It costs the same.", "The order in which loads take turns changes.")


@pytest.mark.parametrize(("before", "after", "how"), [
    (0, 1, "through a soft starter"), (1, 0, "without a soft starter"),
    (1, 2, "through another soft starter")])
def test_a_soft_starter_is_named_where_it_comes_or_goes(before, after, how):
    """It is said of the load that starts through it."""
    two = book(generator(14.0, 5000.0), soft_starters=(
        *BOOK.soft_starters, replace(BOOK.soft_starters[0], id="other", price=400.0)))
    plans = [plan_of(MODULE, MODULE, DIRECT, soft=soft, offered=two) for soft in (before, after)]
    assert change_sentences(*plans)[1:] == (f"Air conditioner starts {how}.",)


def test_what_is_lost_is_said_of_the_comfort_and_not_as_hours_of_the_load():
    """A dryer that cannot wait loses the evening's load to the air."""
    hasty = replace(HOUSE, loads=tuple(
        replace(one, wait_h=0.0) if one.id == "dryer" else one for one in HOUSE.loads))
    before, after = (plan_of(MODULE, MODULE, DIRECT, order=order, house=hasty)
                     for order in ((1, 2), (2, 1)))
    assert change_sentences(before, after)[1:3] == (
        "dryer: 1 of 2 done instead of all done on day.", "Air conditioner no longer waits.")


def test_loads_that_change_alike_share_a_sentence():
    """The most important of them gives the sentence its place."""
    before, after = (plan_of(how, MODULE, how, size=1) for how in (DIRECT, OFF))
    assert change_sentences(before, after)[-1:] == (
        "Clothes dryer and Pool pump are no longer on standby power.",)
    assert change_sentences(plan_of(DIRECT, MODULE, DIRECT, size=1),
                            plan_of(MODULE, MODULE, MODULE, size=1))[1:] == (
        "Clothes dryer and Pool pump take turns instead of being always on.",)


def test_importance_decides_who_is_named_first():
    """Whatever the order of the file; of the comforts the one that changes most."""
    for ranks in permutations((1, 3, 5)):
        ranked = replace(HOUSE, loads=(HOUSE.loads[0], *(
            replace(one, importance=rank)
            for one, rank in zip(HOUSE.loads[1:], ranks, strict=True))))
        lines = change_sentences(plan_of(OFF, OFF, OFF, house=ranked, size=1),
                                 plan_of(DIRECT, DIRECT, DIRECT, house=ranked, size=1))
        named = dict(zip(ranks, ("Clothes dryer", "Air conditioner", "Pool pump"), strict=True))
        assert lines[-1] == (f"{named[5]}, {named[3]}, and {named[1]} are always on instead of not "
                             "being on standby power.")


def test_what_must_run_is_named_before_every_wish():
    """Whatever importance it was given: it does not count by importance."""
    house = replace(HOUSE, loads=tuple(
        replace(one, must_run=True, importance=0) if one.id == "dryer" else one
        for one in HOUSE.loads))
    lines = change_sentences(plan_of(DIRECT, DIRECT, DIRECT, house=house, size=1),
                             plan_of(MODULE, OFF, DIRECT, house=house, size=1))
    assert lines[-2:] == ("Clothes dryer takes turns instead of being always on.",
                          "Air conditioner is no longer on standby power.")


def test_another_kind_of_transfer_is_said():
    """It explains a price that the loads alone do not."""
    both = book(generator(14.0, 5000.0), transfers=(
        *BOOK.transfers, Transfer("some", "panel", "selected-circuits", 200.0, 8, 400.0, 200.0)))
    house = replace(HOUSE, transfer_kinds=frozenset({"whole-house", "selected-circuits"}))
    some, whole = (plan_of(DIRECT, DIRECT, DIRECT, house=house, offered=both, size=size)
                   for size in (0, 1))
    assert change_sentences(some, whole) == (
        "It costs 300 USD more, 5,900 USD in all.",
        "The whole house is transferred instead of selected circuits.")
    assert change_sentences(whole, some) == (
        "It costs 300 USD less, 5,600 USD in all.",
        "Selected circuits are transferred instead of the whole house.")


def test_two_sets_of_one_label_are_told_apart():
    """Their ids follow, or the sentence would say that nothing changes."""
    twins = book(generator(14.0, 5000.0, label="set", id="a"),
                 generator(14.0, 5200.0, label="set", id="b"))
    plans = [plan_of(MODULE, MODULE, DIRECT, offered=twins, size=size) for size in (0, 1)]
    assert change_sentences(*plans) == ("It costs 200 USD more, 6,700 USD in all.",
                                        "The generator is the set (b) instead of the set (a).")


def test_plans_of_other_loads_cannot_be_compared():
    """A load that the other plan does not know is refused, not passed over."""
    plan = plan_of(MODULE, MODULE, DIRECT)
    alone = problems_of(home(base(1.0)), BOOK)[0].plan(Choice((DIRECT,), (0,), ()))
    with pytest.raises(KeyError, match="dryer"):
        change_sentences(plan, alone)
