"""What becomes of comforts is said once, in their units, and only where it reads otherwise."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.report.comforts.comfort_changes import change_phrase, change_sentences_of, instead
from planner.report.tables.points import less_than_usual, point_sentence, point_table
from planner.study.comfort_changes import ComfortChange, comfort_changes
from tests.homes import ALL, base, events, home, load, task
from tests.report.plans import generator, plan_of

HOUSE = home(base(1.0), load("tv", 4.0, importance=4, allowed=ALL, use=events((18.0, 2.0))),
             task("washer", 4.0, (18.0, 1.0), importance=2, allowed=ALL))
SIZE = generator(6.0, 3000.0)


@pytest.fixture(scope="module")
def plans():
    """The television first, whose evening ends the washing; and the other way round."""
    return plan_of(HOUSE, SIZE, "tv", "washer"), plan_of(HOUSE, SIZE, "washer", "tv")


@pytest.mark.parametrize(("now", "then", "said"), [
    ("no warmer than 79 degF", "no warmer than 84 degF",
     "no warmer than 79 degF instead of 84 degF"),
    ("as always", "without power", "as always instead of without power"),
    ("one shower cold", "one shower lukewarm", "one shower cold instead of lukewarm"),
    ("always hot", "always hot", "always hot instead of hot")])
def test_words_that_both_begin_with_are_said_once(now, then, said):
    """At least a word of the other is left, so that it can be read."""
    assert instead(now, then) == said


def test_a_change_is_said_with_its_day(plans):
    """An hour of the television against the only washing of the day."""
    before, after = plans
    said = change_sentences_of(comfort_changes(before, after), before.menu.house)
    assert said == ("washer: all done instead of not done on day",
                    "tv: without power for 1 h of 2 h instead of as always on day")
    assert change_sentences_of(comfort_changes(before, after), before.menu.house, 1) == said[:1]


def test_what_reads_alike_is_not_said(plans):
    """A tenth of a degree is a change to the study and none to a reader."""
    tv = plans[0].comfort("tv")
    other = replace(tv, by_day=np.array([0.99]))
    assert change_phrase(ComfortChange(tv.comfort, tv, other, 0), plans[0].menu.house) == ""


def test_what_is_less_than_usual_is_named(plans):
    """In the list of a frontier: the comforts that miss something, and how many they are."""
    first, other = plans
    assert less_than_usual(first) == "washer: not done"
    assert less_than_usual(other) == "tv: without power for 1 h of 2 h"
    assert point_sentence(first).endswith(" USD: washer: not done.")
    assert [row["less"] for row in point_table([first, other]).records] == [1, 1]


def test_a_plan_in_which_nothing_is_missed_says_so():
    """12 kW carry all of it."""
    found = plan_of(HOUSE, generator(12.0, 3000.0), "tv", "washer")
    assert less_than_usual(found) == "nothing, everything as usual"
