"""The set under load, against closed forms and an independent integrator."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scipy.integrate import solve_ivp

from planner.physics.fuel import fuel_btu_h
from planner.physics.motor_start import engine_start_kw, voltage_dip_with_power_factor
from planner.simulation.breaker import TRIP_HEAT, trip_time_s
from planner.simulation.generator import engine_of
from planner.simulation.loops.breaker import cooled, warmer
from planner.simulation.loops.engine import (
    dip_of,
    fuel_rate_btu_h,
    one_second,
    slope_per_s,
    spent,
    start_draw_kw,
    steady_frequency,
)
from planner.simulation.settings import Settings
from tests.homes import base, generator, home
from tests.simulation.plans import plan_of

SET = generator(10.0, 5000.0)


@pytest.fixture(scope="module")
def engine():
    """A 10 kW, 10 kVA set with 3 % droop, H = 0.5 s and 10 % of short-time power."""
    plan = plan_of(home(base(1.0)), SET)
    return engine_of(plan.supply, plan.menu.house.home, Settings())


def run(engine, frequency, shaft_kw, kw, seconds):
    """Let a steady load stand for seconds; gives frequency, shaft power and the lowest."""
    lowest = frequency
    for _ in range(seconds):
        frequency, shaft_kw, low = one_second(frequency, shaft_kw, kw, 0.0, kw, engine)
        lowest = min(lowest, low)
    return frequency, shaft_kw, lowest


@pytest.mark.parametrize("kw", [0.0, 2.5, 5.0, 10.0])
def test_a_steady_load_settles_on_the_droop_line(engine, kw):
    """Nominal at full load, 3 % above it without load, on a straight line in between."""
    frequency, shaft_kw, _ = run(engine, steady_frequency(6.0, engine), 6.0, kw, 30)
    assert frequency == pytest.approx(1.0 + 0.03 * (1.0 - kw / 10.0), abs=1e-6)
    assert shaft_kw == pytest.approx(kw, abs=1e-3)


def test_the_frequency_first_falls_by_the_swing_equation(engine):
    """With the governor held the rate is ΔP / (2·H·S), from the definition of H."""
    held = engine._replace(governor_s=1e12)
    frequency, _, lowest = one_second(1.02, 5.0, 5.1, 0.0, 5.1, held)
    assert frequency - 1.02 == pytest.approx(-0.1 / (2.0 * 0.5 * 10.0), rel=1e-9)
    assert lowest == frequency
    assert slope_per_s(-10.0, engine) * 60.0 == pytest.approx(-60.0)


@pytest.mark.parametrize("step_kw", [3.0, 6.0])
def test_the_sag_is_that_of_an_independent_integrator(engine, step_kw):
    """A load step from 2 kW sags as deep as a stiff solver finds for the same equations."""

    def slope(_, state):
        frequency, shaft = state
        load = 2.0 + step_kw
        load *= min(1.0, frequency / engine.knee) ** 2
        asked = min(max((1.0 + engine.droop - frequency) / engine.droop * 10.0, -1.0), 11.0)
        return [(shaft - load) / (2.0 * engine.inertia_s * engine.kva),
                (asked - shaft) / engine.governor_s]

    start = steady_frequency(2.0, engine)
    exact = solve_ivp(slope, (0.0, 1.0), [start, 2.0], method="LSODA", max_step=1e-3, rtol=1e-9)
    _, _, lowest = one_second(start, 2.0, 2.0 + step_kw, 0.0, 2.0 + step_kw, engine)
    sag = start - exact.y[0].min()
    assert start - lowest == pytest.approx(sag, rel=0.05)
    assert sag > 0.01


def test_an_overload_pulls_the_set_down_until_the_voltage_gives_way(engine):
    """Beyond the short-time power the load falls with the square of the speed: ω = knee·√(P/L)."""
    frequency, _, _ = run(engine, 1.0, 10.0, 13.0, 60)
    assert frequency == pytest.approx(0.97 * (11.0 / 13.0) ** 0.5, rel=1e-3)


@pytest.mark.parametrize(("kva", "pf"), [(12.0, 0.7), (30.0, 0.35), (2.0, 1.0)])
def test_dip_and_starting_power_are_those_of_the_physics(engine, kva, pf):
    """The compiled forms equal those of `planner.physics.motor_start`."""
    assert dip_of(kva, kva * pf, engine) == pytest.approx(
        voltage_dip_with_power_factor(0.2, kva, 10.0, pf))
    assert start_draw_kw(kva, kva * pf, engine) == pytest.approx(
        engine_start_kw(kva, pf, 0.2, 10.0))
    assert dip_of(0.0, 0.0, engine) == 0.0


@pytest.mark.parametrize("kw", [0.0, 2.0, 5.0, 9.0, 11.0])
def test_fuel_is_that_of_the_physics(engine, kw):
    """The compiled curve equals that of `planner.physics.fuel`."""
    use = SET.ratings["natural gas"].fuel
    assert fuel_rate_btu_h(kw, engine) == pytest.approx(fuel_btu_h(kw, 10.0, use))


def test_short_time_power_lasts_its_time_and_comes_back_slowly(engine):
    """A second at the short-time power spends a second; ten seconds below the rating regain one."""
    assert spent(4.0, 11.0, engine) == pytest.approx(5.0)
    assert spent(4.0, 10.5, engine) == pytest.approx(4.5)
    assert spent(4.0, 10.0, engine) == pytest.approx(3.9)
    assert spent(0.05, 3.0, engine) == 0.0


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
