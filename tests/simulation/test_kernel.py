"""The loop as a whole: books that balance, and the same seed the same outage."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.facts.home import DesignDay
from planner.physics.fuel import fuel_btu_h
from planner.simulation import tally
from planner.simulation.columns import STATES
from planner.simulation.loops.restoring import LOOK_S
from planner.simulation.outage import TAIL_S, simulate
from planner.simulation.settings import Settings
from planner.simulation.transfer import CARRYING
from tests.homes import base, events, generator, home, load, motor
from tests.simulation.plans import plan_of

DAY = DesignDay("day", "day", "mild", 1.0, 60.0, 80.0)
HOURS = 12.0


@pytest.fixture(scope="module")
def plan():
    """Two loads and a motor that take turns behind a base and a direct motor."""
    house = home(
        base(0.8), load("pump", 0.6, starting_kva=3.0, use=events((2.0, 1.0), (8.0, 1.0))),
        load("dryer", 5.0, wait_h=3.0, use=events((1.0, 1.0), (7.0, 1.0))),
        load("heater", 4.0, wait_h=2.0, use=events((1.0, 1.5), (7.0, 1.5))),
        motor("air", 3.0, 12.0, wait_h=1.0, use=events((1.0, 2.0), (7.0, 3.0))))
    return plan_of(house, generator(9.0, 5000.0), "air", "heater", "dryer")


@pytest.fixture(scope="module")
def outage(plan):
    """Seed 1 of that plan."""
    return simulate(plan, DAY, 1, hours=HOURS)


def test_the_same_seed_is_the_same_outage(plan, outage):
    """Everything that was booked is equal, and another seed is another outage."""
    again = simulate(plan, DAY, 1, hours=HOURS)
    for one, other in zip(outage.tally, again.tally, strict=True):
        assert np.array_equal(one, other)
    assert outage.lines() == again.lines()
    assert not np.array_equal(simulate(plan, DAY, 2, hours=HOURS).tally.kwh, outage.tally.kwh)


def test_energy_balances(outage):
    """What the loads took is what engine and utility gave, but for the starts of motors."""
    sums = outage.tally.sums
    given = sums[tally.ENGINE_KWH] - sums[tally.START_KWH] + sums[tally.UTILITY_KWH]
    assert outage.tally.kwh.sum() == pytest.approx(given, rel=1e-9)
    assert sums[tally.START_KWH] > 0.0
    by_minute = outage.tally.mean_kw.astype(np.float64).sum() / 60.0
    assert by_minute == pytest.approx(sums[tally.ENGINE_KWH] - sums[tally.START_KWH], rel=1e-5)


def test_the_books_of_minutes_add_up(outage):
    """Seconds of running and waiting by minute are those of the whole."""
    found = outage.tally
    assert np.array_equal(found.run_minute.sum(axis=1), found.run_s)
    assert (found.run_minute + found.wait_minute).max() <= 60
    waits = found.waits[: found.waits_count[0]]
    assert len(waits) > 0
    for i in range(len(found.run_s)):
        booked = waits[waits[:, tally.WHO] == i, tally.LENGTH].sum()
        assert found.wait_minute[i].sum() == booked


def test_dark_carried_and_utility_seconds_are_all(outage):
    """30 s dark, then the generator, then from the retransfer on the utility."""
    counts = outage.tally.counts
    assert counts[tally.DARK_S] == 30
    assert counts[tally.CARRYING_S] == 3600 * HOURS + 300 - 30
    assert outage.seconds == 3600 * HOURS + TAIL_S
    assert outage.tally.states[1] == CARRYING


def test_fuel_is_the_curve_at_a_constant_load():
    """Warming up and cooling down burn the no-load figure, in between the curve at 3 kW."""
    plan = plan_of(home(base(3.0)), generator(9.0, 5000.0))
    found = simulate(plan, DAY, 0, hours=2.0).tally
    use = plan.supply.generator.ratings["natural gas"].fuel
    burned = (fuel_btu_h(3.0, 9.0, use) * (7200 + 300 - 30) + use.no_load_btu_h * (25 + 300)) / 3600
    assert found.sums[tally.FUEL_BTU] == pytest.approx(burned, rel=1e-6)


def test_a_generous_set_serves_all_that_is_wanted():
    """With room for everything each load gets its energy, but for the half minute of darkness."""
    house = home(base(0.5), load("a", 3.0, use=events((1.0, 1.0))), motor(
        "m", 2.0, 8.0, wait_h=2.0, use=events((2.0, 1.0))))
    plan = plan_of(house, generator(24.0, 9000.0), "a", "m")
    for seed in range(3):
        found = simulate(plan, DAY, seed, hours=10.0)
        assert found.tally.kwh[0] == pytest.approx(found.wanted_kwh[0] * (1 - 30 / found.seconds))
        assert found.tally.kwh[1:] == pytest.approx(found.wanted_kwh[1:], rel=5e-3)
        assert (found.wanted_kwh > 1.0).all()
        assert (found.service <= 1.0).all()


def test_the_turns_hold_the_limits(outage, plan):
    """No module is closed beyond the rating: the only overload could come from direct loads."""
    assert outage.tally.counts[tally.OVERLOAD_S] == 0
    mean = outage.tally.mean_kw.astype(np.float64)
    assert mean.max() <= plan.supply.derated_kw + 1e-4
    names = plan.menu.house.ids
    both = outage.tally.run_minute[[names.index("dryer"), names.index("heater")]].min(axis=0)
    assert both.max() < 60


def test_starts_are_booked_with_dip_and_frequency(outage, plan):
    """Each start of a motor on the generator has a dip within the allowed one, and a sag."""
    starts = outage.tally.starts[: outage.tally.starts_count[0]]
    motors = {plan.menu.house.index("air"), plan.menu.house.index("pump")}
    assert set(starts[:, tally.START_WHO].astype(int)) == motors
    air = starts[starts[:, tally.START_WHO] == plan.menu.house.index("air")]
    assert (air[:, tally.START_DIP] > 0.1).all()
    assert (air[:, tally.START_HZ] < 61.0).all()
    assert outage.tally.sums[tally.DEEPEST_DIP] == starts[:, tally.START_DIP].max()


def test_compressors_rest_at_the_loss_of_the_utility():
    """A compressor that ran when the utility was lost starts once its lock-out is over."""
    plan = plan_of(home(base(0.5), motor("air", 3.0, 12.0)), generator(9.0, 5000.0), "air")
    found = simulate(plan, DAY, 0, hours=1.0).tally
    first = found.starts[0, tally.START_SECOND]
    assert 0 <= first - Settings().short_cycle_s <= LOOK_S


def test_an_overload_that_nobody_sheds_stalls():
    """Direct loads alone beyond the rating stall the engine; someone starts it again, in vain."""
    plan = plan_of(home(base(6.0)), generator(9.0, 5000.0))
    weak = replace(plan.supply, derated_kw=5.7)
    object.__setattr__(plan, "supply", weak)
    found = simulate(plan, DAY, 0, hours=1.0)
    assert found.tally.counts[tally.STALLS] >= 2
    assert found.tally.sums[tally.LOWEST_FREQUENCY] < Settings().stall_frequency
    assert any("the engine stalls" in line for line in found.lines())


def test_the_machines_of_the_outage_are_left_alone(outage):
    """The realisation can be played again: its state at the start is not touched."""
    assert outage.state.shape == (5, STATES)
    assert not np.shares_memory(outage.state, outage.machines.state)
    assert not np.array_equal(outage.state, outage.machines.state)
