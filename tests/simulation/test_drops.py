"""How far the frequency falls: every drop is booked with the start that caused it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.report.drop_words import drop_sentences
from planner.simulation import falls, tally
from planner.simulation.events import clock_of
from planner.simulation.generator import NOMINAL_HZ
from planner.simulation.outage import simulate
from planner.simulation.outcome.drops import Drop, drops_in
from planner.simulation.outcome.results import Results
from planner.simulation.outcome.summary import summary_of
from planner.simulation.settings import Settings
from tests.homes import base, events, generator, home, load, motor
from tests.simulation.plans import plan_of

LEVEL = 0.98  # so high that a start reaches it


@pytest.fixture(scope="module")
def plan():
    """A pump that starts hard four times a day beside a range that takes turns, on 12 kW."""
    pump = motor("pump", 2.0, 14.0, allowed=frozenset({"direct"}),
                 use=events((2.0, 0.5), (8.0, 0.5), (14.0, 0.5), (20.0, 0.5)))
    return plan_of(home(base(1.0), pump, load("range", 4.0, use=events((8.0, 1.0)))),
                   generator(12.0, 5000.0), "range")


@pytest.fixture(scope="module")
def outage(plan):
    """A day and some from 06:00, with a level just below the droop."""
    return simulate(plan, plan.menu.house.home.days[0], 3, hours=30.0, start_h=6.0,
                    settings=Settings(fast_frequency=LEVEL))


def test_drops_are_the_minutes_in_which_the_frequency_is_below_the_level(outage):
    """The book of minutes knows nothing of the drops, and has a lowest below the level in theirs.

    A drop may last into the next minute, so of minutes in a row the first is compared.
    """
    found = drops_in(outage)
    lowest = outage.tally.lowest_frequency
    below = np.flatnonzero((lowest > 0.0) & (lowest < LEVEL - 1e-6))
    begun = {int(one.second - 6 * 3600.0) // 60 for one in found}
    assert found
    assert begun <= set(below.tolist())
    assert all(minute in begun or minute - 1 in begun for minute in below.tolist())
    assert min(one.lowest_hz for one in found) == pytest.approx(
        NOMINAL_HZ * float(outage.tally.sums[tally.LOWEST_FREQUENCY]))
    assert all(one.level_s >= 0.01 and one.level_hz == NOMINAL_HZ * LEVEL for one in found)


def test_a_drop_names_the_start_just_before_it(outage):
    """The pump begins at most 3 s earlier, as the book of starts has it too."""
    place = outage.ids.index("pump")
    rows = outage.tally.starts[: int(outage.tally.starts_count[0])]
    seconds = rows[rows[:, tally.START_WHO] == place, tally.START_SECOND] + 6 * 3600.0
    mine = [one for one in drops_in(outage) if one.who == place]
    assert mine
    for one in mine:
        assert one.began in seconds
        assert 0.0 <= one.second - one.began <= falls.RECENT_S


def test_without_a_deep_drop_nothing_is_booked_or_said(plan):
    """The same outage with the usual level, 48 Hz, which it does not reach."""
    found = summary_of(simulate(plan, plan.menu.house.home.days[0], 3, hours=30.0))
    assert found.lowest_hz > 48.0
    assert found.drops == ()
    assert drop_sentences(Results(plan, 30.0, (found,))) == []


def test_time_below_the_protection_is_counted_on_end(plan):
    """With a protection above the level the time below it is the longer, without one none."""
    day = plan.menu.house.home.days[0]
    for protection_hz, longer in ((59.5, True), (40.0, False)):
        machine = replace(plan.supply.generator, low_frequency_hz=protection_hz,
                          low_frequency_s=1e6)
        other = replace(plan, supply=replace(plan.supply, generator=machine))
        found = drops_in(simulate(other, day, 3, hours=4.0,
                                  settings=Settings(fast_frequency=LEVEL)))
        assert found
        assert all((one.protection_s >= one.level_s) == longer for one in found)


def test_the_lowest_drop_is_told_with_outage_start_and_length(plan):
    """Day, number of the outage, second, load, both limits and times; how often in how many."""
    day = plan.menu.house.home.days[0]
    played = [summary_of(simulate(plan, day, seed, hours=4.0)) for seed in range(2)]
    low = Drop(90.0, 1, 89.0, falls.ON_TOP, 45.86, 48.0, 0.27, 0.73)
    later = replace(low, second=95000.0, began=94999.0, lowest_hz=44.2)
    said, = drop_sentences(Results(plan, 4.0, (
        replace(played[0], drops=(low, low)), replace(played[1], drops=(later,)))))
    assert said == (
        "The frequency falls below 48 Hz, where the controller opens all modules, 3 times in 2 of "
        "2 outages. The lowest: 44.2 Hz, day, random outage number 1, day 2 02:23:20, after pump "
        "began at day 2 02:23:19 (a start on top of one that was let in). It stood 0.27 s below "
        "48 Hz, and at most 0.73 s on end below the 54 Hz at which its protection stops the "
        "generator after 5 s.")


def test_a_drop_without_a_start_says_so(plan):
    """The load as it stands pulled it down."""
    day = plan.menu.house.home.days[0]
    played = summary_of(simulate(plan, day, 0, hours=1.0))
    low = Drop(90.0, -1, -1.0, falls.LOAD, 45.86, 48.0, 0.27, 0.73)
    said, = drop_sentences(Results(plan, 1.0, (replace(played, drops=(low,)),)))
    assert "after no start: the load as it stands" in said


def test_without_a_controller_no_modules_are_told_of():
    """Nothing takes turns, so nothing opens."""
    plan = plan_of(home(base(1.0)), generator(12.0, 5000.0))
    played = summary_of(simulate(plan, plan.menu.house.home.days[0], 0, hours=1.0))
    low = Drop(90.0, -1, -1.0, falls.LOAD, 45.86, 48.0, 0.27, 0.73)
    said, = drop_sentences(Results(plan, 1.0, (replace(played, drops=(low,)),)))
    assert said.startswith("The frequency falls below 48 Hz 1 time in 1 of 1 outage. The lowest")


def test_times_of_day_have_the_day_from_the_second_on():
    """Seconds since the midnight before the loss."""
    assert clock_of(3661.0) == "01:01:01"
    assert clock_of(86400.0) == "day 2 00:00:00"
