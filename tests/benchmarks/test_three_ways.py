"""The contenders of the benchmarks answer the same question; the tables say what was measured."""

from __future__ import annotations

import math

import pytest

from planner.service.house import house_of
from tests.benchmarks.contest import Result, nothing, shortfall
from tests.benchmarks.entrants import Step, not_dominated, widest_gap
from tests.benchmarks.questions import grown_book, grown_home
from tests.benchmarks.tables import growth_table, side_table

TINY = "grown:10,1,3"
LIMITS = (60.0, 30.0)
WAYS = ("planner", "plain", "plain-shares", "plain-grid")


@pytest.fixture(scope="module")
def answers():
    """Ask all."""
    from tests.benchmarks.one import run

    return {name: run(name, TINY, *LIMITS) for name in WAYS}


@pytest.mark.solver
@pytest.mark.parametrize("way", ["plain", "plain-shares", "plain-grid"])
def test_the_plain_way_agrees_within_its_gap(answers, way):
    """Its plans are never better than the planner's, which are never better than its bounds."""
    mine = Result("planner", TINY, **answers["planner"])
    theirs = Result(way, TINY, **answers[way])
    assert theirs.finished
    assert theirs.points
    assert shortfall(mine, theirs) <= 1e-6
    assert shortfall(theirs, mine) <= theirs.widest_gap + 2e-4
    assert mine.least_usd <= theirs.least_usd + 0.005


@pytest.mark.parametrize(("loads", "days"), [(10, 1), (20, 3), (80, 4)])
def test_a_made_up_home_grows_as_asked(loads, days):
    """It has as many loads and days as asked, is the same each time, and some loads take turns."""
    one = grown_home(loads, days)
    assert (len(one.loads), len(one.days)) == (loads, days)
    assert one == grown_home(loads, days)
    turns = [ld for ld in one.loads if "module" in ld.allowed]
    assert len(turns) == max(3, loads * 3 // 10)
    assert house_of(one).slots == 96 * days
    assert len(grown_book(loads, 12).generators) == 12


def test_the_gap_is_what_valid_plans_leave_open():
    """A step that the replay refuses is no plan; at its cost a cheaper plan counts, if there is."""
    refused = Step(900.0, math.nan, 0.8, True)
    good, worse = Step(1000.0, 0.5, 0.6, True), Step(1100.0, 0.45, 0.7, True)
    assert not_dominated([worse, refused, good]) == [good]
    assert widest_gap([good]) == pytest.approx(0.1)
    assert widest_gap([good, worse]) == pytest.approx(0.2)
    assert widest_gap([good, refused]) == pytest.approx(0.8)
    assert widest_gap([]) == 1.0


def test_a_contender_without_an_answer_has_no_figures():
    """Nothing stands where nothing was measured."""
    fast = Result("planner", TINY, 0.5, 0.4, True, 0, 2, 0.0, ((100.0, 0.5),), 300.0)
    failed = side_table([fast, nothing("plain", TINY)]).splitlines()[-1]
    assert failed == "| plain way, step by step | - | - | - | - | 0 | 50.00 % | - |"


def test_a_contender_that_ran_out_of_time_is_marked():
    """Its time and its ratio are lower bounds, and what its plans lack is stated."""
    fast = Result("planner", TINY, 0.5, 0.4, True, 0, 2, 0.0, ((100.0, 0.5), (200.0, 0.9)), 300.0)
    slow = Result("plain", TINY, 60.0, 59.0, False, 1, 1, 0.25, ((150.0, 0.5),), 200.0)
    rows = side_table([fast, slow]).splitlines()
    assert rows[-1] == ("| plain way, step by step | ≥ 60 | ≥ 59 | ≥ 148 | 25.00 % | 1 "
                        "| 50.00 % | 200 |")
    grown = growth_table([[fast, slow]]).splitlines()[-1]
    assert grown == "| 10 | 1 | 3 | 0.40 | 0.00 % | 2 | 300 | ≥ 59 | 25.00 % | ≥ 148 |"
