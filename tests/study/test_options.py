"""What is put before a family: the plan for the goal, a cheaper one, everything, two references."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.comfort import Promise
from planner.search.frontier import frontier
from planner.study.comfort_changes import comfort_changes
from planner.study.options import options
from planner.study.reference import sheds_nothing
from planner.study.why_smaller.conflict import conflict_of
from planner.study.why_smaller.limits import binding_of
from tests.homes import base, book, cheapest, generator, home, load, room, task

OFFERED = book(generator(6.0, 3000.0), generator(8.0, 5000.0), generator(13.0, 8000.0),
               generator(24.0, 11_000.0, cooling="liquid"))


def promised(house, **promises):
    """The same home with promises about its comforts."""
    return replace(house, comforts=tuple(
        replace(one, promise=promises.get(one.id)) for one in house.comforts))


@pytest.fixture(scope="module")
def supper():
    """A range of 6.5 kW that is promised never to be cut, and a dryer at the same hour."""
    return promised(home(base(1.0), task("range", 6.5, (18.0, 1.0), importance=4),
                         task("dryer", 4.0, (18.0, 1.0), importance=1)),
                    range=Promise(uncut=True))


def test_the_cheaper_one_names_what_is_given_up(supper):
    """Only without the promise of supper a set of 6 kW will do; the price is a tenth less."""
    found = options(supper, OFFERED, 0.7, none_starved=False)
    recommended, cheaper = found.named("recommended"), found.named("cheaper")
    assert recommended.plan.supply.generator.id == "set-8"
    assert found.reaches_goal
    assert cheaper.plan.supply.generator.id == "set-6"
    assert cheaper.plan.cost_usd <= 0.9 * recommended.plan.cost_usd
    assert [(wish.kind, wish.comfort) for wish in cheaper.given_up] == [("promise", "range")]
    assert next(one.comfort.id for one in cheaper.missing) == "range"


def test_everything_is_the_cheapest_in_which_nothing_is_missed(supper):
    """The dryer runs beside the range from 13 kW on; the plan for the goal misses it."""
    found = options(supper, OFFERED, 0.7, none_starved=False)
    everything = found.named("everything")
    assert [one.comfort.id for one in found.named("recommended").missing] == ["dryer"]
    assert (everything.plan.coverage, everything.missing) == (1.0, ())
    assert everything.plan.supply.generator.id == "set-13"


def test_where_the_goal_is_out_of_reach_the_nearest_is_shown(supper):
    """With one set too small for both, what covers most is named, and what it misses."""
    found = options(supper, book(generator(8.0, 5000.0)), 0.97)
    assert not found.reaches_goal
    plan = found.named("recommended").plan
    assert plan.coverage == frontier(supper, book(generator(8.0, 5000.0))).points[-1].coverage
    assert found.named("everything") is None


def test_the_largest_air_cooled_size_has_the_fewest_modules(supper):
    """13 kW carry all at once, so there is none; liquid-cooled sets are no part of it."""
    found = options(supper, OFFERED, 0.97).air_cooled
    assert found.plan.supply.generator.id == "set-13"
    assert [part.id for part in found.plan.loads if part.connection == "module"] == []
    prices = {line.text: line.usd for line in found.plan.price.lines}
    assert max(prices.values()) < 1e4


def test_nothing_waits_only_where_the_rule_accepts_it():
    """By the code and single starts 6 kW do for 5.5 kW all day; on average that is too much."""
    house = home(base(5.5))
    found = sheds_nothing(house, book(generator(6.0, 3000.0)))
    assert not found.nothing_waits
    assert "average" in found.refusal
    tireless = sheds_nothing(house, book(generator(6.0, 3000.0, permitted_average=1.0)))
    assert tireless.nothing_waits
    assert tireless.plan.coverage == 1.0
    assert sheds_nothing(home(load("oven", 9.0)), book(generator(4.0, 3000.0))) is None


def test_a_step_says_what_changes_in_the_unit_of_each_comfort(supper):
    """From the plan for the goal to everything only the dryer changes: one load less is lost."""
    found = options(supper, OFFERED, 0.7, none_starved=False)
    (change,) = comfort_changes(found.named("recommended").plan, found.named("everything").plan)
    assert (change.comfort.id, change.was, change.becomes, change.unit) == (
        "dryer", 1.0, 0.0, "lost")
    assert change.is_gain


def test_a_promise_that_a_size_cannot_keep_is_told_with_its_numbers():
    """A compressor that a set cannot start leaves the room where the weather takes it."""
    house = promised(home(base(1.0), room("air", 4.0, importance=5, starting_kva=40.0,
                                          starting_pf=0.7),
                          days=(replace(home().days[0], season="summer", low_degf=75.0,
                                        high_degf=95.0),)),
                     **{one.id: Promise(warmest_degf=82.0) for one in home(
                         room("air", 4.0)).comforts})
    offered = book(generator(6.0, 3000.0), soft_starters=())
    found = binding_of(conflict_of(house, offered, "set-6", 0.0), offered, "set-6")
    (short,) = found.promises
    assert (short.unit, short.promised) == ("degF", 82.0)
    assert short.reached > 82.0
    assert "start-dip" in {one.key for one in found.shortages}


def test_nothing_waits_is_a_card_of_its_own_where_it_is_another_plan(supper):
    """13 kW carry all at once: with a goal of 0.7 that plan is also the one with everything."""
    found = options(supper, OFFERED, 0.7, none_starved=False)
    last = found.nothing_waits
    assert last.plan.supply.generator.id == "set-13"
    assert not last.plan.choice.order
    assert found.named("everything").is_same(last)
    assert [one.name for one in found.cards] == [one.name for one in found.choices]
    apart = replace(found, choices=found.choices[:-1])
    assert [one.name for one in apart.cards][-1] == "nothing waits"


def test_the_next_step_up_is_the_cheapest_that_is_dearer(supper):
    """Of everything, the largest air-cooled and nothing-waits; none where nothing is dearer."""
    found = options(supper, OFFERED, 0.7, none_starved=False)
    above = [one.plan.cost_usd for one in
             (found.named("everything"), found.air_cooled, found.nothing_waits)]
    assert found.next_up.plan.cost_usd == min(above) > found.recommended.plan.cost_usd
    dear = replace(found.nothing_waits,
                   plan=cheapest(supper, book(generator(24.0, 11_000.0, cooling="liquid")), 0.0))
    assert replace(found, nothing_waits=dear).next_up.plan.cost_usd == min(above)
    alone = replace(found, choices=(found.recommended,), air_cooled=None, nothing_waits=None)
    assert alone.next_up is None


def test_options_are_told_of_as_they_are_found(supper):
    """The reference first, then in the order of the work; what is told is what is given at last."""
    heard = []
    found = options(supper, OFFERED, 0.7, none_starved=False, on_option=heard.append)
    assert [one.name for one in heard][:2] == ["nothing waits", "recommended"]
    assert {one.name for one in heard} == {*(one.name for one in found.choices), "nothing waits"}
    for option in found.choices:
        assert option in heard
