"""Light in the dark goes ahead of chores that matter less, and of nothing else."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.facts.comfort import Promise
from planner.facts.portable import Attendance
from planner.study.portable.options import by_hand
from tests.homes import car, clock, home, task
from tests.study.portable.machines import groups_for, interlock, offering, portable
from tests.study.portable.test_groups import found

EVERY_2_H = Attendance(6.0, 22.0, 2.0)
EVENING = 6  # the period from 18 to 20 h
LIGHT = clock("light", 1.0, (8.0, 14.0), kind="lighting and receptacles", importance=4)
DISHES = task("dishes", 4.5, (18.0, 2.0), importance=1)


def schedule_of(*loads, kw=5.0, promise=None):
    """The schedule of a small home, with what the comfort of its last load is promised."""
    one = home(*loads, attendance=EVERY_2_H, spell_days=1)
    kept = replace(one.comforts[-1], promise=promise)
    one = replace(one, comforts=(*one.comforts[:-1], kept))
    return found(groups_for(one, portable(kw)))[0].groups[0]


def test_light_is_on_in_the_dark_whatever_chore_it_costs():
    """Two of its fourteen hours are worth 0.57 of importance 1, less than what it costs.

    Both together do not fit; it stays on from 16 h, the period in which the dark begins, to 22 h.
    """
    groups = schedule_of(LIGHT, DISHES)
    assert groups[EVENING - 1:8, 0].all()
    assert not groups[EVENING - 1:8, 1].any()


def test_by_day_chores_may_cost_light():
    """The same dishes at noon are done: by day the hour that is missed least gives way."""
    groups = schedule_of(LIGHT, replace(DISHES, use={"every": replace(
        DISHES.use["every"], events=((12.0, 2.0),))}))
    assert groups[3].tolist() == [False, True]
    assert groups[EVENING - 1:8, 0].all()


@pytest.mark.parametrize("changes", [
    {"importance": 4}, {"importance": 5}, {"must_run": True}])
def test_what_matters_as_much_is_weighed(changes):
    """A chore of the same importance, or more, or one that must run, is no chore below it."""
    groups = schedule_of(LIGHT, replace(DISHES, **changes))
    assert groups[EVENING].tolist() == [False, True]


def test_a_promise_outweighs_light():
    """Dishes that the family was promised are done."""
    assert schedule_of(LIGHT, DISHES, promise=Promise(uncut=True))[EVENING].tolist() == [
        False, True]


def test_a_chore_gives_way_only_where_that_gives_light():
    """Beside a must-run pump of 4.5 kW light of 1 kW does not fit, dishes of 0.4 kW do.

    Where all fit, all are on.
    """
    pump = clock("pump", 4.5, (18.0, 4.0), must_run=True, importance=5)
    small = replace(DISHES, running_kw=0.4, running_kva=0.4)
    assert schedule_of(LIGHT, pump, small)[EVENING].tolist() == [False, True, True]
    assert schedule_of(LIGHT, small)[EVENING].tolist() == [True, True]


def test_light_keeps_its_position_before_chores():
    """Half of the light matters 2 and the dishes 3, but light of the dark is left out after them.

    Two circuits of light and the two poles of the dishes ask for four positions; there are three.
    """
    lights = [replace(LIGHT, id=name, label=name, leg="L1", comfort="light", running_kw=0.5,
                      running_kva=0.5) for name in ("up", "down")]
    one = home(*lights, replace(DISHES, importance=3), attendance=EVERY_2_H, spell_days=1)
    switch = interlock(id="switch", kind="switch", positions=3)
    option, = by_hand(one, offering(portable(9.0), transfers=(switch,))).options
    assert [load.id for load in option.circuits] == ["up", "down"]


@pytest.mark.parametrize("chore", [DISHES, car("car", 4.5, importance=3)])
def test_groups_that_are_handed_in_are_lit(chore):
    """A group with dishes, or a car, and no light becomes one with light; by day it stays."""
    groups = groups_for(home(LIGHT, chore, attendance=EVERY_2_H, spell_days=1), portable(5.0))
    dishes = np.zeros_like(groups.active)
    dishes[:, :, 1] = True
    lit = groups.all_lit(dishes)[0]
    assert lit[EVENING].tolist() == [True, False]
    assert lit[3].tolist() == [False, True]
