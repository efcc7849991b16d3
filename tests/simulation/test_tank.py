"""A storage water heater."""

from __future__ import annotations

import numpy as np
import pytest

from planner.physics.stores import SHOWER_DEGF, TANK_SET_DEGF
from planner.simulation.appliances.tank import TICK_S, write_tank
from planner.simulation.columns import (
    INLET,
    KW,
    LOWER,
    MISSED,
    TANK,
    TAP,
    UPPER,
    WANT,
    WORST,
)
from planner.simulation.machines import demanded
from tests.reference.first_order import relaxed_degf, tank_capacity_btu_degf, time_constant_h
from tests.simulation.alone import blank, machine, play

NO_SKY = ((0.0, 0.0, 0.0),)


def tank(*, start_degf=None, events=((), (), ()), inlet_degf=58.0, tap_degf=SHOWER_DEGF, **changes):
    """A 50 gal tank with two elements of 4.5 kW."""
    row, state = blank(TICK_S)
    row[KW] = 4.5
    write_tank(row, state, kw=4.5, gal=50.0, **changes)
    row[INLET], row[TAP] = inlet_degf, tap_degf
    if start_degf is not None:
        state[UPPER] = state[LOWER] = start_degf
    return machine(TANK, row, state, events=events, minute=NO_SKY)


def minutes_to_heat(machines):
    """Minutes until neither element is wanted any more, and the energy by then [kWh]."""
    _, on, kw = play(machines, 8000)
    assert on.any()
    assert not on[-1]
    return on.sum() / 60.0, kw.sum() / 3600.0


def test_a_tank_heats_up_as_first_principles_say():
    """50 gal from 14.4 to 51.7 degC at 4.5 kW without loss: 108.7 min, 8.15 kWh (derived).

    189.27 L · 4.156 kJ/(L K) · 37.3 K, water at 33 degC (from memory). With 8.33 Btu/(gal degF),
    water at room temperature, half a per cent more.
    """
    cold_degf, hot_degf = 14.4 * 1.8 + 32.0, 51.7 * 1.8 + 32.0
    minutes, kwh = minutes_to_heat(tank(
        start_degf=cold_degf, loss_btu_h_degf=0.0, efficiency=1.0, set_degf=hot_degf))
    assert minutes == pytest.approx(108.7, rel=0.012)
    assert kwh == pytest.approx(8.15, rel=0.012)
    assert kwh == pytest.approx(50.0 * 8.33 * (hot_degf - cold_degf) / 3412.0, rel=0.006)


def test_a_tank_that_loses_heat_takes_longer():
    """111 min with a loss of 2.17 W/K up to 52.0 degC: a run of OCHRE 0.9.2 (NREL, open source)."""
    minutes, _ = minutes_to_heat(tank(
        start_degf=14.4 * 1.8 + 32.0, loss_btu_h_degf=2.17 * 3.412 / 1.8, efficiency=1.0,
        set_degf=52.0 * 1.8 + 32.0))
    assert minutes == pytest.approx(111.0, abs=1.5)


def test_a_tank_without_power_cools_in_closed_form():
    """50 gal, 2.5 Btu/(h degF): time constant 416.5 / 2.5 = 166.6 h (derived)."""
    constant_h = time_constant_h(tank_capacity_btu_degf(50.0), 2.5)
    assert constant_h == pytest.approx(166.6)
    after, *_ = play(tank(), 10 * 3600, fed=False)
    assert after.state[0, UPPER] == pytest.approx(
        relaxed_degf(TANK_SET_DEGF, 70.0, 10.0, constant_h), abs=0.01)


@pytest.mark.parametrize("share", [0.25, 0.5, 0.75])
def test_its_duty_is_the_draw_over_the_recovery(share):
    """4.5 kW recovers 20.1 gal/h at a rise of 90 degF and 98 % (derived); half of it, half on.

    4.5 · 3412 · 0.98 / (8.33 · 90) = 20.07.
    """
    hours = 60.0
    draw = ((0.0,), (3600.0 * hours,), (share * 20.1 / 3600.0,))
    _, run_s, *_ = demanded(tank(events=draw, inlet_degf=25.0, tap_degf=115.0, loss_btu_h_degf=0.0),
                        hours)
    assert run_s[0] / (3600.0 * hours) == pytest.approx(share, abs=0.01)


def test_a_shower_without_power_runs_cold_and_is_counted():
    """100 gal at the tap empty a 50 gal tank: the water ends near the inlet's temperature."""
    draw = ((600.0,), (2400.0,), (2.5 / 60.0,))
    after, *_ = play(tank(events=draw), 4000, fed=False)
    assert after.state[0, MISSED] == 1.0
    assert 58.0 <= after.state[0, WORST] < 80.0
    assert after.shared[WANT, 0] > 0.0


def test_one_shower_from_a_full_tank_is_hot():
    """15 gal do not cool the top of a full tank below the tap's temperature."""
    after, *_ = play(tank(events=((600.0,), (360.0,), (2.5 / 60.0,))), 1200, fed=False)
    assert after.state[0, MISSED] == 0.0
    assert after.state[0, WORST] == SHOWER_DEGF


def test_a_draw_takes_the_heat_that_flows_out_of_the_tap():
    """The heat missing from the tank is gallons x 8.33 x (tap - inlet), mixing and all."""
    after, *_ = play(tank(events=((600.0,), (360.0,), (2.5 / 60.0,)), loss_btu_h_degf=0.0),
                     1200, fed=False)
    gone = 50.0 / 3.0 * (TANK_SET_DEGF - after.state[0, UPPER])
    gone += 100.0 / 3.0 * (TANK_SET_DEGF - after.state[0, LOWER])
    assert gone == pytest.approx(15.0 * (SHOWER_DEGF - 58.0), rel=0.005)


def test_the_upper_element_goes_first_and_never_both():
    """From cold the top is hot long before the bottom, and the draw is that of one element."""
    after, _, kw = play(tank(start_degf=60.0), 2400)
    assert np.unique(kw[60:]).tolist() == [4.5]
    assert after.state[0, UPPER] > after.state[0, LOWER] + 40.0
