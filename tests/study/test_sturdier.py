"""Plans that stand what is assumed: which are compared, and which is recommended."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

import planner
from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.facts.assumption import Assumption
from planner.plan.lines import can_be_wired
from planner.progress import unheard
from planner.search.frontier import Frontier, frontier
from planner.search.limits import LEAST_GAIN
from planner.search.problem import problems_of
from planner.study.candidates import Candidates, sturdier
from planner.study.confidence import TO_QUOTE, confidence_of, houses_like
from planner.study.recommend import recommend
from planner.tolerances import reaches
from tests.homes import ALL, base, book, events, generator, home, load

CASES = Path(planner.__file__).parents[1] / "cases"
GOAL = 0.97


@pytest.fixture(scope="module")
def farm():
    """The farmhouse and its book: its cheapest plan holds in few of the houses that fit it."""
    return read_home(CASES / "rural_propane_well.toml")[0], read_book(
        CASES / "demo_price_book.toml")[0]


def test_what_is_recommended_holds_and_nothing_cheaper_that_was_compared_does(farm):
    """Every plan compared before it, by rising cost, reaches the goal and holds in too few."""
    one, offered = farm
    houses = houses_like(one)
    found = recommend(one, offered, GOAL, houses=houses)
    assert found.holds
    assert found.confidence.share >= TO_QUOTE
    assert found.frail.choice == recommend(one, offered, GOAL, share=0.0).plan.choice
    assert found.frail_confidence.share < TO_QUOTE
    assert found.cheapest is found.frail
    for plan in Candidates(frontier(one, offered), problems_of(one, offered), GOAL, unheard):
        if plan.choice == found.plan.choice and plan.menu.generator == found.plan.menu.generator:
            break
        assert reaches(plan.coverage, GOAL)
        assert confidence_of(plan, houses).share < TO_QUOTE
    else:
        pytest.fail("what is recommended is not among what is compared")


def test_plans_compared_come_by_rising_cost_and_none_twice(farm):
    """The first twenty."""
    one, offered = farm
    plans = [plan for plan, _ in zip(
        Candidates(frontier(one, offered), problems_of(one, offered), GOAL, unheard), range(20),
        strict=False)]
    assert len(plans) == 20
    assert all(before.cost_usd <= after.cost_usd for before, after in pairwise(plans))
    assert len({(plan.menu.generator.id, plan.choice) for plan in plans}) == 20


def test_the_bound_of_what_is_recommended_is_that_of_the_frontier(farm):
    """Nothing at its price or less covers more than the frontier says."""
    one, offered = farm
    found, whole = recommend(one, offered, GOAL), frontier(one, offered)
    assert found.plan.proof.bound >= max(
        plan.coverage for plan in whole.points if plan.cost_usd <= found.plan.cost_usd)


def doubted(one):
    """The load, which the code does not count, with a draw that may be a third more or less."""
    return replace(one, code=replace(one.code, va=0.0), assumed=(
        Assumption("running", f"{one.running_kw:g} kW", "a guess", 0.33),))


def test_where_none_holds_the_one_that_holds_in_most_is_taken():
    """An oven of 2.7 to 5.3 kW that must be direct beside 1 kW, on the only engine, of 5.6 kW."""
    oven = doubted(load("oven", 4.0, use=events((18.0, 1.0)), allowed=frozenset({"direct"})))
    one = home(base(1.0), oven)
    found = recommend(one, book(generator(5.6, 3000.0, inertia_s=5.0)), 0.5, share=0.99)
    assert not found.holds
    assert 0.5 < found.confidence.share < 0.99
    assert found.frail is None


def test_a_budget_is_not_asked_what_it_holds_in():
    """It buys what covers most; in how many houses that holds is said, and none is asked for."""
    oven = doubted(load("oven", 4.0, use=events((18.0, 1.0)), allowed=frozenset({"direct"})))
    found = recommend(home(base(1.0), oven), book(generator(5.6, 3000.0, inertia_s=5.0)),
                      budget_usd=1e5, share=0.99)
    assert found.holds
    assert found.confidence.share < 0.99
    assert found.asked == 0.0


def test_a_load_is_made_direct_only_if_what_it_needs_is():
    """A cooler and its fan, both behind modules: the fan may be made direct, the cooler not yet."""
    one = home(base(1.0),
               load("cooler", 2.0, use=events((12.0, 2.0)), requires=("fan",), allowed=ALL),
               load("fan", 0.5, nature="woken", importance=0, allowed=ALL),
               load("oven", 3.0, use=events((18.0, 1.0)), allowed=ALL))
    offered = book(generator(20.0, 3000.0))
    plan = recommend(one, offered, 0.9, share=0.0).plan
    connection = [1, 2, 2, 1]
    behind = replace(plan, choice=replace(plan.choice, connection=tuple(connection),
                                          order=(2, 1), sensing=frozenset()))
    made = [candidate.choice.connection for candidate in sturdier(behind)]
    assert (1, 2, 1, 1) in made
    assert (1, 1, 2, 1) not in made
    assert all(candidate.made() is not None for candidate in sturdier(behind))


def test_between_points_a_plan_may_cover_a_little_more_than_the_point_before():
    """A plan dearer than a point is no point itself unless it covers `LEAST_GAIN` more.

    So what is known above a point's price is its bound and that much more, at its price the bound.
    """
    found = frontier(home(base(1.0), load("oven", 3.0, importance=3, allowed=frozenset({"direct"}),
                                          use=events((18.0, 1.0)))), book(generator(9.0, 1500.0)))
    first = found.points[0]
    low = Frontier((replace(first, bound=first.coverage - 0.5),))
    assert low.bound_at(first.cost_usd) == pytest.approx(first.coverage - 0.5)
    assert low.bound_at(first.cost_usd + 1.0) == pytest.approx(first.coverage - 0.5 + LEAST_GAIN)
    assert found.bound_at(first.cost_usd + 1.0) == 1.0
    assert found.bound_at(first.cost_usd - 1.0) is None


def test_what_no_arrangement_of_the_legs_carries_is_not_recommended():
    """The small house: a cheaper plan holds often enough, but neither line carries its 120 V loads.

    What is recommended can be wired within the derated amperes of a leg.
    """
    one, offered = read_home(CASES / "gas_heated_small.toml")[0], read_book(
        CASES / "demo_price_book.toml")[0]
    houses = houses_like(one)
    found = recommend(one, offered, GOAL, houses=houses)
    assert found.holds
    assert can_be_wired(found.plan)
    cheaper = [plan for plan, _ in zip(
        Candidates(frontier(one, offered), problems_of(one, offered), GOAL, unheard), range(60),
        strict=False) if plan.cost_usd < found.plan.cost_usd]
    sound = [plan for plan in cheaper if confidence_of(plan, houses).share >= TO_QUOTE]
    assert sound
    assert not any(can_be_wired(plan) for plan in sound)


def test_a_plan_between_two_points_has_a_bound_that_it_does_not_pass():
    """The mountain house: what is recommended covers a little more than the point below it."""
    one, offered = read_home(CASES / "high_altitude.toml")[0], read_book(
        CASES / "demo_price_book.toml")[0]
    plan = recommend(one, offered, GOAL).plan
    assert plan.proof.kind in {"within", "proven"}
    assert plan.bound is not None
    assert plan.coverage <= plan.bound + 1e-9
