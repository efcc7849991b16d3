"""Appliances that someone switches on, and those that are always on."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.simulation.columns import (
    COLUMN,
    DONE,
    EVENT,
    HIGH,
    IDLE,
    KW,
    LOST,
    LOW,
    MISSED,
    STEADY,
    TICK,
    WAIT_S,
)
from tests.simulation.alone import blank, machine, play

SLOT_S = 900


def appliance(*runs, wait_s=0.0, kw=2.0, high=None):
    """An appliance with events (start s, length s)."""
    row, state = blank(10.0)
    high = kw if high is None else high
    row[KW], row[WAIT_S], row[HIGH], row[LOW] = kw, wait_s, high, 3.0 * kw - 2.0 * high
    start, length = zip(*runs, strict=True)
    return machine(EVENT, row, state, events=(start, length, np.ones(len(start))))


def test_with_power_it_runs_its_length_to_the_second():
    """Energy is kW times length; it starts at its start and ends at its end."""
    _, on, kw = play(appliance((100.0, 2701.0), (5000.0, 33.0)), 6000)
    assert on.sum() == 2701 + 33
    assert np.flatnonzero(on)[[0, -1]].tolist() == [100, 5032]
    assert kw.sum() == pytest.approx(2.0 * (2701 + 33))


def test_elements_cycle_around_the_planned_draw():
    """A range draws a tenth more for two thirds of its cycle; the mean stays."""
    _, on, kw = play(appliance((0.0, 3600.0), high=2.2), 4000)
    assert set(np.unique(kw[on]).round(9)) == {2.2, 1.6}
    assert kw.sum() / on.sum() == pytest.approx(2.0, rel=0.005)


def test_supper_that_cannot_wait_is_lost():
    """Without a wait, what is not served at once is given up, and counted once as missed."""
    after, on, _ = play(appliance((600.0, 1800.0)), 4000, fed=False)
    assert not on.any()
    assert after.state[0, LOST] == pytest.approx(1800.0, abs=1.0)
    assert after.state[0, MISSED] == 1.0


def test_power_that_comes_late_serves_the_rest():
    """Without a wait, a load that gets power after a third runs the other two thirds."""
    after, on, _ = play(appliance((600.0, 1800.0)), 4000, fed=lambda second: second >= 1200)
    assert on.sum() == pytest.approx(1200, abs=10)
    assert after.state[0, MISSED] == 0.0


def test_laundry_waits_for_power():
    """With a wait of an hour the whole of it runs when power comes within the hour."""
    after, on, _ = play(appliance((600.0, 1800.0), wait_s=3600.0), 9000,
                        fed=lambda second: second >= 4000)
    assert on.sum() == 1800
    assert after.state[0, LOST] == 0.0
    assert after.state[0, DONE] == 0.0


def served_by_the_rule(calls, power, wait):
    """Slots served by the planner's rule for one load: oldest first, dropped when too old."""
    pending, served = [], 0
    for slot, (call, fed) in enumerate(zip(calls, power, strict=True)):
        if call:
            pending.append(slot)
        pending = [one for one in pending if one + wait >= slot]
        if pending and fed:
            pending.pop(0)
            served += 1
    return served


@settings(max_examples=60, deadline=None)
@given(st.lists(st.booleans(), min_size=12, max_size=12),
       st.lists(st.booleans(), min_size=12, max_size=12), st.integers(0, 4))
def test_it_is_the_planners_rule_with_seconds_for_slots(calls, power, wait):
    """For any calls and any power, slot by slot, it runs the seconds that the rule would serve.

    A machine looks at itself every ten seconds, so each change of power may blur ten of them.
    """
    runs, slot = [], 0
    while slot < 12:
        first = slot
        while slot < 12 and calls[slot]:
            slot += 1
        if slot > first:
            runs.append((float(first * SLOT_S), float((slot - first) * SLOT_S)))
        slot += 1
    if not runs:
        return
    _, on, _ = play(appliance(*runs, wait_s=float(wait * SLOT_S)), 12 * SLOT_S,
                    fed=lambda second: power[second // SLOT_S])
    expected = SLOT_S * served_by_the_rule(calls, power, wait)
    assert on.sum() == pytest.approx(expected, abs=120)


def test_a_base_load_follows_its_column_and_loses_what_it_does_not_get():
    """Draw is kW times the factor of the minute; an hour in the dark is an hour lost."""
    row, state = blank(60.0)
    row[KW], row[COLUMN] = 0.5, 2.0
    base = machine(STEADY, row, state, minute=((50.0, 1.0, 1.2), (50.0, 1.0, 0.8)))
    _, _, kw = play(base, 600)
    assert kw[60:120].tolist() == pytest.approx([0.6] * 60)
    assert kw[180:].tolist() == pytest.approx([0.4] * 420)
    after, *_ = play(base, 3660, fed=False)
    assert after.state[0, LOST] == pytest.approx(3600.0)


def test_an_idle_load_never_calls():
    """A load without a call on the day asks for nothing."""
    row, state = blank(60.0)
    assert row[TICK] == 60.0
    _, on, kw = play(machine(IDLE, row, state), 300)
    assert not on.any()
    assert kw.sum() == 0.0
