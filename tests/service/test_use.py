"""Patterns of use become calls: as many as the pattern asks, and the same on any machine."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.facts.home import DesignDay, Use
from planner.service.use import calls_of, temperature_degf, use_on
from tests.homes import load

DAY = DesignDay("day", "day", "summer", 1.0, 65.0, 95.0)
SHARES = st.lists(st.floats(0.0, 1.0), min_size=24, max_size=24)


def slots(use, day=DAY):
    """Slots in which a use calls."""
    return np.flatnonzero(calls_of(use, day)).tolist()


def test_always_and_never():
    """All 96 slots, or none."""
    assert slots(Use(kind="always")) == list(range(96))
    assert slots(Use(kind="never")) == []


def test_calls_are_taken_as_written():
    """A 1 in the string is a call in its slot."""
    assert slots(Use(kind="calls", calls="01" * 2 + "0" * 92)) == [1, 3]


def test_half_duty_calls_every_other_slot():
    """A duty of one half calls in 48 slots, never in two that touch."""
    found = slots(Use(kind="duty", hours=(0.5,) * 24))
    assert len(found) == 48
    assert set(np.diff(found)) == {2}


@given(SHARES)
def test_duty_keeps_pace_with_its_shares(hours):
    """After every slot the calls so far are within half a slot of the shares so far."""
    calls = calls_of(Use(kind="duty", hours=tuple(hours)), DAY)
    ahead = np.cumsum(calls) - np.cumsum(np.repeat(hours, 4))
    assert np.abs(ahead).max() <= 0.5 + 1e-6


@given(SHARES, st.integers(0, 95))
def test_offset_moves_a_duty_and_keeps_its_number(hours, offset):
    """Two thermostats with different offsets call as often, `offset` slots apart."""
    plain = calls_of(Use(kind="duty", hours=tuple(hours)), DAY)
    moved = calls_of(Use(kind="duty", hours=tuple(hours), offset_slots=offset), DAY)
    assert moved.sum() == plain.sum()
    assert all(moved[(t + offset) % 96] == plain[t] for t in range(96))


@pytest.mark.parametrize(("event", "expected"), [
    ((10.0, 1.0), [40, 41, 42, 43]),
    ((10.1, 0.3), [40, 41]),  # starts at the nearest slot, takes every slot it touches
    ((10.0, 0.0), [40]),  # even a moment takes a slot
    ((23.5, 2.0), [94, 95]),  # what lies beyond midnight is cut
])
def test_events_take_whole_slots(event, expected):
    """An event calls in each quarter of an hour of its length, within its day."""
    assert slots(Use(kind="events", events=(event,))) == expected


def test_events_that_overlap_call_once():
    """A slot holds one call, however many events cover it."""
    assert slots(Use(kind="events", events=((1.0, 0.5), (1.25, 0.5)))) == [4, 5, 6]


def test_temperature_peaks_in_the_afternoon():
    """The day's high is at 16:00, its low at 04:00 (common practice, no source)."""
    assert temperature_degf(DAY, 16.0) == pytest.approx(95.0)
    assert temperature_degf(DAY, 4.0) == pytest.approx(65.0)
    assert temperature_degf(DAY, 10.0) == pytest.approx(80.0)


def test_cooling_calls_half_the_day_where_duty_swings_from_nought_to_one():
    """From 65 to 95 degF with balance 65 and design 95 the mean duty is one half: 48 calls."""
    cooling = Use(kind="cooling", balance_degf=65.0, design_degf=95.0)
    calls = calls_of(cooling, DAY)
    assert calls.sum() == 48
    assert calls[52:76].sum() > 20  # 13:00 to 19:00
    assert calls[4:28].sum() < 4  # 01:00 to 07:00


def test_cooling_stops_below_its_balance_and_saturates_above_design():
    """No call on a cool day; every slot calls when even the night is beyond design."""
    cooling = Use(kind="cooling", balance_degf=65.0, design_degf=95.0)
    assert slots(cooling, replace(DAY, low_degf=50.0, high_degf=65.0)) == []
    assert len(slots(cooling, replace(DAY, low_degf=96.0, high_degf=110.0))) == 96


def test_full_duty_scales_cooling():
    """An oversized unit that runs half the time at design calls in half the slots there."""
    cooling = Use(kind="cooling", balance_degf=65.0, design_degf=95.0, full_duty=0.5)
    assert len(slots(cooling, replace(DAY, low_degf=95.0, high_degf=95.0))) == 48


def test_heating_grows_with_the_cold():
    """At design cold it runs through; at the balance it is off; half way it runs half the time."""
    heating = Use(kind="heating", balance_degf=60.0, design_degf=0.0)
    counts = [len(slots(heating, replace(DAY, low_degf=f, high_degf=f))) for f in (60.0, 30.0, 0.0)]
    assert counts == [0, 48, 96]


def test_the_closest_description_of_a_day_wins():
    """A use for the day itself beats one for its season, that one beats every day's; else never."""
    uses = {"day": Use(kind="always"), "summer": Use(kind="events"), "every": Use(kind="never")}
    one = load("one", 1.0, use=uses)
    assert use_on(one, DAY) is uses["day"]
    assert use_on(one, replace(DAY, id="other")) is uses["summer"]
    assert use_on(one, replace(DAY, id="other", season="winter")) is uses["every"]
    assert use_on(replace(one, use={}), DAY).kind == "never"
