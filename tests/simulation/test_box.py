"""Refrigerators and freezers."""

from __future__ import annotations

import numpy as np
import pytest

from planner.physics.stores import DOOR_SHARE, FREEZER_DEGF, FRIDGE_DEGF
from planner.simulation.appliances.box import THAW_EVERY_S, THAW_S, TICK_S, write_box
from planner.simulation.columns import (
    AIR,
    BOX,
    CAPACITY,
    DISCOMFORT,
    KW,
    MASS,
    THAW_KW,
    WORST,
)
from planner.simulation.machines import demanded
from tests.simulation.alone import blank, machine, play


def box(*, freezer=False, duty=1.0 / 3.0, doors=True):
    """A box whose door is opened once an hour all day, for four days."""
    row, state = blank(TICK_S)
    row[KW] = 0.15
    heat_btu = write_box(row, state, kw=0.15, duty=duty, freezer=freezer)
    start = np.arange(0.0, 96 * 3600.0, 3600.0) if doors else np.empty(0)
    return machine(BOX, row, state,
                   events=(start, np.zeros(len(start)), np.full(len(start), heat_btu / 24.0)))


@pytest.mark.parametrize("freezer", [False, True])
def test_it_runs_a_third_of_its_hours(freezer):
    """Run hours are a third of the hours plugged in.

    US Department of Energy, Estimating Appliance and Home Electronic Energy Use (title from
    memory, read in copies).
    """
    machines = box(freezer=freezer)
    run_s = demanded(machines, 96.0)[1] - demanded(machines, 24.0)[1]
    assert run_s[0] / (72.0 * 3600.0) == pytest.approx(1.0 / 3.0, rel=0.03)


def test_a_closed_door_saves_its_share():
    """With the door shut it runs less by the share that the doors let in."""
    machines = box(doors=False)
    run_s = demanded(machines, 96.0)[1] - demanded(machines, 24.0)[1]
    assert run_s[0] / (72.0 * 3600.0) == pytest.approx((1.0 - DOOR_SHARE) / 3.0, rel=0.03)


@pytest.mark.parametrize(("freezer", "start_degf", "warm_degf", "hours"), [
    (False, FRIDGE_DEGF, 40.0, 4.0), (True, FREEZER_DEGF, 32.0, 48.0)])
def test_food_keeps_as_long_as_the_food_safety_rule_says(freezer, start_degf, warm_degf, hours):
    """Closed and without power: 4 h in a refrigerator, 48 h in a full freezer.

    US Food and Drug Administration, food safety during power outages (from memory).
    """
    machines = box(freezer=freezer, doors=False)
    before, *_ = play(machines, round(0.98 * hours * 3600), fed=False)
    after, *_ = play(machines, round(1.02 * hours * 3600), fed=False)
    assert before.state[0, MASS] < warm_degf < after.state[0, MASS]
    assert before.state[0, DISCOMFORT] == 0.0 < after.state[0, DISCOMFORT]
    assert after.state[0, WORST] == after.state[0, MASS] > start_degf


def test_an_open_door_warms_the_air_by_its_heat():
    """One opening lifts the air by Btu over Btu/degF, at once."""
    row, state = blank(TICK_S)
    row[KW] = 0.15
    write_box(row, state, kw=0.15, duty=0.3, freezer=False)
    still = machine(BOX, row, state)
    opened = machine(BOX, row, state, events=((1.0,), (0.0,), (5.0,)))
    rise = play(opened, 20)[0].state[0, AIR] - play(still, 20)[0].state[0, AIR]
    assert rise == pytest.approx(5.0 / row[CAPACITY], rel=1e-9)


def test_it_starts_about_once_or_twice_an_hour():
    """A household compressor starts half to three times an hour (common practice, no source)."""
    _, on, _ = play(box(), 12 * 3600)
    assert 0.5 <= np.sum(on[1:] & ~on[:-1]) / 12.0 <= 3.0


def test_its_coil_is_thawed_once_for_eight_hours_of_its_compressor():
    """20 minutes of the heater each time, the compressor at rest; it still keeps its food cold."""
    machines = box()
    machines.parameters[0, THAW_KW] = 0.45
    after, on, kw = play(machines, 96 * 3600)
    thawing = on & (kw == 0.45)
    begun = np.flatnonzero(thawing[1:] & ~thawing[:-1])
    compressor_s = (on & (kw == 0.15)).sum()
    assert len(begun) == int(compressor_s / THAW_EVERY_S)
    assert thawing.sum() == pytest.approx(len(begun) * THAW_S, abs=2 * TICK_S * len(begun))
    assert 3 <= len(begun) <= 5
    assert after.state[0, WORST] < 40.0
    plain = play(box(), 96 * 3600)[2]
    assert (plain <= 0.15).all()
