"""The options in words: what is saved, what is dropped, what more money buys, what is missing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.comfort import Promise
from planner.report.choice_words import (
    CALLED,
    NOTHING_NOTICED,
    against_recommended,
    beside_sentences,
    bought_words,
    card_sentences,
    dropped_phrases,
    in_a_sentence,
    reference_sentence,
    saving_sentence,
    size_of,
    spend_sentence,
    why_missing,
)
from planner.report.words import money
from planner.study.options import options
from planner.study.reference import sheds_nothing
from tests.homes import base, book, generator, home, task

OFFERED = book(generator(6.0, 3000.0), generator(8.0, 5000.0), generator(13.0, 8000.0))


@pytest.fixture(scope="module")
def house():
    """A range of 6.5 kW that is promised never to be cut, and a dryer at the same hour."""
    found = home(base(1.0), task("range", 6.5, (18.0, 1.0), importance=4),
                 task("dryer", 4.0, (18.0, 1.0), importance=1))
    return replace(found, comforts=tuple(
        replace(one, promise=Promise(uncut=True) if one.id == "range" else None)
        for one in found.comforts))


@pytest.fixture(scope="module")
def ways(house):
    """Its options for a goal that leaves the dryer undone."""
    return options(house, OFFERED, 0.7, none_starved=False)


def test_the_first_line_holds_the_plan_against_the_one_with_which_nothing_waits(ways):
    """Size and modules, its price, and the difference of the two prices."""
    said = in_a_sentence(ways)
    plan, last = ways.recommended.plan, ways.nothing_waits.plan
    assert said.startswith(f"8 kW with {plan.choice.modules} module")
    assert f": {money(plan.cost_usd)}." in said
    assert said.endswith(f"It saves {money(last.cost_usd - plan.cost_usd)} against the generator "
                         "with which nothing waits.")


def test_a_plan_is_held_against_what_the_family_can_spend(ways):
    """So much less or more than the budget, or just that; half a dollar is nothing."""
    plan = ways.recommended.plan
    assert spend_sentence(plan, plan.cost_usd + 500.0).startswith("500 USD less than the family's")
    assert spend_sentence(plan, plan.cost_usd - 500.0).startswith("500 USD more than the family's")
    assert spend_sentence(plan, plan.cost_usd + 0.1) == (
        f"That is what the family can spend, {money(plan.cost_usd)}.")


def test_where_nothing_is_saved_nothing_is_said_of_it(ways):
    """The last plan saves nothing against itself; without a reference only the price stands."""
    last = ways.nothing_waits.plan
    assert saving_sentence(last, last) == f"13 kW: {money(last.cost_usd)}."
    assert "saves" not in saving_sentence(ways.recommended.plan, None)
    assert size_of(last) == "13 kW"


def test_the_code_calculation_is_the_reference_where_something_always_waits():
    """5.5 kW all day on 6 kW: the code lets it be, the average does not."""
    heavy = home(base(5.5))
    held = sheds_nothing(heavy, book(generator(6.0, 9000.0)))
    plan = options(heavy, book(generator(13.0, 3000.0)), 0.9).recommended.plan
    said = saving_sentence(plan, None, held)
    assert said.endswith("the generator that the code calculation asks for without modules.")
    assert "not everything at once" in reference_sentence(held, "USD")


def test_the_cheaper_card_names_each_promise_and_what_it_is_like_instead(house, ways):
    """The promise of the range in its own words, and that it is not done."""
    cheaper = ways.named("cheaper")
    label = next(one.label for one in house.comforts if one.id == "range")
    (phrase,) = dropped_phrases(cheaper, house)
    assert phrase.startswith(f"{label} (")
    assert "not done" in phrase
    assert dropped_phrases(ways.recommended, house) == ()
    less = ways.recommended.plan.cost_usd - cheaper.plan.cost_usd
    assert against_recommended(cheaper, ways.recommended) == f"{money(less)} less"
    assert against_recommended(ways.recommended, ways.recommended) == ""


def test_what_more_money_buys_is_named_both_ways(ways):
    """From the recommended plan to everything the dryer is better, back again it is less good."""
    plan, dearer = ways.recommended.plan, ways.named("everything").plan
    label = next(one.comfort.label for one in plan.comforts if one.comfort.id == "dryer")
    assert bought_words(plan, dearer) == f"Better: {label}."
    assert bought_words(dearer, plan) == f"Less good: {label}."
    assert bought_words(plan, plan) == NOTHING_NOTICED
    assert card_sentences(ways.named("everything"), ways.recommended)[-1] == f"Better: {label}."


def test_a_missing_card_says_why(ways):
    """Where two are one plan it is said which; where the book has none, that."""
    assert why_missing(ways) == {"nothing waits": f"With “{CALLED['everything']}” nothing waits "
                                                  "either: they are one plan."}
    alone = replace(ways, choices=(ways.recommended,), nothing_waits=None)
    said = why_missing(alone)
    assert set(said) == {"cheaper", "everything", "nothing waits"}
    assert said["nothing waits"] == "No generator of the price book does everything at once."


def test_beside_the_cards_stand_the_largest_air_cooled_size_and_the_next_step(ways):
    """Each with its price; without modules it says so."""
    said = " ".join(beside_sentences(ways))
    air, step = ways.air_cooled.plan, ways.next_up.plan
    assert f"without a module: {money(air.cost_usd)}." in said
    more = money(step.cost_usd - ways.recommended.plan.cost_usd)
    assert f"The next step up, 13 kW, costs {more} more." in said
