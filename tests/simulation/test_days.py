"""Weather, events and dice: unbiased, in order, and repeatable."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.facts.home import DesignDay
from planner.service.use import temperature_degf
from planner.simulation.schedule import DAY_S, SLOT_S, events_of, in_order, runs_of
from planner.simulation.seeds import generator_of, wander
from planner.simulation.weather import outdoor_degf, sunshine

HOT = DesignDay("hot", "hot", "summer", 1.0, 74.0, 97.0)


def marks(*slots):
    """Calls in the given slots."""
    calls = np.zeros(96, dtype=np.bool_)
    calls[list(slots)] = True
    return calls


def test_the_weather_scatters_around_the_design_day():
    """Minute by minute the mean over seeds is the design day's course, with a degree of scatter."""
    days = np.array([outdoor_degf(HOT, -600, 1440, generator_of(seed, "w")) for seed in range(300)])
    course = [temperature_degf(HOT, (minute - 600) / 60.0) for minute in range(1440)]
    assert days.mean(axis=0) == pytest.approx(course, abs=0.3)
    assert 0.5 < days.std(axis=0).mean() < 2.0


def test_the_sun_has_a_mean_of_one_and_no_nights():
    """Relative to its mean over 24 hours; dark before six and after eighteen o'clock."""
    days = np.array([sunshine(0, 1440, generator_of(seed, "sun")) for seed in range(200)])
    assert days.mean() == pytest.approx(1.0, abs=0.02)
    assert days[:, :360].max() < 1e-12
    assert days[:, 1080:].max() < 1e-12
    assert days.mean(axis=0).max() == pytest.approx(np.pi, rel=0.05)


def test_rows_of_calls_go_on_past_midnight():
    """A day repeats: calls at its end and its beginning are one run, and gaps wrap around."""
    late, noon = sorted(runs_of(marks(95, 94, 0, 48, 49)), key=lambda run: -run.start_s)
    assert (late.start_s, late.length_s, late.gap_s) == (94 * SLOT_S, 3 * SLOT_S, 47 * SLOT_S)
    assert (noon.start_s, noon.length_s, noon.gap_s) == (48 * SLOT_S, 2 * SLOT_S, 44 * SLOT_S)


@given(st.sets(st.integers(0, 95), min_size=1, max_size=96))
def test_runs_and_gaps_fill_the_day(slots):
    """Runs hold every call once, and with their gaps they make up 24 hours."""
    runs = runs_of(marks(*slots))
    assert sum(run.length_s for run in runs) == len(slots) * SLOT_S
    assert sum(run.length_s + run.gap_s for run in runs) == DAY_S


@given(st.sets(st.integers(0, 95), min_size=1, max_size=95), st.integers(0, 2**32))
def test_events_do_not_overlap_and_keep_their_number(slots, seed):
    """One event for each run of each day, in order, each starting after the one before."""
    runs = runs_of(marks(*slots))
    events = events_of(runs, np.random.default_rng(seed), -2 * DAY_S, 3 * DAY_S)
    assert len(events.start_s) == 5 * len(runs)
    ends = events.start_s + events.length_s
    assert np.all(events.start_s[1:] >= ends[:-1] - 1e-6)


def test_events_are_unbiased():
    """Over many days start and length are on average those of the calls, and they do vary."""
    runs = runs_of(marks(72, 73, 74))
    events = events_of(runs, np.random.default_rng(1), 0.0, 2000 * DAY_S)
    assert (events.start_s % DAY_S).mean() == pytest.approx(72 * SLOT_S, abs=60.0)
    assert events.length_s.mean() == pytest.approx(3 * SLOT_S, rel=0.02)
    assert (events.start_s % DAY_S).std() == pytest.approx(600.0, rel=0.15)


def test_events_that_collide_are_put_off():
    """The later of two waits for the earlier; what is apart stays."""
    events = in_order(np.array([50.0, 0.0, 500.0]), np.array([10.0, 100.0, 5.0]), np.arange(3.0))
    assert events.start_s.tolist() == [0.0, 100.0, 500.0]
    assert events.size.tolist() == [1.0, 0.0, 2.0]


def test_dice_depend_on_every_name_and_on_the_seed():
    """Same names and seed, same numbers; any other name, other numbers."""
    first = generator_of(1, "home", "load").random(3).tolist()
    assert generator_of(1, "home", "load").random(3).tolist() == first
    for other in ((2, "home", "load"), (1, "home", "loa", "d"), (1, "load", "home")):
        assert generator_of(*other).random(3).tolist() != first


def test_a_wandering_factor_stays_in_its_band_around_one():
    """Its mean is 1 and it never leaves 1 ± amplitude."""
    factor = wander(np.random.default_rng(0), 200_000, 0.25, 10)
    assert factor.mean() == pytest.approx(1.0, abs=0.005)
    assert 0.75 <= factor.min() < 0.8
    assert 1.2 < factor.max() <= 1.25
