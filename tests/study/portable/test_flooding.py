"""When a pit overflows on a portable generator, why, and that no better refuelling is missed."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from planner.facts.comfort import Promise
from planner.facts.home import Use
from planner.facts.portable import Attendance
from planner.study.portable.flooding import overflows
from planner.study.portable.options import by_hand
from planner.study.portable.periods import gap
from planner.study.portable.playing import TANK_SHARE, Schedule, played, state_of
from planner.study.portable.refuelling import with_refuelling
from tests.homes import clock, events, home, load
from tests.study.portable.machines import THREE, empty, groups_for, offering, portable

FOUR_HOURS = Attendance(6.0, 22.0, 4.0)
STORM = {"every": Use(kind="duty", hours=(0.5,) * 24)}


def with_pit(use, *others, attendance=THREE, **changes):
    """A home with a pit that must not overflow, pumped by 0.6 kW that must run."""
    pit = load("sump", 0.6, nature="pit", must_run=True, use=use, **changes)
    one = home(pit, *others, attendance=attendance)
    return replace(one, comforts=tuple(
        replace(each, promise=Promise(safe=True)) if each.kind == "pit" else each
        for each in one.comforts))


def shown(one, machine):
    """Give the only option at a home."""
    option, = by_hand(one, offering(machine)).options
    return option


def test_a_storm_floods_at_every_refuelling():
    """Half of every quarter of an hour of pumping comes in: a pit of 4 min is full in 8 (derived).

    So it overflows whenever the engine stands for half an hour, and it is said of every hour.
    """
    option = shown(with_pit(STORM), portable(5.0))
    found, = option.overflows
    assert found.cause == "refuelling"
    assert found.hours == tuple(option.periods.hour(p) for p in option.refuellings[0])
    assert found.fills_min == pytest.approx(8.0)
    assert found.always
    assert [one.comfort for one in option.broken] == [found.comfort.id]


def test_a_pit_that_fills_slowly_does_not_flood():
    """At 5 % of the time half an hour brings 1.5 min of pumping, and 4 fit (derived)."""
    calm = {"every": Use(kind="duty", hours=(0.05,) * 24)}
    option = shown(with_pit(calm), portable(5.0))
    assert option.refuellings[0]
    assert option.overflows == ()
    assert option.broken == ()


@pytest.mark.parametrize(("change", "cause"), [
    ("breaker", "breaker off"), ("dry", "empty tank"), ("small", "too large")])
def test_the_cause_is_the_one_that_was_made(change, cause):
    """A breaker left off, a tank that is empty besides refuellings, a pump too large to feed."""
    groups = groups_for(with_pit(STORM), portable(0.3 if change == "small" else 5.0))
    plain = empty(groups)
    on = np.ones_like(plain.groups)
    off = plain.off.copy()
    if change != "dry":
        on[:, 1] = False
    else:
        off[:, 60:64] = True
    schedule = Schedule(on, off)
    found = overflows(groups.machine, groups.periods, schedule,
                      *state_of(groups.machine, groups.periods, schedule))
    assert [one.cause for one in found] == [cause]
    assert found[0].hours == ((15.0,) if change == "dry" else (14.0,))


PITS = [((7.0, 0.25), (10.0, 0.25)), ((10.0, 0.25), (14.0, 0.25)), ((22.0, 0.25),),
        ((6.0, 0.25), (18.0, 0.25)), ((10.0, 0.25), (18.0, 0.25), (22.0, 0.25)),
        ((14.0, 0.25), (22.0, 0.25))]


@pytest.mark.parametrize("pairs", PITS)
@pytest.mark.parametrize("tank_gal", [4.0, 5.5, 9.0])
def test_no_hours_that_keep_the_pit_dry_are_missed(pairs, tank_gal):
    """Of all sets of hours that a tank lasts between, one as small that floods less is not left.

    The rule here walks the day with the tank itself; 0.5 gal/h at no load, little more with it.
    """
    one = with_pit(events(*pairs), clock("light", 0.5, (0.0, 24.0)), attendance=FOUR_HOURS)
    groups = groups_for(one, portable(5.0, tank_gal=tank_gal, gal_h=(0.3, 0.5, 0.75)))
    machine, periods = groups.machine, groups.periods
    plain = Schedule(np.ones_like(groups.active), np.zeros((1, 96), dtype=np.bool_))
    mine = with_refuelling(machine, periods, plain)
    count = sum(bool(mine.off[0, gap(periods, p)].all()) for p in range(periods.count))
    best = -np.inf
    for size in range(1, count + 1):
        for hours in combinations(range(periods.count), size):
            off = np.zeros((1, 96), dtype=np.bool_)
            for p in hours:
                off[0, gap(periods, p)] = True
            trial = Schedule(plain.groups, off)
            found = played(machine, periods, trial)
            if lasts(found.gal, [periods.begins[p] for p in hours], tank_gal):
                best = max(best, float(found.score[0]))
    assert best > -np.inf
    broken, least = (np.floor(-value) for value in (
        float(played(machine, periods, mine).score[0]), best))
    assert broken == least


def lasts(gal, hours, tank_gal):
    """Whether a full tank lasts from each of these slots of the day to the next, two days long."""
    left = TANK_SHARE * tank_gal
    for t, burnt in enumerate(np.concatenate([gal[:96], gal[:96]])):
        if t % 96 in hours:
            left = TANK_SHARE * tank_gal
        left -= burnt
        if left < -1e-9 and t >= 96:
            return False
    return True


def test_another_hour_that_costs_more_is_not_taken():
    """The pit floods at 14:00, the last hour within reach; at 10:00 it does not, but light is lost.

    Since no tank lasts from 18:00 to the morning, it floods at 22:00 anyway: nothing is gained.
    """
    one = with_pit(events((14.0, 0.25), (22.0, 0.25)), clock("lamp", 0.5, (0.0, 24.0)),
                   clock("tea", 0.1, (10.0, 0.5), importance=5), attendance=FOUR_HOURS)
    groups = groups_for(one, portable(5.0, tank_gal=4.0, gal_h=(0.3, 0.5, 0.75)))
    machine, periods = groups.machine, groups.periods
    plain = Schedule(np.ones_like(groups.active), np.zeros((1, 96), dtype=np.bool_))
    mine = with_refuelling(machine, periods, plain)
    standing = [periods.hour(p) for p in range(periods.count)
                if mine.off[0, gap(periods, p)].all()]
    assert standing == [6.0, 14.0, 22.0]
    moved = mine.off.copy()
    for p, stands in ((1, True), (2, False), (3, True)):
        moved[0, gap(periods, p)] = stands
    other = Schedule(plain.groups, moved)
    assert played(machine, periods, other).score[0] < played(machine, periods, mine).score[0]


def test_a_storm_at_night_floods_while_nobody_is_up():
    """The first night is dark until 6:00 if the utility leaves then, and the pit overflows."""
    option = shown(with_pit(STORM), portable(5.0))
    assert option.floods_asleep == ("sump",)
    assert option.misses_standing
    by_day = with_pit(events((10.0, 0.25)))
    assert shown(by_day, portable(5.0)).floods_asleep == ()
