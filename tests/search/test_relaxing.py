"""The relaxed model of a size lets all stand that is a plan, and plans are made of its points."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.plan.judged import judged
from planner.plan.price import price_of
from planner.progress import unheard
from planner.search import patience
from planner.search.frontier import Frontier, plans_of
from planner.search.hard import tightening
from planner.search.hard.relaxing import Relaxed
from planner.search.hard.tightening import tighten
from planner.search.limits import SearchLimits
from planner.search.patience import risen
from planner.search.points import Open
from planner.search.problem import problems_of
from planner.search.rising import Rising
from planner.search.still_open import most_at
from planner.tolerances import SAME_COVERAGE, SAME_USD
from tests.benchmarks.questions import grown_book, grown_home
from tests.oracle.wild import wild_book, wild_home

pytestmark = pytest.mark.solver
SHORT = SearchLimits(nodes=2_000, probe=400, all_nodes=3_000)


@pytest.mark.parametrize("seed", range(40))
def test_no_plan_is_above_it(seed):
    """Wild homes whose frontiers are proven: at any price and at that of each plan, for each size.

    Where it says that there is none, there is none.
    """
    one = wild_home(seed, (2, 3, 4)[seed % 3])
    for problem in problems_of(one, wild_book(seed)):
        relaxed, plans = Relaxed(problem), plans_of([problem])
        assert not plans or relaxed.most() >= plans[-1].coverage - SAME_COVERAGE
        for plan in plans:
            assert relaxed.most(plan.cost_usd + SAME_USD) >= plan.coverage - SAME_COVERAGE


@pytest.mark.parametrize("loads", [20, 40])
def test_what_is_made_of_its_points_is_a_plan(loads):
    """Made-up homes: each by the replay and the price book, each cheaper than the one before."""
    made = 0
    for problem in problems_of(grown_home(loads, 2), grown_book(loads, 3)):
        before_usd = float("inf")
        for choice in Relaxed(problem).plans(unheard):
            assert not judged(problem.menu, problem.supply, choice).wrong
            usd = price_of(problem.menu, choice).usd
            assert usd < before_usd
            assert Relaxed(problem).most() >= problem.coverage(choice)
            before_usd, made = usd, made + 1
    assert made >= 1


def test_forty_loads_that_compete_are_bounded_by_what_they_share():
    """Each alone has room and might be kept whole: together they cannot be, and that is said.

    Before, what was hoped for was everything; the plan shown covers as much as the bound allows but
    for a hundredth of a point.
    """
    problems = list(problems_of(grown_home(40, 3), grown_book(40, 3)))
    largest = problems[-1]
    most = Relaxed(largest).most()
    assert 0.99 < most < 0.9995
    best = max((largest.coverage(choice) for choice in Relaxed(largest).plans(unheard)),
               default=0.0)
    assert most - 1e-4 < best <= most


def test_what_is_open_is_lowered_and_never_below_a_plan():
    """A search of forty loads, cut short: what is open is less then, and no plan is above it."""
    problem = replace(problems_of(grown_home(40, 3), grown_book(40, 3))[-1], limits=SHORT)
    rising = Rising(SHORT)
    points = list(rising.run([problem], unheard))
    before = max(one.hope for one in rising.opened)
    tighten(rising, unheard)
    after = max(one.hope for one in rising.opened)
    assert after < before - 1e-4
    made = max(problem.coverage(choice) for choice in Relaxed(problem).plans(unheard))
    assert made > max((point.coverage for point in points), default=0.0)
    assert made <= after


def test_a_point_is_that_of_its_money_whatever_was_asked_between():
    """Plans made again after the model was solved for less money are the same."""
    problem = problems_of(grown_home(20, 2), grown_book(20, 3))[-1]
    relaxed = Relaxed(problem)
    first = list(relaxed.plans(unheard))
    relaxed.most(relaxed.problem.menu.base + 2_000.0)
    assert first
    assert list(relaxed.plans(unheard)) == first


def test_whoever_asks_for_the_end_is_heard_between_sizes():
    """What it raises goes through, from the making of plans."""
    problem = problems_of(grown_home(20, 2), grown_book(20, 3))[-1]

    def ended(_share):
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        list(Relaxed(problem).plans(ended))


@pytest.mark.parametrize(("loads", "days", "sizes"), [(20, 2, 6), (20, 3, 6), (24, 2, 8)])
def test_between_two_points_nothing_is_above_what_is_stated(loads, days, sizes, monkeypatch):
    """Made-up homes with proven frontiers, searched so shortly that much is open.

    Every plan of the proven frontier is at most what is stated at its price; some statement is
    lower than it was without the model, at a price at which a dearer point is known.
    """
    one, book = grown_home(loads, days), grown_book(loads, sizes)
    truth = plans_of(list(problems_of(one, book)))
    assert all(plan.proof.kind == "proven" for plan in truth)
    monkeypatch.setattr(tightening, "EACH", 1)
    short = list(problems_of(one, book, SearchLimits(nodes=300, probe=60, all_nodes=400)))
    stated = Frontier(plans_of(short))
    for plan in truth:
        bound = stated.bound_at(plan.cost_usd)
        assert bound is None or bound >= plan.coverage - SAME_COVERAGE
    monkeypatch.setattr(patience, "tighten", lambda *_: None)
    plain = Frontier(plans_of(short))
    at = [point.cost_usd for point in stated.points[:-1]]
    both = [(stated.bound_at(usd), plain.bound_at(usd)) for usd in at]
    assert any(bound < other - 1e-4 for bound, other in both if None not in (bound, other))


@pytest.mark.parametrize(("loads", "days", "sizes"), [(20, 2, 6), (20, 3, 6), (24, 2, 8)])
def test_what_was_there_between_two_points_stays_open(loads, days, sizes):
    """Of a proven frontier all but the ends are taken out and left open: no bound is below them."""
    problems = list(problems_of(grown_home(loads, days), grown_book(loads, sizes)))
    rising = risen(problems, unheard, lambda point: None)
    ends, between = (rising.points[0], rising.points[-1]), rising.points[1:-1]
    assert between
    rising.points = list(ends)
    rising.opened = [Open(ends[0].usd, 1.0, point.problem) for point in between]
    tighten(rising, unheard)
    for point in between:
        left = most_at(rising.still_open, point.usd)
        assert 1.0 > left >= point.coverage - SAME_COVERAGE
