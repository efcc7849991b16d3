"""Picks name what a family is shown first: each plan once, cheapest first."""

from __future__ import annotations

from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.search.frontier import frontier
from planner.study.picks import Pick, knee_of, picks, three_of
from tests.homes import book, generator, random_home


def plan(cost_usd, coverage):
    """Stand in for a plan of this price and coverage."""
    return SimpleNamespace(cost_usd=float(cost_usd), coverage=float(coverage), loads=())


def named(found):
    """Names and prices of picks."""
    return [(pick.name, pick.plan.cost_usd) for pick in found]


CURVE = [plan(4000, 0.2), plan(5000, 0.75), plan(6000, 0.85), plan(9000, 0.99)]
REFERENCE = plan(15_000, 1.0)


def test_each_pick_has_its_reason():
    """Ends, goal, knee and reference; 0.75 for 5000 stands farthest above the straight line."""
    found = picks(CURVE, CURVE[2], REFERENCE)
    assert named(found) == [("least", 4000.0), ("knee", 5000.0), ("goal", 6000.0),
                            ("most", 9000.0), ("nothing shed", 15_000.0)]
    assert [pick.plan for pick in found] == [*CURVE, REFERENCE]


@pytest.mark.parametrize(("recommended", "reference", "names"), [
    (CURVE[0], None, ["goal", "knee", "most"]), (CURVE[1], None, ["least", "goal", "most"]),
    (CURVE[3], CURVE[3], ["least", "knee", "goal"]),
    (None, None, ["least", "knee", "most"]), (None, CURVE[3], ["least", "knee", "most"])])
def test_a_plan_is_picked_once_by_its_first_reason(recommended, reference, names):
    """The goal comes first; "nothing shed" is said only where nothing else is."""
    assert [pick.name for pick in picks(CURVE, recommended, reference)] == names


def test_a_single_plan_is_one_pick_and_no_plan_is_none():
    """Least, knee and most are then the same."""
    assert named(picks(CURVE[:1], None, None)) == [("least", 4000.0)]
    assert named(picks(CURVE[:1], CURVE[0], REFERENCE)) == [("goal", 4000.0),
                                                            ("nothing shed", 15_000.0)]
    assert picks([], None, REFERENCE) == []


def test_three_at_most_are_shown():
    """Least, goal and most; the knee or the reference step in where one is missing."""
    assert [pick.name for pick in three_of(picks(CURVE, CURVE[2], REFERENCE))] == [
        "least", "goal", "most"]
    assert [pick.name for pick in three_of(picks(CURVE, CURVE[3], REFERENCE))] == [
        "least", "knee", "goal"]
    assert [pick.name for pick in three_of(picks(CURVE[:2], None, REFERENCE))] == [
        "least", "most", "nothing shed"]
    assert [pick.name for pick in three_of(picks(CURVE, None, REFERENCE))] == [
        "least", "knee", "most"]
    assert three_of([]) == []


def test_the_knee_is_the_first_farthest_above_the_line():
    """Of two equally far the cheaper; with no way up or no way along, the first."""
    level = [plan(0, 0.0), plan(100, 0.25), plan(200, 0.5), plan(400, 1.0)]
    assert knee_of(level) is level[0]
    twice = [plan(0, 0.0), plan(100, 0.5), plan(200, 0.75), plan(400, 1.0)]
    assert knee_of(twice) is twice[1]
    assert knee_of([plan(5, 0.5), plan(5, 0.9)]).coverage == 0.5
    assert knee_of([plan(5, 0.5), plan(9, 0.5)]).cost_usd == 5.0


PRICES = st.lists(st.integers(2000, 20_000), min_size=1, max_size=9, unique=True)


@st.composite
def curves(draw):
    """Plans by rising price and coverage."""
    prices = sorted(draw(PRICES))
    shares = sorted(draw(st.lists(st.integers(0, 1000), min_size=len(prices), unique=True,
                                  max_size=len(prices))))
    return [plan(price, 0.001 * share) for price, share in zip(prices, shares, strict=True)]


@given(curves(), st.data())
def test_picks_are_plans_of_the_curve_each_once_and_the_ends_among_them(points, data):
    """Cheapest first, no plan twice, no name twice, both ends and the goal always there."""
    recommended = data.draw(st.sampled_from([None, *points]))
    found = picks(points, recommended, None)
    costs = [pick.plan.cost_usd for pick in found]
    assert costs == sorted(set(costs))
    assert len({pick.name for pick in found}) == len(found)
    assert {points[0].cost_usd, points[-1].cost_usd} <= set(costs)
    if recommended is not None:
        assert Pick("goal", recommended) in found
    shown = three_of(found)
    assert len(shown) == min(3, len(found))
    assert all(pick in found for pick in shown)
    assert [pick.plan.cost_usd for pick in shown] == sorted(pick.plan.cost_usd for pick in shown)


@given(curves(), st.floats(0.1, 10.0))
def test_the_knee_stands_above_no_other_and_in_any_money(points, rate):
    """No plan of the curve is farther above the line; another currency changes nothing much."""
    first, last = points[0], points[-1]
    knee = knee_of(points)
    if len(points) == 1:
        assert knee is first
        return
    above = [(one.coverage - first.coverage) / (last.coverage - first.coverage)
             - (one.cost_usd - first.cost_usd) / (last.cost_usd - first.cost_usd)
             for one in points]
    assert above[points.index(knee)] == max(above)
    abroad = [plan(one.cost_usd * rate, one.coverage) for one in points]
    assert above[abroad.index(knee_of(abroad))] == pytest.approx(max(above), abs=1e-9)


def test_picks_of_a_real_frontier():
    """Plans of a home are picked as the stand-ins are."""
    offered = book(generator(5.0, 2000.0), generator(24.0, 9000.0))
    points = frontier(random_home(3, 4), offered).points
    found = picks(points, None, None)
    assert found[0].plan is points[0]
    assert found[-1].plan is points[-1]
