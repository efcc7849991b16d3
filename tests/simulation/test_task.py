"""Pieces of work: begun once, paused for a while, done in time or lost."""

from __future__ import annotations

import numpy as np
import pytest

from planner.simulation.appliances.task import SHORT_S, UNCUT
from planner.simulation.columns import (
    BUTTON,
    CLOCK_S,
    HIGH,
    KW,
    LOST,
    LOW,
    MISSED,
    PAUSE_S,
    TASK,
    WAIT_S,
)
from tests.simulation.alone import blank, machine, play

SLOT_S = 900
LATE_S = 20  # a machine looks at itself every ten seconds


def work(*runs, wait_s=0.0, pause_s=0.0, button=False, midnight_h=12.0):
    """A task of 2 kW with (start s, length s); second 0 is at `midnight_h` o'clock."""
    row, state = blank(10.0)
    row[KW], row[HIGH], row[LOW] = 2.0, 2.0, 2.0
    row[WAIT_S], row[PAUSE_S], row[BUTTON] = wait_s, pause_s, float(button)
    row[CLOCK_S] = 3600.0 * midnight_h
    start, length = zip(*runs, strict=True)
    return machine(TASK, row, state, events=(start, length, np.ones(len(start))))


def dark(first_s, last_s):
    """Power but for a while."""
    return lambda second: not first_s <= second < last_s


def test_with_power_it_takes_its_length_and_no_more():
    """Two tasks run to the second, and nothing is lost."""
    after, on, _ = play(work((100.0, 2700.0), (5000.0, 33.0)), 6000)
    assert on.sum() == 2733
    assert np.flatnonzero(on)[[0, -1]].tolist() == [100, 5032]
    assert after.state[0, MISSED] == after.state[0, LOST] == 0.0


@pytest.mark.parametrize(("dark_s", "lost"), [(880, 0.0), (900 + LATE_S, 1.0)])
def test_a_meal_is_cut_when_it_is_dark_for_more_than_a_quarter_of_an_hour(dark_s, lost):
    """What was begun goes on after a short pause and is given up after a longer one."""
    supper = work((600.0, 1800.0), pause_s=SLOT_S)
    after, on, _ = play(supper, 6000, fed=dark(1200, 1200 + dark_s))
    assert after.state[0, MISSED] == lost
    assert on.sum() == (600 if lost else 1800)


def test_pauses_add_up():
    """Three pauses of six minutes are more than a meal stands."""
    def fed(second):
        return not any(first <= second < first + 360 for first in (900, 1500, 2100))

    after, on, _ = play(work((600.0, 1800.0), pause_s=SLOT_S), 6000, fed=fed)
    assert after.state[0, MISSED] == 1.0
    assert on.sum() < 1800


@pytest.mark.parametrize(("begins_s", "lost"), [(600 + 3600, 0.0), (600 + 3600 + 100, 1.0)])
def test_it_may_begin_within_its_wait(begins_s, lost):
    """An hour of patience, and a minute; a lost task is not begun again."""
    after, on, _ = play(work((600.0, 1800.0), wait_s=3600.0), 9000,
                        fed=lambda second: second >= begins_s)
    assert after.state[0, MISSED] == lost
    assert on.sum() == (0 if lost else 1800)


def test_a_wash_that_may_pause_is_done_in_time():
    """It may be put off for an hour in all: two dark half hours, and it ends an hour late."""
    def fed(second):
        return not (900 <= second < 2700 or 3000 <= second < 4700)

    washing = work((600.0, 1800.0), wait_s=3600.0, pause_s=3600.0)
    after, on, _ = play(washing, 9000, fed=fed)
    assert on.sum() == 1800
    assert after.state[0, MISSED] == 0.0
    after, *_ = play(washing, 9000, fed=dark(900, 900 + 3600 + LATE_S))
    assert after.state[0, MISSED] == 1.0


@pytest.mark.parametrize(("dark_s", "lost"), [(SHORT_S - LATE_S, 0.0), (SHORT_S + LATE_S, 1.0)])
def test_what_may_not_pause_stands_a_few_minutes(dark_s, lost):
    """Less than a slot of the plan is no pause."""
    after, *_ = play(work((600.0, 1800.0), wait_s=3600.0), 6000, fed=dark(1200, 1200 + dark_s))
    assert after.state[0, MISSED] == lost


def test_what_must_not_be_cut_is_lost_by_any_cut():
    """A second without power, once it was begun, is one too many."""
    after, *_ = play(work((600.0, 1800.0), pause_s=UNCUT), 4000, fed=dark(1200, 1201))
    assert after.state[0, MISSED] == 1.0


@pytest.mark.parametrize(("hour", "runs_on"), [(20.0, True), (23.0, False)])
def test_a_start_button_is_pressed_again_only_while_somebody_is_up(hour, runs_on):
    """After a cut of a minute a dryer goes on in the evening, at night it stands still."""
    dryer = work((600.0, 1800.0), pause_s=3600.0, wait_s=3600.0, button=True, midnight_h=hour)
    after, on, _ = play(dryer, 9000, fed=dark(1200, 1260))
    assert on.sum() == (1800 if runs_on else 600)
    assert after.state[0, MISSED] == float(not runs_on)


def test_a_button_pressed_late_in_the_evening_is_pressed():
    """The family starts it when it wants it, whatever the hour; what runs at 22 h runs on."""
    for hour in (21.5, 23.0):
        _, on, _ = play(work((600.0, 3000.0), button=True, midnight_h=hour), 6000)
        assert on.sum() == 3000


def test_what_waits_at_night_begins_in_the_morning():
    """Without power when it was started at 6 h, it is begun at 7 h, not as soon as there is."""
    washing = work((0.0, 1800.0), wait_s=7200.0, button=True, midnight_h=6.0)
    _, on, _ = play(washing, 9000, fed=dark(0, 900))
    assert np.flatnonzero(on)[0] == pytest.approx(3600, abs=10)
    assert on.sum() == 1800


@pytest.mark.parametrize(("wanted_h", "hour_s"), [(6.8, 1800), (22.1, 1800)])
def test_a_meal_that_began_a_little_before_its_hour_is_begun_again(wanted_h, hour_s):
    """Uses begin up to 20 min from their hour: breakfast at 6:48 is not left after a short cut."""
    breakfast = work((0.0, float(hour_s)), pause_s=SLOT_S, button=True, midnight_h=wanted_h)
    after, on, _ = play(breakfast, 6000, fed=dark(60, 120))
    assert after.state[0, MISSED] == 0.0
    assert on.sum() == hour_s
