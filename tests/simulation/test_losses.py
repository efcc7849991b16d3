"""What is lost of a comfort, machine by machine, and what is kept of it in an outage."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.facts.home import DesignDay, Use
from planner.physics.stores import shower_kwh
from planner.simulation.outage import simulate
from planner.simulation.outcome.losses import comforts_in
from planner.simulation.settings import Settings
from tests.homes import base, car, clock, events, food, generator, home, load, room, tank, task
from tests.simulation.plans import plan_of

HOT = DesignDay("hot", "hot", "summer", 1.0, 74.0, 97.0)
SETTINGS = Settings(senses="calls")


def everything(**changes):
    """A comfort of each kind."""
    return home(
        base(0.5), room("air", 3.0), tank("tank"), task("range", 3.0, (18.0, 1.0), wait_h=0.5),
        car("car"), food("fridge"), clock("tv", 0.2, (19.0, 2.0)),
        load("pump", 1.0, kind="well pump", nature="pressure",
             use=events((7.0, 0.5), (18.0, 0.5))),
        load("sump", 0.6, kind="sump pump", nature="pit",
             use={"every": Use("duty", hours=(0.15,) * 24)}),
        days=(HOT,), **changes)


@pytest.fixture(scope="module")
def served():
    """All of it on a large generator for three days."""
    return simulate(plan_of(everything(), generator(40.0, 9000.0)), HOT, 1, hours=72.0,
                    settings=SETTINGS)


@pytest.fixture(scope="module")
def dark():
    """None of it has power."""
    house = everything()
    off = tuple(one.id for one in house.loads if one.id != "base")
    loads = tuple(replace(one, allowed=frozenset({"direct", "module", "off"}))
                  for one in house.loads)
    plan = plan_of(replace(house, loads=loads), generator(40.0, 9000.0), off=off)
    return simulate(plan, HOT, 1, hours=72.0, settings=SETTINGS)


def by_id(outage):
    """What each comfort came to."""
    return {one.id: one for one in comforts_in(outage)}


def test_with_all_the_power_it_wants_nothing_is_lost(served):
    """The last day is as with the utility."""
    for one in by_id(served).values():
        assert one.lost == pytest.approx(0.0, abs=0.01 * max(one.losable, 1.0)), one.id
        assert one.losable > 0.0 or one.id in {"car", "base"}, one.id


def test_without_power_all_is_lost_that_can_be(dark):
    """Lost is losable, and each says so in its unit."""
    found = by_id(dark)
    for one in found.values():
        if one.id != "base":
            assert one.lost == pytest.approx(one.losable), one.id
    assert found["air"].worst > 86.0 > found["air"].utility_worst
    assert found["tank"].worst == pytest.approx(found["tank"].beside)
    assert (found["range"].worst, found["range"].beside) == (1.0, 1.0)
    assert found["fridge"].worst == found["sump"].worst == 1.0
    assert found["fridge"].utility_worst == found["sump"].utility_worst == 0.0
    assert found["tv"].worst == pytest.approx(2.0, abs=0.5)
    assert found["pump"].worst > 0.5


def test_a_car_that_is_not_charged_leaves_with_what_is_left(dark, served):
    """Three days of 72 miles leave less than the 82 wanted of a battery of 200."""
    left = by_id(dark)["car"]
    assert left.beside == pytest.approx(82.0)
    assert left.worst < left.beside
    assert left.lost == pytest.approx((left.beside - left.worst) / left.beside, abs=0.05)
    assert by_id(served)["car"].worst > 120.0


def test_showers_are_the_heat_that_draws_lacked(dark):
    """All draws of the worst day, in showers of 16 gal at 105 degF."""
    i = dark.ids.index("tank")
    days = dark.dark_loss[i, :288].reshape(3, 96).sum(axis=1)
    assert by_id(dark)["tank"].worst == pytest.approx(days.max() / shower_kwh())


def test_a_room_loses_by_the_degree():
    """Without cooling a slot loses its share from 3 degF behind the set point to the limit."""
    plan = plan_of(home(base(0.5), room("air", 3.0, allowed=frozenset({"off"})), days=(HOT,)),
                   generator(20.0, 5000.0), off=("air",))
    outage = simulate(plan, HOT, 0, hours=24.0)
    i = outage.ids.index("air")
    behind = outage.depth[i, :96]
    expected = np.clip((behind - 3.0) / (86.0 - 76.0 - 3.0), 0.0, 1.0)
    assert outage.loss[i, :96] / 900.0 == pytest.approx(expected, abs=0.02)
    (found,) = [one for one in comforts_in(outage) if one.id == "air"]
    assert found.worst == pytest.approx(76.0 + behind.max())
    assert found.lost == pytest.approx(found.losable)


def test_only_the_last_day_is_judged():
    """What was lost on the first day counts in the worst, not in what is kept."""
    plan = plan_of(home(base(0.5), clock("tv", 0.2, (0.0, 1.0)), days=(HOT,)),
                   generator(20.0, 5000.0))
    outage = simulate(plan, HOT, 0, hours=48.0, settings=Settings(warm_up_s=1800.0))
    found = {one.id: one for one in comforts_in(outage)}["tv"]
    assert found.worst > 0.2
    assert found.lost == 0.0
    assert found.losable == pytest.approx(4.0, abs=1.0)


@pytest.mark.parametrize("on_h", [0.0, 6.0, 12.0])
def test_what_is_switched_off_by_hand_is_on_until_somebody_comes_home(on_h):
    """For as long as it is said, then never again until the utility returns."""
    spa = clock("spa", 2.0, (0.0, 24.0), importance=0)
    plan = plan_of(home(base(0.5), spa, days=(HOT,)), generator(20.0, 5000.0), by_hand=("spa",))
    outage = simulate(plan, HOT, 0, hours=24.0, settings=Settings(by_hand_h=on_h))
    ran = outage.tally.run_minute[outage.ids.index("spa")].astype(float)[: 24 * 60].sum() / 3600.0
    assert ran == pytest.approx(on_h, abs=0.02)
    assert Settings().by_hand_h == 12.0


def test_a_charger_comes_up_over_five_seconds():
    """No second takes more than a fifth of its draw at once, so that nothing is shed for it."""
    wagon = car("car", 7.2, use=events((1.0, 2.0)))
    plan = plan_of(home(base(0.5), wagon, days=(HOT,)), generator(10.0, 5000.0), "car")
    outage = simulate(plan, HOT, 0, hours=4.0, settings=SETTINGS)
    step = load("step", 7.2, use=events((1.0, 2.0)))
    other = simulate(plan_of(home(base(0.5), step, days=(HOT,)), generator(10.0, 5000.0), "step"),
                     HOT, 0, hours=4.0, settings=SETTINGS)
    lowest = [60.0 * one.tally.sums[4] for one in (outage, other)]
    assert lowest[0] > 59.0 > lowest[1]
