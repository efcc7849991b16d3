"""Pits and batches, water under pressure, cars, and those that follow others."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.physics.stores import DRAWDOWN_GAL
from planner.simulation.appliances.pressure import PUMP_GAL_S
from planner.simulation.appliances.pressure import TICK_S as PRESSURE_TICK_S
from planner.simulation.appliances.store import PIT_TICK_S
from planner.simulation.columns import (
    BATTERY,
    BY_S,
    COLUMN,
    DEFICIT,
    DRAWDOWN,
    EVENT,
    FOLLOW,
    FULL_AT,
    HIGH,
    HOT,
    KW,
    LEAVES,
    LOST,
    LOW,
    MISSED,
    NEXT,
    PRESSURE,
    PUMP,
    START_AT,
    STORE,
    VEHICLE,
    VOLUME,
    WORST,
)
from planner.simulation.machines import demanded
from tests.simulation.alone import blank, machine, play


def pit(inflow, *, full_at=240.0):
    """A pit with a pump; inflow as a share of what the pump takes."""
    row, state = blank(PIT_TICK_S)
    row[KW], row[COLUMN], row[START_AT], row[FULL_AT] = 0.8, 2.0, 60.0, full_at
    return machine(STORE, row, state, minute=((50.0, 1.0, inflow),))


def test_a_pump_runs_the_share_of_its_inflow():
    """Water in is water out: run time is the inflow's share of the time."""
    run_s = demanded(pit(0.15), 24.0).run_s
    assert run_s[0] == pytest.approx(0.15 * 86400.0, abs=60.0)


def test_a_pit_cycles_by_volume_over_flow():
    """It runs V / (pump - inflow) and rests V / inflow: 60/0.8 s and 60/0.2 s."""
    _, on, _ = play(pit(0.2), 4 * 3600)
    starts = np.flatnonzero(on[1:] & ~on[:-1])
    assert np.diff(starts).mean() == pytest.approx(60.0 / 0.8 + 60.0 / 0.2, rel=0.03)


def test_a_pit_without_power_overflows_once():
    """It fills in (room)/inflow seconds; what comes after is lost; one overflow is counted."""
    after, *_ = play(pit(0.2), 3600, fed=False)
    assert after.state[0, LOST] == pytest.approx(0.2 * (3600.0 - 240.0 / 0.2), abs=2.0)
    assert after.state[0, MISSED] == 1.0


def water(*draws):
    """A pump and its tank; draws are (start s, length s, gal/s)."""
    row, state = blank(PRESSURE_TICK_S)
    row[KW], row[PUMP], row[DRAWDOWN] = 1.0, PUMP_GAL_S, DRAWDOWN_GAL
    state[VOLUME] = DRAWDOWN_GAL
    return machine(PRESSURE, row, state, events=tuple(zip(*draws, strict=True)))


def test_the_pump_cycles_by_drawdown_over_flow():
    """A period is V / (pump - taps) + V / taps."""
    taps = 0.4 * PUMP_GAL_S
    _, on, _ = play(water((0.0, 20000.0, taps)), 20000)
    starts = np.flatnonzero(on[1:] & ~on[:-1])
    period = DRAWDOWN_GAL / (PUMP_GAL_S - taps) + DRAWDOWN_GAL / taps
    assert np.diff(starts).mean() == pytest.approx(period, rel=0.04)


def test_the_pump_lifts_what_the_taps_take():
    """Run time is gallons over flow, give or take one filling of the tank."""
    run_s = demanded(water((0.0, 36000.0, 0.3 * PUMP_GAL_S)), 12.0).run_s
    assert run_s[0] == pytest.approx(0.3 * 36000.0, abs=DRAWDOWN_GAL / PUMP_GAL_S + 10.0)


def test_without_power_the_tank_lasts_and_then_the_taps_run_dry():
    """Ten gallons flow; the rest is lost, and the second use of water counts as missed."""
    taps = 0.5 * PUMP_GAL_S
    inside = water((100.0, 100.0, taps), (600.0, 600.0, taps))
    after, *_ = play(inside, 2000, fed=False)
    asked = 700.0 * taps
    assert after.state[0, LOST] * PUMP_GAL_S == pytest.approx(asked - DRAWDOWN_GAL, abs=1.0)
    assert after.state[0, MISSED] == 1.0


def car(*stays, kw=9.6, by_s=-1.0):
    """A charger; stays are (comes s, length s, kWh), miles are promised by a second of the day."""
    row, state = blank(10.0)
    row[KW], row[BATTERY], row[BY_S] = kw, 60.0, by_s
    state[LEAVES] = -np.inf
    return machine(VEHICLE, row, state, events=tuple(zip(*stays, strict=True)))


def test_a_charge_takes_energy_over_power():
    """19.2 kWh at 9.6 kW: two hours, from when the car comes home."""
    after, on, kw = play(car((1000.0, 36000.0, 19.2)), 12000)
    assert on.sum() == pytest.approx(7200, abs=1)
    assert np.flatnonzero(on)[0] == pytest.approx(1000, abs=1)
    assert kw.sum() / 3600.0 == pytest.approx(19.2, abs=0.01)
    assert after.state[0, DEFICIT] == 0.0


def test_a_car_that_leaves_uncharged_comes_home_emptier():
    """What a night missed counts when the car leaves, and is asked for the next night."""
    nights = car((0.0, 7200.0, 9.6), (20000.0, 20000.0, 4.8))
    after, on, _ = play(nights, 40000, fed=lambda second: second > 10000)
    assert after.state[0, MISSED] == 1.0
    assert after.state[0, LOST] == pytest.approx(3600.0)
    assert on.sum() == pytest.approx(3600 + 1800, abs=2)


@pytest.mark.parametrize(("by_s", "missing_kwh"), [
    (1801.0, 24.0), (7200.0, 14.4), (7201.0, 9.6 * 5399 / 3600), (30000.0, 0.0), (-1.0, 0.0)])
def test_what_a_car_lacks_at_its_promised_hour_is_kept(by_s, missing_kwh):
    """24 kWh from an hour on, at 9.6 kW: what is missing in that very second, home or away."""
    after, *_ = play(car((1800.0, 80000.0, 24.0), by_s=by_s), 80000,
                     fed=lambda second: second >= 3600)
    assert after.state[0, WORST] == pytest.approx(missing_kwh, abs=0.02)


def test_a_car_that_is_away_has_what_it_left_with():
    """It leaves after half an hour of charging; at the promised hour it is on the road."""
    after, *_ = play(car((0.0, 1800.0, 24.0), by_s=40000.0), 60000)
    assert after.state[0, WORST] == pytest.approx(24.0 - 4.8, abs=0.05)


def test_a_blower_follows_the_thermostats_that_need_it():
    """It calls while any of those calls, and only then."""
    row, state = blank(10.0)
    row[KW] = row[HIGH] = row[LOW] = 3.0
    leader = machine(EVENT, row, state, events=((500.0,), (300.0,), (1.0,)))
    blower = row.copy()
    blower[KW] = 0.5
    shared = np.zeros((HOT, 2))
    shared[NEXT] = 10.0, np.inf
    both = replace(
        leader, kind=np.array([EVENT, FOLLOW], dtype=np.int8),
        parameters=np.array([row, blower]), state=np.array([state, state]), shared=shared,
        shared_parameters=np.array([1.0]), event_first=np.array([0, 1, 2]),
        event_start_s=np.array([500.0, 0.0]), event_length_s=np.array([300.0, 0.0]),
        event_size=np.array([1.0, 0.0]))
    kwh, run_s, *_ = demanded(both, 0.5)
    assert run_s.tolist() == [300.0, 300.0]
    assert kwh[1] == pytest.approx(0.5 * 300.0 / 3600.0)
