"""A thermostat and its room, heated or cooled by one machine."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.linalg import expm

from planner.facts.home import COOLING_SET_DEGF, HEATING_SET_DEGF, Use
from planner.simulation.appliances.room import TICK_S
from planner.simulation.appliances.two_mass import TwoMass, write_step
from planner.simulation.columns import (
    AIR,
    DISCOMFORT,
    GAIN,
    MASS,
    ROOM,
    SUN,
    WANT,
    WORST,
)
from planner.simulation.machines import demanded
from tests.reference.first_order import relaxed_degf
from tests.simulation.alone import blank, machine, play, room

COOLING = Use("cooling", balance_degf=70.0, design_degf=95.0, full_duty=0.85)
HEATING = Use("heating", balance_degf=62.0, design_degf=10.0, full_duty=0.8)


def test_a_cold_house_follows_the_matrix_exponential():
    """Without power air and mass follow exp(A t), computed independently, for three hours."""
    row, state = blank(TICK_S)
    ca, cm, h, ua = 900.0, 4000.0, 2500.0, 600.0
    write_step(TwoMass(ca, cm, h, ua), TICK_S, row)
    state[AIR], state[MASS] = 70.0, 68.0
    after, *_ = play(machine(ROOM, row, state, minute=((20.0, 0.0, 0.0),)), 10800, fed=False)
    system = np.array([[-(ua + h) / ca, h / ca], [h / cm, -h / cm]])
    expected = 20.0 + expm(3.0 * system) @ np.array([50.0, 48.0])
    assert after.state[0, [AIR, MASS]] == pytest.approx(expected, abs=1e-8)


def test_with_air_and_mass_as_one_it_is_the_first_order_closed_form():
    """Tightly coupled bodies cool as one: T∞ + (T0 − T∞) exp(−t UA / C)."""
    row, state = blank(TICK_S)
    write_step(TwoMass(500.0, 4500.0, 1e6, 600.0), TICK_S, row)
    state[AIR] = state[MASS] = 70.0
    after, *_ = play(machine(ROOM, row, state, minute=((10.0, 0.0, 0.0),)), 7200, fed=False)
    assert after.state[0, MASS] == pytest.approx(
        relaxed_degf(70.0, 10.0, 2.0, 5000.0 / 600.0), abs=0.02)


@pytest.mark.parametrize(("use", "outdoor_degf", "duty"), [
    (COOLING, 95.0, 0.85), (COOLING, 82.5, 0.425), (HEATING, 10.0, 0.8), (HEATING, 36.0, 0.4),
])
def test_its_duty_is_that_of_the_use_pattern(use, outdoor_degf, duty):
    """In a constant climate the thermostat runs the share of the time that its use says.

    A little more near full duty: the air then spends more of a cycle near its far end.
    """
    settled = demanded(room(use, outdoor_degf), 24.0)[1][0]
    both = demanded(room(use, outdoor_degf), 72.0)[1][0]
    assert (both - settled) / (48.0 * 3600.0) == pytest.approx(duty, abs=0.02)


@pytest.mark.parametrize(("use", "set_degf"), [
    (COOLING, COOLING_SET_DEGF), (HEATING, HEATING_SET_DEGF)])
def test_at_the_balance_temperature_sun_and_people_hold_the_set_point(use, set_degf):
    """At the balance temperature it never calls and rests at its set point."""
    after, on, _ = play(room(use, use.balance_degf), 72 * 3600)
    assert not on.any()
    assert after.state[0, AIR] == pytest.approx(set_degf, abs=0.001)


def test_a_day_too_hot_runs_all_the_time_and_is_uncomfortable():
    """Beyond full duty the unit never stops and the error and the degree-hours grow."""
    after, on, _ = play(room(COOLING, 115.0), 6 * 3600)
    assert on[3600:].all()
    assert after.state[0, WORST] > 3.0
    assert after.state[0, DISCOMFORT] > 0.0


def test_without_power_it_keeps_calling_and_counts_degree_hours():
    """The degree-hours beyond three degrees are the integral of the air's closed-form course."""
    cold = room(HEATING, 10.0)
    cold.parameters[0, [GAIN, SUN]] = 0.0
    after, on, _ = play(cold, 4 * 3600, fed=False)
    assert not on.any()
    assert after.shared[WANT, 0] == 1.0
    hours = 0.0
    course = cold
    for first in range(0, 4 * 3600, 60):
        course, *_ = play(course, 60, fed=False, first=first)
        hours += max(0.0, HEATING_SET_DEGF - course.state[0, AIR] - 3.0) / 60.0
    assert after.state[0, DISCOMFORT] == pytest.approx(hours, rel=0.01)


def test_the_cycle_is_that_of_a_thermostat():
    """At half duty a compressor starts one to four times an hour (common practice, no source)."""
    _, on, _ = play(room(COOLING, 82.5), 8 * 3600)
    starts = np.sum(on[1:] & ~on[:-1])
    assert 1.0 <= starts / 8.0 <= 4.0


def test_ten_seconds_are_fine_enough():
    """A look every ten seconds gives the run time of a look every second within half a per cent."""
    run_s = [demanded(room(COOLING, 90.0, tick_s=tick_s), 48.0).run_s[0]
             for tick_s in (1.0, TICK_S)]
    assert run_s[1] == pytest.approx(run_s[0], rel=0.005)
