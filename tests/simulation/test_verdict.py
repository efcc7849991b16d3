"""What is said of a plan after many outages."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.report.verdict import MUCH_OVERLOAD_S, verdict_sentences
from planner.simulation.results import Results
from planner.simulation.run import outages
from tests.homes import base, events, generator, home, load
from tests.simulation.plans import plan_of


@pytest.fixture(scope="module")
def results():
    """Two outages of a day each on a set that is large enough for everything."""
    range_ = load("range", 3.0, importance=3, use=events((18.0, 1.0)))
    plan = plan_of(home(base(0.5), range_), generator(20.0, 5000.0), "range")
    return Results(plan, 24.0, tuple(outages(plan, seeds=2, hours=24.0)))


def changed(results, **figures):
    """The same outages with some figures of each set to others."""
    return Results(results.plan, results.hours,
                   tuple(replace(one, **figures) for one in results.summaries))


def test_nothing_speaks_against_a_plan_that_holds(results):
    """No sentence without trips, long overload or a gap."""
    assert verdict_sentences(results) == []


@pytest.mark.parametrize("figure", ["trips", "stalls"])
def test_a_trip_or_stall_is_told_first(results, figure):
    """A plan under which the generator falls out is not to be offered, and how often is said."""
    first, *_ = verdict_sentences(changed(results, **{figure: 1}))
    assert "Do not offer" in first
    assert f"{len(results.summaries)} of {len(results.summaries)} outages" in first


def test_long_overload_is_told(results):
    """Above the line it is told in minutes a day, below it not.

    An outage lasts a little longer than 24 h, as the return is played too.
    """
    hours = results.summaries[0].hours / 24.0
    assert verdict_sentences(changed(results, overload_s=int(MUCH_OVERLOAD_S * 0.9 * hours))) == []
    (told,) = verdict_sentences(changed(results, overload_s=int(4 * MUCH_OVERLOAD_S * hours)))
    assert "20.0 min" in told or "19.9 min" in told


def test_a_promise_not_kept_is_told(results):
    """More than three points less than planned is said with both numbers."""
    told = verdict_sentences(changed(results, kwh=0.9 * results.summaries[0].kwh))
    assert any("promises too much" in sentence for sentence in told)
