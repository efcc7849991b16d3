"""What is said of the houses in which a plan holds, what more money buys, and what to verify."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.report.code_words import wiring_sentences
from planner.report.confidence_words import added_words, confidence_sentences
from planner.report.tables.comparison import HOLDS_IN, comparison_table
from planner.report.tables.wishes import held_against, how_it_counts
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from planner.study.confidence import Confidence, Matter
from planner.study.confidence.guesses import Guess
from planner.study.recommend import Recommendation
from tests.homes import base, events, home, load, motor
from tests.report.plans import book, generator

HOUSE = home(base(1.0), load("oven", 3.0, use=events((18.0, 1.0))),
             motor("air", 2.0, 12.0, use=events((12.0, 2.0))))
DRAW = Guess("Oven", "running", "3 kW", (("oven", "running"),))
MODULES = Choice((DIRECT, MODULE, MODULE), (0, 0, 0), (1, 2))
STURDY = Choice((DIRECT, DIRECT, MODULE), (0, 0, 1), (2,))


@pytest.fixture(scope="module")
def problems():
    """The home with two sizes."""
    return problems_of(HOUSE, book(generator(12.0, 3000.0), generator(16.0, 5000.0)))


def told(share, known=None):
    """A confidence, and what knowing the draw of the oven would make of it."""
    return Confidence(share, 1000, (Matter(DRAW, share if known is None else known),))


def test_what_the_difference_buys_is_named_where_the_generator_is_the_same(problems):
    """A soft starter and a load made direct; of another size nothing is listed."""
    frail, sturdy = problems[0].plan(MODULES), problems[0].plan(STURDY)
    assert added_words(frail, sturdy) == "a soft starter for air and oven always connected"
    assert added_words(frail, problems[1].plan(STURDY)) == ""
    assert added_words(frail, frail) == ""
    found = Recommendation(sturdy, 0.9, confidence=told(0.8), asked=0.75, frail=frail,
                           frail_confidence=told(0.3))
    said = " ".join(confidence_sentences(found))
    assert "holds in 80 of 100 houses like this (75 were asked for)" in said
    assert "that plan holds in 30 of 100 houses like this." in said
    assert "The difference buys a soft starter for air and oven always connected." in said


def test_what_holds_but_cannot_be_wired_is_not_said_to_hold_seldom(problems):
    """Then the legs are the reason."""
    found = Recommendation(problems[0].plan(STURDY), 0.9, confidence=told(0.8), asked=0.75,
                           frail=problems[0].plan(MODULES), frail_confidence=told(0.9))
    assert "but no arrangement of its 120 V loads is carried by both lines" in " ".join(
        confidence_sentences(found))


def test_what_decides_about_the_cheaper_plan_is_named_where_the_dearer_leaves_nothing_open(
        problems):
    """The dearer plan holds always; the cheaper would hold more often with a known oven."""
    found = Recommendation(problems[1].plan(STURDY), 0.9, confidence=told(1.0), asked=0.75,
                           frail=problems[0].plan(MODULES), frail_confidence=told(0.4, 0.52))
    assert confidence_sentences(found)[-1].endswith("Oven, draw (3 kW): 52 of 100.")
    open_too = replace(found, confidence=told(0.8, 0.95))
    assert confidence_sentences(open_too)[-1].startswith("Verify first")


def test_a_share_that_was_not_asked_for_is_held_against_that_of_a_quote(problems):
    """Below it that is said, at it not."""
    plan = problems[0].plan(MODULES)
    first = [confidence_sentences(Recommendation(plan, 0.9, confidence=told(share)))[0]
             for share in (0.74, 0.75)]
    assert [one.endswith("A quote takes 75 of 100.") for one in first] == [True, False]


def test_prices_say_what_they_are_held_against_only_where_it_is_another_plan(problems):
    """The recommended plan, or the cheapest with its price."""
    cheap, sturdy = problems[0].plan(MODULES), problems[0].plan(STURDY)
    assert held_against(Recommendation(cheap, 0.9)) == ""
    found = Recommendation(sturdy, 0.9, frail=cheap, frail_confidence=told(0.3), asked=0.75)
    assert f"{cheap.cost_usd:,.0f} USD" in held_against(found)
    assert how_it_counts(found).endswith(held_against(found))


def test_a_comparison_says_in_how_many_houses_each_plan_holds(problems):
    """Rounded down; a plan of which it is not known has an empty cell."""
    plans = {"small": problems[0].plan(MODULES), "large": problems[1].plan(MODULES)}
    rows = {row.heading: row.cells for row in comparison_table(plans, {"small": told(0.769)}).items}
    assert rows[HOLDS_IN] == {"small": "76 of 100", "large": ""}
    assert HOLDS_IN not in {row.heading for row in comparison_table(plans).items}


def test_a_plan_whose_legs_no_arrangement_carries_is_warned_of():
    """One load of 120 V and 5 kVA on a 6 kW generator: 50 A by the code on a leg of 25 A."""
    heavy = load("heater", 5.0, leg="L1", allowed=frozenset({"direct"}),
                 use=events((18.0, 1.0)), importance=0)
    one = home(base(0.5), heavy, load("oven", 2.0, use=events((12.0, 1.0))))
    sound = problems_of(HOUSE, book(generator(12.0, 3000.0)))[0].plan(MODULES)
    assert wiring_sentences(sound) == ()
    whole = replace(generator(12.0, 3000.0), breaker_a=20.0)
    plan = problems_of(one, book(whole))[0].plan(Choice((DIRECT, DIRECT, MODULE), (0,) * 3, (2,)))
    assert "No arrangement of its 120 V loads fits" in wiring_sentences(plan)[0]
