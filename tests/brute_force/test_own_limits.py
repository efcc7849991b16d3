"""A user's own limits: a gap, a clock, somebody who asks for the end; the truth is enumeration."""

from __future__ import annotations

import random
from itertools import count

import pytest

from planner.errors import NotFoundError
from planner.facts.price_book import Controller
from planner.search.cheapest import look_for
from planner.search.frontier import frontier
from planner.search.limits import LEAST_GAIN, SearchLimits, Stop, limits_for
from planner.search.problem import problems_of
from tests.brute_force.truth import SAME, assert_honest
from tests.homes import base, book, generator, home, random_home, task
from tests.oracle.every_plan import true_frontier
from tests.oracle.market import most_at
from tests.oracle.wild import wild_book, wild_home

SIZES = (generator(4.0, 1500.0), generator(7.0, 2100.0), generator(11.0, 3000.0))


def small(seed):
    """A random or a wild home of 2-4 loads beside its base, and a book of three sizes."""
    if seed % 2:
        return wild_home(seed, 2 + seed % 3), wild_book(seed)
    return random_home(seed, 2 + seed % 3), book(*SIZES)


def assert_honest_between(plans, one, sizes, truth):
    """Every plan is real, and its bound holds for whatever costs less than the next plan."""
    assert_honest(plans, one, sizes, truth)
    for plan, next_usd in zip(plans, [*(each.cost_usd for each in plans[1:]), 1e9], strict=True):
        between = max(offer.coverage for offer in truth if offer.usd < next_usd - 1e-6)
        assert plan.bound >= between - LEAST_GAIN - SAME


def counting(step=1.0):
    """A clock that is later by a step at each look."""
    looks = count()
    return lambda: step * next(looks)


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("gap", [0.003, 0.1])
def test_a_gap_is_never_passed_and_never_hidden(seed, gap):
    """Every stated gap is at most what was asked, and no stated bound is below the truth."""
    one, sizes = small(seed)
    truth = true_frontier(one, sizes)
    if not truth:
        return
    found = frontier(one, sizes, limits=limits_for(gap))
    assert found.widest_gap <= gap + SAME
    assert not found.may_be_cheaper
    assert found.points[0].cost_usd == pytest.approx(truth[0].usd)
    assert_honest_between(found.points, one, sizes, truth)


def test_a_gap_saves_points_somewhere():
    """Where half a point of coverage does not matter, fewer plans are told."""
    wide = [len(frontier(*small(seed), limits=limits_for(0.1)).points) for seed in range(0, 40, 2)
            if true_frontier(*small(seed))]
    close = [len(frontier(*small(seed)).points) for seed in range(0, 40, 2)
             if true_frontier(*small(seed))]
    assert sum(wide) < sum(close)


@pytest.mark.parametrize("gap", [0.0, 0.02])
@pytest.mark.parametrize("seed", range(20))
def test_patience_grows_until_the_gap_is_kept(seed, gap):
    """However little patience a search begins with, it ends within the gap."""
    one, sizes = small(seed)
    truth = true_frontier(one, sizes)
    if truth:
        limits = SearchLimits(nodes=1, probe=1, all_nodes=20, gap=gap)
        found = frontier(one, sizes, limits=limits)
        assert found.widest_gap <= gap + SAME
        assert_honest_between(found.points, one, sizes, truth)


@pytest.mark.parametrize("seconds", [3, 10, 30, 100, 300])
@pytest.mark.parametrize("seed", range(12))
def test_a_clock_ends_it_and_nothing_is_claimed_that_was_not_seen(seed, seconds):
    """Whenever it strikes: every plan is real, every bound holds, what is cheaper is not denied."""
    one, sizes = small(seed)
    truth = true_frontier(one, sizes)
    if not truth:
        return
    stop = Stop(float(seconds), clock=counting())
    try:
        found = frontier(one, sizes, limits=limits_for(seconds=seconds, stop=stop))
    except NotFoundError:
        assert stop.ended == "clock"
        return
    assert found.ended == stop.ended
    assert_honest_between(found.points, one, sizes, truth)
    assert found.may_be_cheaper or found.points[0].cost_usd == pytest.approx(truth[0].usd)
    for offer in truth:
        covered = max((plan.coverage for plan in found.points
                       if plan.cost_usd <= offer.usd + 1e-6), default=-1.0)
        assert covered >= offer.coverage - LEAST_GAIN - SAME or found.may_cover(
            offer.coverage, offer.usd + 1.0)


def test_nothing_found_is_not_called_impossible():
    """A clock that strikes at once: the time is told, and what to do; not that there is no plan."""
    stop = Stop(3.0, clock=counting(2.0))
    with pytest.raises(NotFoundError, match=r"within 3 s; whether there is one is not known\. "
                                            r"Allow more seconds\."):
        frontier(*small(0), limits=limits_for(seconds=3.0, stop=stop))


@pytest.mark.parametrize("looks", [1, 4, 16, 64, 256])
@pytest.mark.parametrize("seed", range(8))
def test_who_asks_for_the_end_gets_what_was_found(seed, looks):
    """At whatever look: what was found by then, with bounds that hold."""
    one, sizes = small(seed)
    truth = true_frontier(one, sizes)
    if not truth:
        return
    asked = count()
    stop = Stop(asked=lambda: next(asked) >= looks)
    try:
        found = frontier(one, sizes, limits=limits_for(stop=stop))
    except NotFoundError:
        assert stop.ended == "asked"
        return
    assert_honest_between(found.points, one, sizes, truth)


def test_what_a_search_over_orders_had_found_is_not_lost():
    """Ended within the only search for an order, its best so far is a plan, honestly bounded."""
    rng = random.Random(1)
    loads = [task(f"work-{n}", round(rng.uniform(1.5, 3.9), 2),
                  (17.0 + rng.randrange(3) / 2, 1.5), (7.0 + rng.randrange(3) / 2, 1.0), wait_h=1.5,
                  importance=rng.randrange(1, 6), allowed=frozenset({"module"}))
             for n in range(12)]
    one = home(base(1.0), *loads)
    sizes = book(generator(7.0, 1000.0, permitted_average=1.0),
                 controllers=(Controller("large", "controller", 20, 200.0, 0.0),))
    (best,) = frontier(one, sizes).points
    covered = []
    for looks in (2, 4, 8):
        asked = count()
        stop = Stop(asked=lambda asked=asked, looks=looks: next(asked) >= looks)
        (found,) = frontier(one, sizes, limits=limits_for(stop=stop)).points
        assert stop.ended == "asked"
        assert found.bound >= best.coverage - SAME
        covered.append(found.coverage)
    assert covered == sorted(covered)
    assert 0.0 < covered[0] < best.coverage


@pytest.mark.parametrize("seed", range(50))
@pytest.mark.parametrize("limits", [SearchLimits(), SearchLimits(nodes=1, probe=1, all_nodes=200)])
def test_the_cheapest_is_called_so_only_where_that_is_proven(seed, limits):
    """For goals between nothing and all: what is proven is the truth; else nothing is claimed."""
    one, sizes = small(seed)
    truth = true_frontier(one, sizes)
    for goal in (0.0, 0.6, 0.9, 1.0):
        enough = [offer.usd for offer in truth if offer.coverage >= goal - SAME]
        found = look_for(problems_of(one, sizes, limits), goal)
        if found.plan is None:
            assert not (found.proven and enough)
        else:
            assert found.plan.coverage >= goal - SAME
            assert most_at(truth, found.plan.cost_usd) >= goal - SAME
            if found.proven:
                assert found.plan.cost_usd == pytest.approx(min(enough))
