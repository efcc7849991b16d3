"""The engine under load, against closed forms."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.physics.fuel import fuel_btu_h
from planner.physics.motor_start import voltage_dip_with_power_factor
from planner.simulation.breaker import TRIP_HEAT, trip_time_s
from planner.simulation.generator import FRICTION, STEPS, engine_of
from planner.simulation.loops.breaker import cooled, warmer
from planner.simulation.loops.engine import (
    dip_of,
    fuel_rate_btu_h,
    is_settled,
    one_step,
    slopes,
    start_draw_kw,
    steady_frequency,
)
from planner.simulation.settings import Settings
from tests.homes import base, generator, home
from tests.simulation.plans import plan_of

SET = generator(10.0, 5000.0)


@pytest.fixture(scope="module")
def engine():
    """A generator of 10 kW and 10 kVA with 3 % droop and H = 0.5 s."""
    plan = plan_of(home(base(1.0)), SET)
    return engine_of(plan.supply, plan.menu.house.home, Settings())


def run(engine, frequency, torque, kw, seconds):
    """Let electronics of a steady draw stand for seconds; gives frequency, torque, the lowest."""
    lowest = frequency
    for _ in range(round(seconds * STEPS)):
        frequency, torque = one_step(frequency, torque, 0.0, 0.0, kw, engine)
        lowest = min(lowest, frequency)
    return frequency, torque, lowest


@pytest.mark.parametrize("kw", [0.0, 2.5, 5.0, 8.0])
def test_a_steady_load_settles_on_the_droop_curve(engine, kw):
    """Nominal at full load, 3 % above it without load, where torque times speed is the load."""
    frequency, torque, _ = run(engine, steady_frequency(6.0, engine), 0.6, kw, 30)
    assert frequency == pytest.approx(steady_frequency(kw, engine), abs=1e-6)
    assert torque * frequency * 10.0 == pytest.approx(kw, abs=1e-3)
    assert torque == pytest.approx((1.03 - frequency) / 0.03, abs=1e-3)
    assert is_settled(frequency, torque, kw, engine)


def test_the_frequency_first_falls_by_the_swing_equation(engine):
    """At full speed the rate is ΔP / (2·H·S), from the definition of H."""
    faster, _ = slopes(1.0, 0.5, 15.0, engine)
    assert faster * 60.0 == pytest.approx(-60.0)


@pytest.mark.parametrize("asked", [0.5, 0.9, 1.0, 1.02])
def test_torque_stays_between_a_closed_and_an_open_throttle(engine, asked):
    """The governor moves the torque towards 1 at most, and no lower than the engine's braking."""
    _, stronger = slopes(asked, 1.0, 5.0, engine)
    assert stronger <= 1e-12
    assert slopes(1.2, -FRICTION, 5.0, engine)[1] == pytest.approx(0.0)


def test_an_overload_is_never_carried(engine):
    """3 % above the torque there is no speed at which it holds: the engine goes down and stands."""
    frequency, _, _ = run(engine, 1.0, 1.0, 10.3, 30)
    assert frequency < engine.stall_frequency


@pytest.mark.parametrize(("kva", "pf"), [(12.0, 0.7), (30.0, 0.35), (2.0, 1.0)])
def test_dip_and_starting_power_are_those_of_the_physics(engine, kva, pf):
    """The compiled forms equal those of `planner.physics.motor_start`."""
    assert dip_of(kva, kva * pf, engine) == pytest.approx(
        voltage_dip_with_power_factor(0.2, kva, 10.0, pf))
    left = 1.0 - voltage_dip_with_power_factor(0.2, kva, 10.0, pf)
    assert start_draw_kw(kva, kva * pf, engine) == pytest.approx(kva * pf * left * left)
    assert dip_of(0.0, 0.0, engine) == 0.0


@pytest.mark.parametrize("kw", [0.0, 2.0, 5.0, 9.0, 11.0])
def test_fuel_is_that_of_the_physics(engine, kw):
    """The compiled curve equals that of `planner.physics.fuel`."""
    use = SET.ratings["natural gas"].fuel
    assert fuel_rate_btu_h(kw, engine) == pytest.approx(fuel_btu_h(kw, 10.0, use))


@pytest.mark.parametrize("share", [1.2, 1.35, 2.0, 3.0])
def test_the_breaker_trips_at_the_time_of_its_curve(share):
    """Second by second it trips within a percent and a second of t = τ ln(s² / (s² − trip))."""
    heat, seconds = 0.0, 0
    while heat < TRIP_HEAT:
        heat = warmer(heat, share, 300.0)
        seconds += 1
    assert seconds == pytest.approx(trip_time_s(share, 300.0), rel=0.01, abs=1.0)


def test_the_breaker_keeps_the_bounds_of_its_kind():
    """It carries its rating for ever, and trips at 135 % within 1 h, at 200 % within 2 min.

    Moulded-case breakers up to 50 A and up to 30 A (UL 489, from memory).
    """
    assert trip_time_s(1.0, 300.0, heat=1.0) == float("inf")
    assert trip_time_s(1.35, 300.0) < 3600.0
    assert trip_time_s(2.0, 300.0) < 120.0
    assert trip_time_s(1.35, 300.0) > trip_time_s(2.0, 300.0, heat=1.0)


def test_cooling_in_one_step_is_cooling_second_by_second():
    """Booking many seconds together changes nothing."""
    heat = 0.9
    for _ in range(57):
        heat = warmer(heat, 0.4, 300.0)
    assert cooled(0.9, 0.4, 57, 300.0) == pytest.approx(heat, rel=1e-12)


def test_the_droop_comes_from_the_price_book():
    """Another droop in the book is another steady frequency."""
    plan = plan_of(home(base(1.0)), replace(SET, droop=0.05))
    engine = engine_of(plan.supply, plan.menu.house.home, Settings())
    assert steady_frequency(0.0, engine) == pytest.approx(1.05)
