"""On homes of 12, 15 and 18 loads, whose frontier is known by construction, no claim is false.

`tests.oracle.known` says how it is known; `test_groups_add_up` holds that it is so. With
``GROUP_HOMES=40,64`` in the environment homes 40 to 63 are searched as long as usual, too.
"""

from __future__ import annotations

import os
from functools import cache
from itertools import pairwise

import pytest

from planner.errors import NoPlanError
from planner.search.cheapest import cheapest_of
from planner.search.frontier import Frontier, plans_of
from planner.search.limits import LEAST_GAIN, USUAL_LIMITS, SearchLimits
from planner.search.problem import problems_of
from planner.study.recommend import recommend
from tests.oracle.groups import price_of
from tests.oracle.known import known
from tests.oracle.limits import limits_of
from tests.oracle.market import Market, most_at

SAME, CENT = 1e-9, 0.01
SHORT = SearchLimits(nodes=20_000, probe=2_000, all_nodes=6_000)
SHORTLY = range(64)
LONG = (10, 15, 30, 33, 46, 48)
"""Homes whose whole frontier is proven soon."""
SHARES = (0.35, 0.8, 1.0)
"""Of the most that can be covered: goals that are asked for."""
SEARCHED = range(*map(int, os.environ.get("GROUP_HOMES", "0,0").split(",")))


@cache
def searched(seed, limits):
    """The planner's frontier of a home."""
    one = known(seed)
    return Frontier(plans_of(list(problems_of(one.home, one.book, limits))))


def assert_real(plan, one):
    """The plan can be bought at its price and delivers what it says, by the plain rule."""
    market = Market(one.home, one.book)
    starters = {each.id: each for each in one.book.soft_starters} | {None: None}
    connection = tuple(part.connection for part in plan.loads)
    soft = tuple(starters[part.soft_starter] for part in plan.loads)
    blind = tuple(each and how == "module" for each, how in zip(
        market.blind(plan.choice.sensing), connection, strict=True))
    size = plan.supply.generator
    verdict = market.judge.judge(limits_of(one.home, size), connection, soft, plan.choice.order,
                                 blind)
    assert verdict.is_plan
    assert plan.coverage == pytest.approx(verdict.coverage, abs=SAME)
    usd = price_of(one.home, one.book, size, plan.menu.kind, connection, soft, blind)
    assert plan.cost_usd == pytest.approx(usd, abs=1e-6)


def budgets(one, points):
    """Budgets at which something changes, and a cent less."""
    prices = sorted({offer.usd for offer in one.truth} | {plan.cost_usd for plan in points})
    return [usd - less for usd in prices for less in (0.0, CENT)] + [1e9]


def assert_no_false_claim(seed, limits=USUAL_LIMITS):
    """What the frontier says of itself holds, proven or not."""
    one, plans = known(seed), searched(seed, limits)
    for earlier, later in pairwise(plans.points):
        assert later.cost_usd > earlier.cost_usd
        assert later.coverage >= earlier.coverage + LEAST_GAIN - 3.0 * SAME
    for plan in plans.points:
        assert_real(plan, one)
        most = most_at(one.truth, plan.cost_usd)
        assert plan.coverage <= most + SAME
        assert plan.proof.bound is None or plan.proof.bound >= most - SAME
        if plan.proof.kind == "proven":
            assert plan.coverage == pytest.approx(most, abs=max(SAME, plan.proof.gap))
    for usd in budgets(one, plans.points):
        bound, most = plans.bound_at(usd), most_at(one.truth, usd)
        if bound is not None:
            assert bound >= most - SAME
            bought = plans.within(usd)
            assert bought is not None
            assert bought.coverage <= most + SAME


@pytest.mark.parametrize("seed", SHORTLY)
def test_cut_short(seed):
    """Where the search gives up early every plan is real, and no bound at any price is too low."""
    assert_no_false_claim(seed, SHORT)


@pytest.mark.parametrize("seed", [*LONG, *SEARCHED])
def test_as_long_as_usual(seed):
    """Nothing that is said of the frontier is false; what is proven is the truth."""
    assert_no_false_claim(seed)


@pytest.mark.parametrize("seed", LONG)
def test_the_whole_frontier(seed):
    """Every step of the truth is a plan, but for what covers hardly more than something cheaper."""
    one, plans = known(seed), searched(seed, USUAL_LIMITS)
    assert all(plan.proof.kind == "proven" for plan in plans.points)
    for offer in one.truth:
        bought = plans.within(offer.usd)
        assert bought is not None
        assert bought.coverage >= offer.coverage - LEAST_GAIN - SAME
        goal = offer.coverage - LEAST_GAIN
        least = next(each.usd for each in one.truth if each.coverage >= goal - SAME)
        assert plans.covering(goal).cost_usd <= offer.usd + 1e-6
        assert plans.covering(goal).cost_usd >= least - 1e-6
    assert plans.within(one.truth[0].usd - CENT) is None
    assert plans.covering(one.truth[-1].coverage + 2.0 * SAME) is None


def goals(one):
    """Coverages between the steps of the truth, and its highest."""
    most = one.truth[-1].coverage
    return [share * most for share in SHARES]


@pytest.mark.parametrize("seed", LONG)
def test_the_cheapest_for_a_goal(seed):
    """Looked for alone, it is the cheapest that the truth has; above the truth there is none."""
    one = known(seed)
    for goal in goals(one):
        offer = next(each for each in one.truth if each.coverage >= goal - SAME)
        plan = cheapest_of(problems_of(one.home, one.book), one.home, one.book, goal)
        assert plan is not None
        assert plan.cost_usd == pytest.approx(offer.usd, abs=1e-6)
        assert plan.coverage == pytest.approx(offer.coverage, abs=SAME)
        assert_real(plan, one)
    beyond = one.truth[-1].coverage + LEAST_GAIN
    assert cheapest_of(problems_of(one.home, one.book), one.home, one.book, beyond) is None


def recommended(one, points, goal):
    """Price of what is recommended for a goal; None where it is said that none covers that much."""
    try:
        return recommend(one.home, one.book, goal, known=points, share=0.0,
                         none_starved=False).plan.cost_usd
    except NoPlanError:
        return None


@pytest.mark.parametrize("seed", LONG)
def test_out_of_reach_is_only_said_of_what_is(seed):
    """A goal is refused exactly where the truth has no plan for it, else its cheapest is named."""
    one = known(seed)
    for goal in [*goals(one), one.truth[-1].coverage + LEAST_GAIN]:
        usd = recommended(one, searched(seed, USUAL_LIMITS), goal)
        offers = [offer for offer in one.truth if offer.coverage >= goal - SAME]
        assert (usd is None) == (not offers)
        if offers:
            assert usd >= offers[0].usd - 1e-6
            assert usd <= next((offer.usd for offer in one.truth
                                if offer.coverage >= goal + LEAST_GAIN), offers[-1].usd) + 1e-6


def test_some_are_cut_short():
    """Of the homes that are searched shortly many have points with a gap, and something better."""
    points = [(seed, plan) for seed in SHORTLY[:24] for plan in searched(seed, SHORT).points]
    assert sum(plan.proof.kind == "within" for _, plan in points) >= 50
    assert sum(plan.coverage < most_at(known(seed).truth, plan.cost_usd) - LEAST_GAIN
               for seed, plan in points) >= 5
