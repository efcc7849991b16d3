"""What is connected and gets next to nothing is said with its numbers, and why where known."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.report.starved import poor_sentences, starved_sentences, starving_sentence
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from tests.homes import ALL, base, events, home, load, motor
from tests.report.plans import book, generator

EVENING = events((18.0, 4.0))
SPA = load("spa", 9.0, label="Hot tub", importance=2, allowed=ALL, use=EVENING)
AIR = motor("air", 2.0, 30.0, label="Air conditioner", importance=4, use=EVENING)


def plan_of(*loads, kw=6.0, soft=()):
    """Lights of 1 kW always on and these loads taking turns, `soft` with a soft starter."""
    offered = book(generator(6.0, 3000.0), generator(24.0, 9000.0), currency="EUR")
    problem = next(one for one in problems_of(home(base(1.0), *loads), offered)
                   if one.supply.derated_kw == kw)
    starters = tuple(int(one.id in soft) for one in loads)
    return problem.plan(Choice((DIRECT, *(MODULE,) * len(loads)), (0, *starters),
                               tuple(range(1, len(loads) + 1))))


def test_nothing_is_said_where_all_have_a_turn():
    """A sentence too many would alarm for nothing."""
    assert starved_sentences(plan_of(SPA, kw=24.0)) == ()


def test_what_is_never_kept_is_said_with_what_it_is_like():
    """9 kW have no room on 6 kW; no start is to blame, so none is named."""
    assert starved_sentences(plan_of(SPA)) == (
        "spa would be kept only 0.0 %: without power on day.",)


def test_what_is_kept_a_little_is_said_with_its_share():
    """The oven leaves the last quarter of eight hours: 1 of 32 slots is 3.1 %."""
    oven = load("oven", 4.0, use=events((12.0, 7.75)))
    dryer = load("dryer", 4.0, use=events((12.0, 8.0)))
    assert starved_sentences(plan_of(oven, dryer)) == (
        "dryer would be kept only 3.1 %: without power for 7 h 45 min of 8 h on day.",)


BLAMED = ("air would be kept only 0.0 %: without power on day: its start takes {}.0 kVA, and this "
          "generator starts 10.0 kVA at the allowed dip; {}.")


def air(kva):
    """An air conditioner that starts with so many kVA."""
    return motor("air", 2.0, kva, importance=4, use=EVENING)


@pytest.mark.parametrize(("kva", "able"), [
    (20.0, "with the soft starter it starts; the 24 kW generator starts it"),
    (30.0, "the 24 kW generator starts it"),
    (80.0, "nothing in the price book starts it")])
def test_a_start_that_is_too_much_is_the_reason(kva, able):
    """6 kVA on 0.2 reactance start 10 kVA at a dip of 25 %: 0.25 / 0.75 / 0.2 times 6; 24 start 40.

    The soft starter leaves 0.4: 8 of 20 kVA start, 12 of 30 do not. What is named starts it.
    """
    assert starved_sentences(plan_of(air(kva))) == (BLAMED.format(f"{kva:.0f}", able),)


def test_what_is_said_to_start_it_does():
    """With the soft starter it runs on this generator; without, on the larger one."""
    assert starved_sentences(plan_of(air(20.0), soft=("air",))) == ()
    assert starved_sentences(plan_of(air(30.0), kw=24.0)) == ()


def test_a_soft_starter_that_is_there_is_counted():
    """With 0.4 of 30 kVA it still takes 12 of 10: only the larger generator starts it."""
    assert starved_sentences(plan_of(AIR, soft=("air",))) == (
        BLAMED.format(12, "the 24 kW generator starts it"),)


@pytest.mark.parametrize(("start_kva", "blamed"), [(9.9, False), (10.1, True)])
def test_a_start_just_within_the_dip_is_not_blamed(start_kva, blamed):
    """A motor of 6 kW has no room beside the lights; only a start over 10 kVA is named besides."""
    (said,) = starved_sentences(plan_of(motor("air", 6.0, start_kva, use=EVENING)))
    assert said.startswith("air would be kept only 0.0 %: without power on day")
    assert ("its start takes" in said) == blamed


def test_what_a_cheaper_plan_leaves_out_is_said_with_what_it_saves():
    """Both plans buy the same but the set: 9000 - 3000, in the currency of the book."""
    starving, plan = plan_of(SPA, AIR), plan_of(SPA, AIR, kw=24.0)
    assert plan.cost_usd - starving.cost_usd == pytest.approx(6000.0)
    assert starving_sentence(starving, plan) == (
        "6,000 EUR less would reach the goal as well, with the 6 kW generator, but this would not "
        "run: Air conditioner and Hot tub.")


def test_what_matters_much_and_is_kept_by_less_than_half_is_said():
    """Two of the dryer's eight hours are left by the oven; at importance 3 nobody is alarmed."""
    oven = load("oven", 4.0, use=events((12.0, 6.0)))
    dryer = load("dryer", 4.0, importance=4, use=events((12.0, 8.0)))
    assert poor_sentences(plan_of(oven, dryer)) == (
        "dryer would be kept only 25.0 %: without power for 6 h of 8 h on day.",)
    assert starved_sentences(plan_of(oven, dryer)) == ()
    assert poor_sentences(plan_of(oven, replace(dryer, importance=3))) == ()
    assert poor_sentences(plan_of(oven, dryer, kw=24.0)) == ()


def test_what_stands_first_in_vain_is_said():
    """9 kW with priority 1 on 6 kW; behind another load it is said as kept badly only."""
    oven = load("oven", 4.0, use=events((12.0, 1.0)))
    assert poor_sentences(plan_of(SPA, oven)) == (
        "Hot tub has priority 1 and yet gets no power on day.",)
    assert poor_sentences(plan_of(oven, SPA)) == ()
