"""What an installer sets, and what the maker of the generator has to be asked."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.plan.generator_lines import to_verify_of_generator
from planner.report.tables.settings import settings_table
from planner.simulation.settings import Settings
from tests.homes import generator
from tests.simulation.plans import plan_of
from tests.simulation.test_rooms import house


def shown(**changes):
    """The settings' texts by key, on a generator of 20 kW of which 0.9 may be used."""
    plan = plan_of(house(), generator(20.0, 5000.0))
    return {line.key: line.value
            for line in settings_table(plan, Settings(**changes)).items}, plan


def test_each_threshold_is_shown_as_it_is_played():
    """Hertz, seconds and kilowatts follow the settings; a compressor's lock-out is in minutes."""
    usual, plan = shown()
    assert usual["first_level"] == (
        "below 57 Hz for 0.5 s without rising 1 Hz a second; again each 0.5 s")
    assert usual["second_level"] == "below 48 Hz for 0.2 s; open 0.5 s after it was crossed"
    assert usual["lock_out"] == "4 min"
    assert plan.supply.derated_kw == pytest.approx(19.76)
    assert "(18.7 kW here) for 5 s" in usual["overload"]  # 18.772, and never rounded up
    other, _ = shown(fast_frequency=0.85, fast_s=0.4, short_cycle_s=90.0)
    assert other["second_level"] == "below 51 Hz for 0.2 s; open 0.4 s after it was crossed"
    assert other["lock_out"] == "90 s"


def test_a_module_closes_within_the_plan_s_share_where_that_is_less():
    """A home that uses 0.8 of the rating does not let the controller fill 0.9 of it."""
    plan = plan_of(house(), generator(20.0, 5000.0))
    less = replace(plan, supply=replace(plan.supply, capacity_kw=0.8 * plan.supply.derated_kw))
    admit = next(line for line in settings_table(less, Settings()).items if line.key == "admit")
    assert admit.value.startswith("80.0 % of the rating")


def test_what_the_maker_leaves_open_is_named_with_its_range():
    """Each key that the price book does not give stands there, and none that it gives."""
    plan = plan_of(house(), generator(20.0, 5000.0))
    assert to_verify_of_generator(plan) == ()
    silent = replace(plan.supply.generator, unstated=("governor_lag", "under_frequency"))
    found, = to_verify_of_generator(
        replace(plan, supply=replace(plan.supply, generator=silent)))
    assert "governor lag 0.2 s (0.1 to 0.4), under-frequency protection 54 Hz" in found.sentence
    assert "write governor_lag, under_frequency at the generator" in found.remedy
    assert "inertia" not in found.sentence + found.remedy
