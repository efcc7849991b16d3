"""The share of houses in which a plan holds, on homes where it is known by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.assumption import Assumption
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from planner.study.confidence import confidence_of
from tests.homes import base, book, events, generator, home, load, task

HOUSES = 400


def doubted(one, spread):
    """The load with its draw assumed, within a share of it either way."""
    return replace(one, assumed=(Assumption("running", f"{one.running_kw:g} kW", "a guess",
                                            spread),))


def planned(house, kw, *connection, order=()):
    """A choice on the only set of a book, so heavy that no start troubles it."""
    problem = problems_of(house, book(generator(kw, 3000.0, inertia_s=5.0)))[0]
    return problem.plan(Choice(connection, (0,) * len(connection), order))


def oven(name, **changes):
    """An oven of 4 kW in the evening that the code does not count."""
    plain = load(name, 4.0, use=events((18.0, 1.0)), **changes)
    return doubted(replace(plain, code=replace(plain.code, va=0.0)), 0.3)


def test_what_must_fit_beside_the_base_holds_in_the_houses_in_which_it_does():
    """1 kW and an oven of 2.8 to 5.2 kW in 5.6 kW: it does up to 4.6 kW, in 75 %."""
    plan = planned(home(base(1.0), oven("oven")), 5.6, DIRECT, DIRECT)
    found = confidence_of(plan, HOUSES)
    assert found.houses == HOUSES
    assert found.share == pytest.approx((4.6 - 2.8) / 2.4, abs=0.07)
    (matter,) = found.matters
    assert matter.share_if_known == 1.0


def test_what_is_behind_a_module_is_shed_and_holds_everywhere():
    """It is refused in some houses, but nothing was promised of it."""
    plan = planned(home(base(1.0), oven("oven")), 5.6, DIRECT, MODULE, order=(1,))
    assert confidence_of(plan, HOUSES).share == 1.0


def test_twins_share_one_guess_and_strangers_do_not():
    """Two of one kind move together: 9.4 kW hold both up to 4.2 kW each, strangers up to 8.4."""
    both = home(base(1.0), oven("one"), oven("other"))
    apart = home(base(1.0), oven("one"), oven("other", kind="another"))
    twins, strangers = (confidence_of(planned(one, 9.4, DIRECT, DIRECT, DIRECT), HOUSES)
                        for one in (both, apart))
    assert len(twins.matters) == 1
    assert len(strangers.matters) == 2
    assert twins.share == pytest.approx((4.2 - 2.8) / 2.4, abs=0.07)
    low, width = 2 * 2.8, 2.4  # of the sum of two: 1 less the corner above 8.4
    assert strangers.share == pytest.approx(
        1.0 - (low + 2 * width - 8.4) ** 2 / (2 * width**2), abs=0.07)


def test_where_nothing_is_assumed_one_house_says_it():
    """The plan was replayed in it already."""
    plan = planned(home(base(1.0), task("range", 4.0, (18.0, 1.0))), 6.0, DIRECT, MODULE,
                   order=(1,))
    found = confidence_of(plan)
    assert (found.share, found.houses, found.matters) == (1.0, 1, ())


def test_same_seed_same_houses():
    """Another seed draws others, the share stays near."""
    plan = planned(home(base(1.0), oven("oven")), 5.6, DIRECT, DIRECT)
    one, again, other = (confidence_of(plan, 200, seed=seed) for seed in (1, 1, 2))
    assert one == again
    assert abs(one.share - other.share) < 0.15
