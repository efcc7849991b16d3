"""One recommendation: the cheapest that reaches the goal and leaves nothing that matters dark."""

from __future__ import annotations

import pytest

from planner.errors import NoPlanError
from planner.plan.starved import starved
from planner.search.frontier import frontier
from planner.study.compare import compare, plan_of_size
from planner.study.recommend import recommend
from planner.study.smallest import smallest
from tests.homes import base, book, events, generator, home, load

SUPPER = events((18.0, 1.0))
DUTY = events((0.0, 23.75))


def with_spa():
    """A small generator serves all but the hot tub, which matters little and never fits in it."""
    house = home(base(1.0), load("range", 5.0, importance=5, use=SUPPER),
                 load("spa", 8.0, importance=1, use=DUTY))
    return house, book(*(generator(kw, usd, permitted_average=1.0) for kw, usd in (
        (7.0, 4000.0), (10.0, 5000.0), (16.0, 9000.0))))


def test_what_starves_is_not_recommended_where_a_dearer_plan_does_not():
    """The tub would never run in the cheapest that reaches 80 %; the next that runs it is taken."""
    house, offered = with_spa()
    found = recommend(house, offered, 0.8)
    assert starved(found.plan) == ()
    assert found.starving is not None
    assert [part.id for part in starved(found.starving)] == ["spa"]
    assert found.starving.cost_usd < found.plan.cost_usd
    assert found.coverage == found.plan.coverage


def test_a_family_may_take_the_cheaper_one_all_the_same():
    """Asked so, the cheapest that reaches the coverage is recommended, and named as it is."""
    house, offered = with_spa()
    found = recommend(house, offered, 0.8, none_starved=False)
    assert [part.id for part in starved(found.plan)] == ["spa"]
    assert found.starving is None
    assert found.coverage == 0.8


def test_where_all_starve_the_cheapest_is_taken():
    """Nothing in the book runs the tub, so there is nothing better to recommend."""
    house, offered = with_spa()
    small = book(offered.generators[0])
    found = recommend(house, small, 0.8)
    assert starved(found.plan)
    assert found.starving is None


@pytest.mark.parametrize("coverage", [0.5, 0.8, 1.0])
def test_quickly_finds_the_same_plan(coverage):
    """Looking for one plan alone leads to the plan that the whole frontier leads to."""
    house, offered = with_spa()
    slow, quick = (recommend(house, offered, coverage, quickly=one) for one in (False, True))
    assert quick.plan.choice == slow.plan.choice
    assert quick.plan.cost_usd == slow.plan.cost_usd
    assert (quick.coverage, quick.starving is None) == (slow.coverage, slow.starving is None)


def test_a_frontier_that_is_known_is_not_looked_for_again(monkeypatch):
    """The answer comes from the points that are handed over."""
    house, offered = with_spa()
    known = frontier(house, offered)
    monkeypatch.setattr("planner.study.recommend.frontier", None)
    monkeypatch.setattr("planner.study.recommend.cheapest_of", None)
    assert recommend(house, offered, 0.8, known=known).plan in known.points


def test_a_budget_buys_the_most():
    """Of what costs no more, the plan that covers most; the goal is then its coverage."""
    house, offered = with_spa()
    points = frontier(house, offered).points
    for plan in points:
        found = recommend(house, offered, budget_usd=plan.cost_usd)
        assert (found.plan.cost_usd, found.coverage) == (plan.cost_usd, plan.coverage)
    with pytest.raises(NoPlanError, match=rf"The cheapest .* costs {points[0].cost_usd:,.0f} USD"):
        recommend(house, offered, budget_usd=points[0].cost_usd - 1.0)


def test_out_of_reach_says_what_is_in_reach():
    """The most that can be covered, with which generator, at what cost."""
    house, offered = with_spa()
    small = book(offered.generators[0])
    most = frontier(house, small).points[-1]
    with pytest.raises(NoPlanError, match=rf"The most is {100 * most.coverage:.1f} %"):
        recommend(house, small, 1.0)


def test_the_smallest_that_starves_nothing():
    """The smallest generator for 80 % is the next one, since in the first the tub never runs."""
    house, offered = with_spa()
    assert smallest(house, offered, 0.8).plan.supply.generator.id == "set-10"
    assert smallest(house, offered, 0.8, none_starved=False).plan.supply.generator.id == "set-7"
    small = book(offered.generators[0])
    assert smallest(house, small, 0.8).plan.supply.generator.id == "set-7"


def test_the_comparison_shows_what_is_recommended():
    """The plan of the recommended size is the recommended one."""
    house, offered = with_spa()
    found = compare(house, offered, coverage=0.8)
    plan = recommend(house, offered, 0.8).plan
    assert found.plans[plan.supply.generator.id].choice == plan.choice
    cheaper = compare(house, offered, coverage=0.8, none_starved=False)
    assert starved(cheaper.plans["set-7"])


def ladder():
    """Seven sizes, each covering one of seven tasks at the same hour more than the last."""
    tasks = [load(f"task-{number}", 1.0, importance=2, use=SUPPER) for number in range(7)]
    sizes = [generator(4.6 + number, 3000.0 + 1500.0 * number, permitted_average=1.0)
             for number in range(7)]
    return home(base(3.5), *tasks), book(*sizes)


@pytest.mark.parametrize("place", range(7))
def test_neighbours_are_one_size_below_and_two_above(place):
    """Around the recommended size the frontier's next smaller and its next two larger are shown."""
    house, offered = ladder()
    points = frontier(house, offered).points
    on_frontier = list(dict.fromkeys(plan.supply.generator.id for plan in points))
    assert len(on_frontier) == 7
    goal = next(plan.coverage for plan in points
                if plan.supply.generator.id == on_frontier[place])
    found = compare(house, offered, coverage=goal, none_starved=False)
    assert list(found.plans) == on_frontier[max(0, place - 1):place + 3]
    assert found.missing == ()


def test_asked_for_sizes_are_shown_smallest_first_and_missing_ones_named():
    """Every size that was asked for is there or named; one that is not in the book is refused."""
    house, offered = ladder()
    tiny = generator(0.2, 100.0, id="tiny")
    wide = book(*offered.generators, tiny)
    found = compare(house, wide, ("set-7.6", "tiny", "set-5.6"))
    assert list(found.plans) == ["set-5.6", "set-7.6"]
    assert found.missing == ("tiny",)
    with pytest.raises(NoPlanError, match="no generator huge"):
        compare(house, wide, ("huge",))
    with pytest.raises(NoPlanError, match="None of tiny has a plan"):
        compare(house, wide, ("tiny",))


def test_a_plan_of_one_size_reaches_the_coverage_or_covers_most():
    """The cheapest that reaches it, else the most; none for a size without a plan."""
    house, offered = ladder()
    most = plan_of_size(house, offered, "set-6.6", 1.0)
    enough = plan_of_size(house, offered, "set-6.6", 0.1)
    assert most is not None
    assert enough is not None
    assert most.coverage == max(p.coverage for p in frontier(house, book(
        *[one for one in offered.generators if one.id == "set-6.6"])).points)
    assert enough.cost_usd <= most.cost_usd
    assert plan_of_size(house, book(generator(0.2, 1.0)), "set-0.2", 0.5) is None
    assert plan_of_size(house, offered, "no-such", 0.5) is None
