"""A load that is always connected is ahead of every module: wishes about the order hold for it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import VerificationError
from planner.plan.plan import Plan
from planner.search.frontier import frontier
from planner.service.choice import DIRECT, MODULE
from planner.study.candidates import sturdier
from planner.study.wish_cost import wish_costs
from tests.homes import base, book, events, generator, home, load, task

HEATER = 2


@pytest.fixture(scope="module")
def bound():
    """A heater that never goes before the range, which a module of the smaller size lets wait."""
    return home(base(0.5), task("range", 5.0, (18.0, 1.0), importance=4),
                load("heater", 3.0, importance=2, use=events((17.5, 2.0))),
                never_before=(("heater", "range"),))


@pytest.fixture(scope="module")
def offered():
    """Two sizes; on the larger all fits."""
    return book(generator(6.0, 3000.0), generator(9.0, 4500.0))


def test_a_direct_load_is_not_put_ahead_of_one_that_it_may_not_precede(bound, offered):
    """Without the wish the heater is always connected; with it, it takes turns behind the range."""
    free = replace(bound, never_before=())
    with_it, without_it = (frontier(one, offered).points[-1] for one in (bound, free))
    assert without_it.load("heater").connection == "direct"
    assert without_it.load("range").connection == "module"
    assert with_it.load("heater").connection == "module"
    assert with_it.cost_usd > without_it.cost_usd


def test_the_refusal_has_its_reason(bound, offered):
    """Such a plan cannot be made, and it is said which load has to stand before which."""
    plan = frontier(bound, offered).points[-1]
    connection = tuple(DIRECT if i == HEATER else how
                       for i, how in enumerate(plan.choice.connection))
    order = tuple(i for i in plan.choice.order if i != HEATER)
    assert MODULE in connection
    with pytest.raises(VerificationError, match="range has to stand before heater"):
        Plan(plan.menu, plan.supply, replace(plan.choice, connection=connection, order=order))


def test_nothing_sturdier_breaks_the_wish(bound, offered):
    """One more load always connected is a candidate only where the wish allows it."""
    plan = frontier(bound, offered).points[-1]
    made = [one.made() for one in sturdier(plan)]
    assert None in made
    assert all(one is None or one.load("heater").connection == "module"
               or one.load("range").connection == "direct" for one in made)


def test_the_price_of_the_wish_is_that_of_the_module(bound, offered):
    """Given up, the heater needs no module: that is what the wish costs, and it is proven."""
    plan = frontier(bound, offered).points[-1]
    (pair,) = (one for one in wish_costs(bound, offered, plan, 1.0)
               if one.wish.kind == "never-before")
    assert pair.price_usd == pytest.approx(250.0)  # 150 USD and 100 USD to install it
    assert pair.proven
