"""The sequence from loss to return, second by second."""

from __future__ import annotations

from planner.simulation.loops.transfer import engine_runs, next_state
from planner.simulation.settings import Settings
from planner.simulation.transfer import (
    CARRYING,
    COOLING,
    CRANKING,
    FAILED,
    RESTING,
    SENSING,
    STALLED,
    TRIPPED,
    UTILITY,
    WARMING,
    sequence_of,
)


def course(seconds, *, fails=0, return_s=10**6, state=SENSING, **settings):
    """Give (second, state) of every change."""
    times = sequence_of(Settings(**settings), return_s, fails)
    since, tried, changes = 0, 0, [(0, state)]
    for second in range(1, seconds):
        found, tried = next_state(state, since, tried, second, times)
        if found != state:
            state, since = found, second
            changes.append((second, state))
    return changes


def test_the_house_is_carried_thirty_seconds_after_the_loss():
    """5 s of sensing and 25 s of warming up, unless the estimator sets others (chosen)."""
    assert course(100) == [(0, SENSING), (5, WARMING), (30, CARRYING)]


def test_sensing_and_warm_up_are_the_estimators_to_set():
    """With 2 s and 58 s the engine is called 2 s after the loss and carries after a minute."""
    assert course(100, sensing_s=2.0, warm_up_s=58.0) == [
        (0, SENSING), (2, WARMING), (60, CARRYING)]


def test_failed_starts_are_tried_again_after_a_rest():
    """Two failures of 15 s with 15 s of rest each put the transfer off by a minute."""
    assert course(200, fails=2) == [
        (0, SENSING), (5, CRANKING), (20, RESTING), (35, CRANKING), (50, RESTING), (65, WARMING),
        (90, CARRYING)]


def test_after_the_last_try_the_engine_gives_up():
    """Three tries, then nothing more until the utility returns, at once."""
    changes = course(1000, fails=3, return_s=500)
    assert [state for _, state in changes].count(CRANKING) == 3
    assert changes[-2:] == [(80, FAILED), (500, UTILITY)]


def test_the_utility_must_stay_before_the_house_returns_to_it():
    """Retransfer after its delay, then the engine cools down unloaded, then stops."""
    changes = course(2000, return_s=600, retransfer_s=120.0, cool_down_s=300.0)
    assert changes[-2:] == [(720, COOLING), (1020, UTILITY)]


def test_a_short_outage_does_not_wait_for_the_generator():
    """If the utility is back before the generator carries, the house returns to it at once."""
    assert course(100, return_s=3) == [(0, SENSING), (3, UTILITY)]
    assert course(400, return_s=15)[:3] == [(0, SENSING), (5, WARMING), (15, COOLING)]


def test_someone_resets_a_trip_and_restarts_a_stalled_engine():
    """A trip is reset with the engine running; a stalled engine warms up first."""
    assert course(1000, state=TRIPPED, reset_s=900.0) == [(0, TRIPPED), (900, CARRYING)]
    assert course(1000, state=STALLED, reset_s=900.0) == [
        (0, STALLED), (900, WARMING), (925, CARRYING)]


def test_the_engine_turns_when_it_carries_warms_cools_or_has_tripped():
    """Fuel is burned in exactly these states."""
    running = {state for state in range(10) if engine_runs(state)}
    assert running == {WARMING, CARRYING, TRIPPED, COOLING}
