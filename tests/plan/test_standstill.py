"""How long a load stands still on end is read off its day by hand, given-up calls included."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.errors import VerificationError
from planner.facts.home import SLOT_H, SLOTS_PER_DAY, DesignDay
from planner.plan.standstill import longest_standstill_h
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from tests.homes import base, book, events, generator, home, load, random_home

SEEDS = st.integers(0, 99_999)
TWO_DAYS = tuple(DesignDay(name, name, "mild", 1.0, 60.0, 80.0) for name in ("one", "two"))


def behind_the_oven(oven, dryer, wait_h, **changes):
    """6 kW for lights of 1 kW and an oven or a dryer of 4 kW each, the oven first."""
    house = home(base(1.0), load("oven", 4.0, use=events(*oven)),
                 load("dryer", 4.0, wait_h=wait_h, use=events(*dryer)), **changes)
    problem = problems_of(house, book(generator(6.0, 3000.0)))[0]
    return problem.plan(Choice((DIRECT, MODULE, MODULE), (0, 0, 0), (1, 2)))


def random_plan(seed):
    """Everything but the lights takes turns, what matters more first; None if that is refused."""
    house = random_home(seed, 4)
    problem = problems_of(house, book(generator(7.0, 3000.0)))[0]
    turns = sorted(range(1, 5), key=lambda i: (not house.loads[i].must_run,
                                               -house.loads[i].importance))
    try:
        return problem.plan(Choice((DIRECT, *(MODULE,) * 4), (0,) * 5, tuple(turns)))
    except VerificationError:
        return None


@pytest.mark.parametrize(("oven", "dryer", "wait_h", "still_h", "longest_wait_h"), [
    pytest.param([(7.0, 1.0)], [(18.0, 2.0)], 1.0, 0.0, 0.0, id="never in the way"),
    pytest.param([(18.0, 1.0)], [(18.0, 2.0)], 0.0, 1.0, 0.0, id="calls that may not wait"),
    pytest.param([(18.0, 1.0)], [(18.0, 2.0)], 1.0, 1.0, 1.0, id="calls that all wait"),
    pytest.param([(18.0, 4.0)], [(18.0, 4.0)], 0.5, 4.0, 0.5, id="one given up after the other"),
    pytest.param([(8.0, 0.5), (18.0, 1.5)], [(8.0, 2.0), (18.0, 2.0)], 0.0, 1.5, 0.0,
                 id="the longer of two"),
    pytest.param([(18.0, 1.5), (20.0, 0.5)], [(18.0, 3.0)], 0.0, 1.5, 0.0,
                 id="the longer first, a run between"),
    pytest.param([(18.0, 2.0)], [(18.0, 1.0)], 0.0, 1.0, 0.0, id="no longer than it is wanted"),
    pytest.param([(18.0, 2.0)], [(18.0, 0.25)], 0.5, 0.75, 0.0, id="until its call is given up"),
])
def test_it_is_the_longest_stretch_while_the_oven_is_on(
    oven, dryer, wait_h, still_h, longest_wait_h
):
    """The dryer stands still while the oven runs and it is wanted: hours counted by hand."""
    plan = behind_the_oven(oven, dryer, wait_h)
    assert longest_standstill_h(plan, "dryer") == still_h
    assert plan.load("dryer").longest_wait_h == longest_wait_h
    assert longest_standstill_h(plan, "oven") == longest_standstill_h(plan, "base") == 0.0


def test_waits_add_up_where_it_runs_in_between():
    """Two stops of 30 min with a run between: a call waits an hour, yet none is at worst."""
    plan = behind_the_oven([(18.0, 0.5), (18.75, 0.5)], [(18.0, 2.0)], 1.0)
    assert longest_standstill_h(plan, "dryer") == 0.5
    assert plan.load("dryer").longest_wait_h == 1.0
    assert plan.load("dryer").service == 1.0


def test_midnight_ends_it():
    """An hour and a half before midnight and one after it are no two hours and a half."""
    plan = behind_the_oven([(0.0, 1.0), (22.5, 1.5)], [(0.0, 1.0), (22.5, 1.5)], 0.0, days=TWO_DAYS)
    assert longest_standstill_h(plan, "dryer") == 1.5


def test_the_worst_of_all_days_counts():
    """Half an hour on one day and two on the next."""
    oven = {"one": events((18.0, 0.5))["every"], "two": events((18.0, 2.0))["every"]}
    house = home(base(1.0), load("oven", 4.0, use=oven),
                 load("dryer", 4.0, use=events((18.0, 3.0))), days=TWO_DAYS)
    problem = problems_of(house, book(generator(6.0, 3000.0)))[0]
    plan = problem.plan(Choice((DIRECT, MODULE, MODULE), (0, 0, 0), (1, 2)))
    assert longest_standstill_h(plan, "dryer") == 2.0


@settings(max_examples=60)
@given(SEEDS)
def test_it_is_nothing_exactly_where_all_is_served_at_once(seed):
    """A load that gets all without waiting stands still 0 h, and no other does."""
    plan = random_plan(seed)
    assume(plan is not None)
    for part in plan.loads:
        at_once = part.service >= 1.0 - 1e-9 and part.longest_wait_h == 0.0
        assert (longest_standstill_h(plan, part.id) == 0.0) == at_once


@settings(max_examples=60)
@given(SEEDS)
def test_it_is_at_least_a_wait_that_nothing_interrupts(seed):
    """A call served after slots in which the load never ran stood still as long as it waited."""
    plan = random_plan(seed)
    assume(plan is not None)
    for i, part in enumerate(plan.loads):
        waits = plan.service.waits[i]
        unbroken = [int(wait) for t, wait in enumerate(waits)
                    if wait > 0 and (waits[t - wait:t] < 0).all()]
        still_h = longest_standstill_h(plan, part.id)
        assert still_h >= max(unbroken, default=0) * SLOT_H


@settings(max_examples=60)
@given(SEEDS)
def test_what_does_not_wait_stands_still_while_it_calls_in_vain(seed):
    """Of a load whose calls may not wait: the longest row of calls that were not served."""
    plan = random_plan(seed)
    assume(plan is not None)
    house = plan.menu.house
    in_vain = house.calls & (plan.service.waits < 0)
    for i in np.flatnonzero((house.wait_slots == 0) & (np.array(plan.choice.connection) == MODULE)):
        days = ["".join("x" if still else " " for still in day)
                for day in in_vain[i].reshape(-1, SLOTS_PER_DAY)]
        longest = max(len(block) for day in days for block in day.split(" "))
        assert longest_standstill_h(plan, house.ids[i]) == longest * SLOT_H


def test_the_random_homes_above_have_both():
    """Some load of theirs is served at once and some stands still, with waits and without."""
    plans = [plan for seed in range(40) if (plan := random_plan(seed))]
    parts = [(longest_standstill_h(plan, part.id), part) for plan in plans for part in plan.loads]
    assert len(plans) > 20
    assert any(still_h == 0.0 and part.connection == "module" for still_h, part in parts)
    assert any(still_h > part.longest_wait_h > 0.0 for still_h, part in parts)
    assert any(still_h > 0.0 and part.longest_wait_h == 0.0 for still_h, part in parts)
