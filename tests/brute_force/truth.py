"""What a frontier is held to: every plan of it is real, and none that counts is missing."""

from __future__ import annotations

from itertools import pairwise

import pytest

from planner.errors import NoPlanError
from planner.search.frontier import frontier
from planner.search.limits import LEAST_GAIN, USUAL_LIMITS
from tests.oracle.every_plan import true_frontier
from tests.oracle.market import Market, most_at

SAME = 1e-9


def assert_no_plan(one, sizes, limits=USUAL_LIMITS):
    """The planner says that there is no plan, and why."""
    with pytest.raises(NoPlanError) as refused:
        frontier(one, sizes, limits=limits)
    assert refused.value.message


def assert_honest(plans, one, sizes, truth):
    """Every plan can be built at its price and delivers what it says; no bound is below the truth.

    Each is judged anew, by the plain rule and the words of the price book.
    """
    market = Market(one, sizes)
    for plan in plans:
        connection = tuple(part.connection for part in plan.loads)
        starters = {each.id: each for each in sizes.soft_starters} | {None: None}
        soft = tuple(starters[part.soft_starter] for part in plan.loads)
        blind = tuple(one and how == "module" for one, how in zip(
            market.blind(plan.choice.sensing), connection, strict=True))
        (way,) = (way for way in market.ways([plan.supply.generator], [plan.menu.kind])
                  if (way.connection, way.soft, way.blind) == (connection, soft, blind))
        assert plan.cost_usd == pytest.approx(way.usd)
        assert plan.choice.modules == way.modules
        verdict = market.judge.judge(market.limits[plan.supply.generator.id], connection, soft,
                                     plan.choice.order, blind)
        assert verdict.is_plan
        assert plan.coverage == pytest.approx(verdict.coverage, abs=SAME)
        assert plan.coverage <= most_at(truth, plan.cost_usd) + SAME
        assert plan.proof.bound is not None
        assert plan.proof.bound >= most_at(truth, plan.cost_usd) - LEAST_GAIN - SAME
        assert plan.proof.bound >= plan.coverage - SAME


def assert_true(plans, one, sizes, truth):
    """The plans are the true frontier, but for what covers hardly more than something cheaper."""
    assert_honest(plans, one, sizes, truth)
    for earlier, later in pairwise(plans):
        assert later.cost_usd > earlier.cost_usd
        assert later.coverage > earlier.coverage
    for offer in truth:
        best = max((p.coverage for p in plans if p.cost_usd <= offer.usd + 1e-6), default=-1.0)
        assert best >= offer.coverage - LEAST_GAIN - SAME
    for plan in plans:
        assert plan.proof.kind == "proven"
        assert plan.coverage >= most_at(truth, plan.cost_usd) - LEAST_GAIN - SAME


def compare(one, sizes, check=assert_true, limits=USUAL_LIMITS):
    """Hold the frontier of a home to full enumeration."""
    truth = true_frontier(one, sizes)
    if truth:
        check(frontier(one, sizes, limits=limits).points, one, sizes, truth)
    else:
        assert_no_plan(one, sizes, limits)
