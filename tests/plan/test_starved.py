"""A load is starved if it takes turns, matters, asks for power and gets next to none of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.home import CodeEntry
from planner.plan.starved import HALF, NEXT_TO_NOTHING, badly_served, starved
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from tests.homes import ALL, base, book, events, generator, home, load

EVENING = events((18.0, 1.0))
SPA = load("spa", 9.0, importance=2, allowed=ALL, use=EVENING)
SMALLER = {"running_kw": 4.0, "running_kva": 4.0, "code": CodeEntry("appliance", 1000.0)}


def plan_of(*loads, connection=None):
    """6 kW for lights of 1 kW and these loads, all taking turns in the order given."""
    problem = problems_of(home(base(1.0), *loads), book(generator(6.0, 3000.0)))[0]
    connection = (DIRECT, *(connection or (MODULE,) * len(loads)))
    turns = tuple(i for i, how in enumerate(connection) if how == MODULE)
    return problem.plan(Choice(connection, (0,) * len(connection), turns))


def ids(plan):
    """Ids of what is starved."""
    return [part.id for part in starved(plan)]


def test_a_load_that_never_has_room_is_starved():
    """9 kW never fit on 6 kW; the oven of 4 kW does."""
    plan = plan_of(SPA, load("oven", 4.0, use=EVENING))
    assert ids(plan) == ["spa"]
    assert starved(plan) == (plan.load("spa"),)


@pytest.mark.parametrize(("changes", "how"), [
    pytest.param({"importance": 0}, MODULE, id="nobody cares"),
    pytest.param({"use": {}}, MODULE, id="never asks"),
    pytest.param({}, OFF, id="off, as chosen"),
    pytest.param(SMALLER, MODULE, id="has room"),
    pytest.param(SMALLER, DIRECT, id="always connected"),
])
def test_every_condition_is_needed(changes, how):
    """The hot tub with one thing changed is starved no more."""
    assert ids(plan_of(SPA)) == ["spa"]
    assert ids(plan_of(replace(SPA, **changes), connection=(how,))) == []


@pytest.mark.parametrize(("called_h", "starving"), [(5.0, False), (5.25, True)])
def test_one_call_of_twenty_is_enough(called_h, starving):
    """Only the last quarter of an hour is free: 1 of 20 calls is 5 %, 1 of 21 is less."""
    oven = load("oven", 4.0, use=events((15.0, called_h - 0.25)))
    dryer = load("dryer", 4.0, use=events((15.0, called_h)))
    plan = plan_of(oven, dryer)
    assert plan.load("dryer").service == pytest.approx(0.25 / called_h)
    assert (plan.load("dryer").service < NEXT_TO_NOTHING) == starving
    assert ids(plan) == (["dryer"] if starving else [])


def test_what_matters_most_is_named_first():
    """By importance, where alike in the order of the file; the order of turns does not count."""
    loads = [replace(SPA, id=name, label=name, importance=importance)
             for name, importance in (("a", 1), ("b", 4), ("c", 5), ("d", 4))]
    assert ids(plan_of(*loads)) == ["c", "b", "d", "a"]


def test_a_plan_where_all_is_served_starves_nobody():
    """Two loads at different hours both have their turn."""
    assert starved(plan_of(load("oven", 4.0, use=EVENING),
                           load("dryer", 4.0, use=events((20.0, 1.0))))) == ()



def shared(called_h, importance):
    """A heater behind an oven that takes 2.5 h of what both ask for; 5 h asked are half served."""
    oven = load("oven", 4.0, importance=5, use=events((12.0, 2.5)))
    heater = load("heater", 4.0, importance=importance, use=events((12.0, called_h)))
    return plan_of(oven, heater)


@pytest.mark.parametrize(("called_h", "importance", "badly"), [
    (5.0, 4, False), (4.75, 4, True), (4.75, 5, True), (4.75, 3, False)])
def test_what_matters_much_and_gets_less_than_half_is_badly_served(called_h, importance, badly):
    """Half is enough, a quarter of an hour less is not; importance 4 is the least that counts."""
    plan = shared(called_h, importance)
    assert plan.load("heater").service == pytest.approx((called_h - 2.5) / called_h)
    assert (plan.load("heater").service < HALF) == (called_h < 5.0)
    assert [part.id for part in badly_served(plan)] == (["heater"] if badly else [])


def test_what_is_starved_is_not_said_to_be_badly_served_too():
    """One word for each: below a twentieth it is starved, from there to a half badly served."""
    oven = load("oven", 4.0, importance=5, use=events((15.0, 5.0)))
    heater = load("heater", 4.0, importance=5, use=events((15.0, 5.25)))
    plan = plan_of(oven, heater)
    assert ids(plan) == ["heater"]
    assert badly_served(plan) == ()
    twentieth = plan_of(replace(oven, use=events((15.0, 4.75))),
                        replace(heater, use=events((15.0, 5.0))))
    assert ids(twentieth) == []
    assert [part.id for part in badly_served(twentieth)] == ["heater"]


def test_the_worst_served_is_named_first():
    """By the share that it gets: a third, then two fifths, whatever the order of turns."""
    oven = load("oven", 4.0, importance=5, use=events((12.0, 3.0), (18.0, 2.0)))
    more = load("more", 4.0, importance=5, use=events((12.0, 5.0)))
    less = load("less", 4.0, importance=4, use=events((18.0, 3.0)))
    found = badly_served(plan_of(oven, more, less))
    assert [(part.id, round(part.service, 3)) for part in found] == [
        ("less", 0.333), ("more", 0.4)]
