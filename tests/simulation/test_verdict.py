"""What is said of a plan after many outages."""

from __future__ import annotations

from dataclasses import replace

import pytest
from scipy.stats import binomtest

from planner.report.verdict import MUCH_OVERLOAD_S, certainty, verdict_sentences
from planner.simulation import falls
from planner.simulation.interval import share_interval
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


def test_a_fall_is_told_with_its_cause_and_its_interval(results):
    """What pulled the engine down is named; 2 of 2 outages lie between 15.8 and 100 %."""
    stalled = changed(results, stalls=1, falls=((falls.STALL, falls.TOGETHER),))
    assert "direct loads together (2)" in verdict_sentences(stalled)[0]
    assert "15.8 to 100.0 %" in certainty(stalled)
    assert "0 of 2 outages: 0.0 to 84.2 %" in certainty(results)


def test_dips_beyond_the_limit_are_told(results):
    """How many a day, and what mostly begins them."""
    dipped = changed(results, falls=((falls.DIP, falls.ON_TOP),) * 3)
    told, = verdict_sentences(dipped)
    assert "starts a day dip" in told
    assert falls.CAUSES[falls.ON_TOP] in told


def test_an_average_beyond_what_is_permitted_is_told(results):
    """Above 70 % of the rating over a day it is said, at 70 % not (ISO 8528-1)."""
    assert verdict_sentences(changed(results, load_factor=0.70)) == []
    told, = verdict_sentences(changed(results, load_factor=0.75))
    assert "75.0 %" in told


@pytest.mark.parametrize(("number", "of"), [(0, 20), (1, 20), (3, 600), (20, 20), (7, 9)])
def test_the_interval_is_that_of_an_independent_one(number, of):
    """Clopper and Pearson, as scipy works it out."""
    exact = binomtest(number, of).proportion_ci(method="exact")
    assert share_interval(number, of) == pytest.approx((exact.low, exact.high), abs=1e-9)
    with pytest.raises(ValueError, match="no share"):
        share_interval(of + 1, of)


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
