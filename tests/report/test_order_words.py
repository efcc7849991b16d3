"""Why the order is as it is: what the comforts would be like the other way round."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.report.order_words import order_sentences, swap_sentence
from planner.study.order_reasons import OrderReasons, Swap, order_reasons
from tests.homes import ALL, base, events, home, load, task
from tests.report.plans import book, generator, plan_of

HOUSE = home(
    base(1.0), load("tv", 4.0, label="Television", importance=4, allowed=ALL,
                    use=events((18.0, 2.0))),
    task("washer", 4.0, (18.0, 1.0), label="Washer", importance=2, wait_h=2.0, allowed=ALL))
OFFERED = book(generator(6.0, 3000.0))


@pytest.fixture(scope="module")
def plan():
    """The television ahead of the washer, which waits for it."""
    return plan_of(HOUSE, OFFERED.generators[0], "tv", "washer", offered=OFFERED)


def test_each_load_is_told_with_what_the_swap_would_do(plan):
    """The washer first would darken the television for an hour; as it is nothing is missed."""
    reasons = order_reasons(HOUSE, OFFERED, plan, 0.97)
    said = order_sentences(plan, reasons, 0.97)
    assert said[0] == (
        "Television goes ahead of Washer. The other way round: tv: without power for 1 h of 2 h "
        "instead of as always on day; 66.6 % instead of 100 % would be kept.")
    assert said[1] == ("Washer comes last: it takes the room that the others leave, done up to 2 "
                       "h later; washer: all done.")


@pytest.mark.parametrize(("kind", "why", "said"), [
    ("wish", "", " because you asked for it."),
    ("must-run", "Television must run, but would wait on day",
     ". The other way round: Television must run, but would wait on day."),
    ("alike", "", "; the other way round everything would be kept just as well."),
    ("covers-more", "", ", although the other way round would keep 99.0 % instead of 100 %; there "
     "are too many orders to try them all.")])
def test_every_reason_has_its_words(plan, kind, why, said):
    """Wishes and rules are named as such."""
    tv, washer = plan.load("tv"), plan.load("washer")
    swap = Swap(kind, tv, washer, 1.0, 1.0, 0.99, why)
    assert swap_sentence(swap, plan) == f"Television goes ahead of Washer{said}"


def test_stages_of_one_comfort_are_not_said_to_be_a_wish(plan):
    """Nobody asked that the heat pump goes ahead of its back-up."""
    tv = plan.load("tv")
    swap = Swap("wish", tv, replace(plan.load("washer"), comfort=tv.comfort), 1.0, 1.0, 1.0)
    assert "they serve one room" in swap_sentence(swap, plan)


def test_one_load_alone_and_none(plan):
    """There is nothing to swap with."""
    alone = plan_of(HOUSE, generator(12.0, 3000.0), "tv")
    assert order_sentences(alone, OrderReasons((), alone.load("tv"), None), 0.97) == (
        "Only Television takes turns: it runs whenever there is room beside what is always on; tv: "
        "as always.",)
    assert order_sentences(plan, OrderReasons((), None, None), 0.97) == ("No load takes turns.",)
