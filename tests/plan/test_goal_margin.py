"""How much a plan bears before it covers less than it is held to, and what binds there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.plan.margin import PRECISION, grown_draws, grown_starts, margin_of
from planner.report.tables.verify import margin_sentences
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from planner.service.replay import Refusal, replay
from tests.homes import base, book, events, generator, home, load, motor


def plan_of(*loads, kw=10.0, turns):
    """The base always connected, the others by turns in their order."""
    problem = problems_of(home(base(1.0), *loads), book(generator(kw, 3000.0)))[0]
    return problem.plan(Choice((DIRECT, *(MODULE,) * turns), (0,) * (turns + 1),
                               tuple(range(1, turns + 1))))


@pytest.fixture(scope="module")
def air():
    """10 kVA on 0.2 reactance start 16.67 kVA at 25 % dip; the air takes 16 and is half of all."""
    return plan_of(motor("air", 3.0, 16.0, importance=3, starting_pf=0.3,
                         use=events((12.0, 2.0))),
                   load("dryer", 2.0, importance=3, use=events((18.0, 1.0))), turns=2)


def test_a_start_that_no_longer_starts_is_named_with_its_figures(air):
    """16 of 16.67 kVA grow 4.17 %; then the air, half of the importance, is not served."""
    growth = margin_of(air, 0.9).starts
    short = growth.short
    assert short.holds <= 10.0 / 0.6 / 16.0 - 1.0 <= short.at
    assert short.at - short.holds <= PRECISION + 1e-9
    assert (short.goal, short.coverage) == (0.9, pytest.approx(0.5))
    assert (short.binding.label, short.binding.kind) == ("air", "starting kVA")
    assert short.binding.need == pytest.approx(16.0)
    assert short.binding.limit == pytest.approx(0.25 / 0.75 / 0.2 * 10.0)
    assert growth.refused_at is None
    assert (growth.keeps, growth.is_endless) == (short.holds, False)
    assert margin_sentences(margin_of(air, 0.9))[0] == (
        "All starts together may grow 4.1 % before the plan keeps less than 90.0 %: at 4.2 % it "
        "keeps 50.0 %, and air loses most (its start takes 16.0 of the 16.6 kVA that may start). "
        "It is not refused up to 100 %.")


def test_a_goal_that_is_still_met_is_no_shortfall(air):
    """Half is enough: the plan keeps that whatever the start."""
    assert margin_of(air, 0.5).starts.short is None
    assert margin_of(air, 0.5).starts.is_endless


def test_without_a_goal_a_point_may_be_lost(air):
    """A plan that covers all is held to 99 %, one asked for more than it covers to what it has."""
    assert margin_of(air).starts.short.goal == pytest.approx(0.99)
    assert margin_of(air, 1.5).starts.short.goal == pytest.approx(air.coverage)


def test_a_draw_that_no_longer_fits_is_named_with_what_may_be_used():
    """1 kW and 8 of 10 kW grow 11.1 %; then the range is not served."""
    plan = plan_of(load("range", 8.0, use=events((18.0, 1.0))), turns=1)
    short = margin_of(plan, 0.9).draws.short
    assert short.holds <= 10.0 / 9.0 - 1.0 <= short.at
    assert (short.binding.kind, short.binding.need, short.binding.limit) == (
        "running kW", 8.0, 10.0)
    said = margin_sentences(margin_of(plan, 0.9))[1]
    assert ("range loses most (it draws 8.0 kW, 33.3 A on a leg, beside what runs and starts; 10.0 "
            "kW, 41.6 A may be used)") in said


def test_a_draw_on_one_leg_is_named_in_amperes():
    """33 A and 4 A of the base are 37 A of the 41.7 A of a leg; the other leg has only 4 A."""
    plan = plan_of(load("heater", 4.0, leg="L1", use=events((18.0, 1.0))), turns=1)
    short = margin_of(plan, 0.9).draws.short
    limit_a = 1000.0 * 10.0 / 240.0
    used_a = 4000.0 / 120.0 + 1000.0 / 240.0
    assert short.holds <= limit_a / used_a - 1.0 <= short.at
    assert (short.binding.need, short.binding.need_a) == (4.0, pytest.approx(4000.0 / 120.0))
    assert short.binding.limit_a == pytest.approx(limit_a)


@pytest.mark.parametrize("what", ["starts", "draws"])
def test_the_replay_confirms_both_sides_of_the_shortfall(air, what):
    """At the growth that holds the goal is met, at the other it is not, and neither is refused."""
    starts = what == "starts"
    plan = air if starts else plan_of(load("range", 8.0, use=events((18.0, 1.0))), turns=1)
    short = getattr(margin_of(plan, 0.9), what).short
    grown = grown_starts if starts else grown_draws
    for growth, met in ((short.holds, True), (short.at, False)):
        house, supply = grown(plan.menu.house, plan.supply, growth)
        found = replay(house, supply, plan.choice)
        assert not isinstance(found, Refusal)
        assert (found.coverage >= 0.9) == met


def test_a_refusal_that_comes_first_leads():
    """Only an always connected base of 4 of 5 kW: it is refused before any coverage is lost."""
    plan = problems_of(home(base(4.0)), book(generator(5.0, 1.0, permitted_average=1.0)))[0].plan(
        Choice((DIRECT,), (0,), ()))
    growth = margin_of(plan, 0.9).draws
    assert growth.short is None
    assert growth.keeps == growth.holds
    assert replace(growth, refused_at=None).is_endless
