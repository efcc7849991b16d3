"""Whether an outage keeps a promise: at, just within and just beyond what is allowed, by hand."""

from __future__ import annotations

import math

import pytest

from planner.facts.comfort import Comfort, Promise
from planner.simulation.outcome.losses import ComfortOutage
from planner.simulation.outcome.promises import is_broken


def comfort(kind, promise):
    """A comfort of a kind and what is promised of it."""
    return Comfort("it", "It", kind, 4.0, ("load",), promise=promise)


def came_to(worst, utility=0.0, **more):
    """An outage in which a comfort came to so much at worst."""
    return ComfortOutage("it", 0.0, 0.0, worst, utility, **more)


@pytest.mark.parametrize(("worst", "utility", "cooled", "broken"), [
    (58.9, 70.0, False, True), (59.1, 70.0, False, False),  # promised 60, within 1 degF
    (55.0, 55.5, False, False), (54.0, 55.5, False, True),  # the utility itself: 55.5
    (83.1, 76.0, True, True), (82.9, 76.0, True, False),  # promised 82
    (90.0, 89.5, True, False)])
def test_a_room_is_held_within_a_degree_and_no_better_than_with_the_utility(
        worst, utility, cooled, broken):
    """Colder or warmer than promised by more than 1 degF, and than with the utility."""
    promise = Promise(coldest_degf=60.0, warmest_degf=82.0)
    assert is_broken(comfort("room", promise), came_to(worst, utility, cooled=cooled)) is broken


@pytest.mark.parametrize(("by_hour", "utility", "broken"), [
    (37.9, 60.0, True), (38.1, 60.0, False), (20.0, 21.0, False), (18.0, 21.0, True)])
def test_miles_are_looked_at_at_the_hour_of_the_promise(by_hour, utility, broken):
    """40 miles by 7:00, 2 less are allowed; what the utility does not give is not missed."""
    one = comfort("car", Promise(miles=40.0, by_h=7.0))
    assert is_broken(one, came_to(0.0, 60.0, by_hour=by_hour, utility_by_hour=utility)) is broken


@pytest.mark.parametrize(("kind", "promise", "worst", "broken"), [
    ("meals", Promise(uncut=True), 1.0, True), ("meals", Promise(uncut=True), 0.0, False),
    ("meals", Promise(), 3.0, False), ("food", Promise(safe=True), 1.0, True),
    ("hot water", Promise(cold_showers=1.0), 1.04, False),
    ("hot water", Promise(cold_showers=1.0), 1.06, True),
    ("pit", Promise(safe=True), math.nan, False)])
def test_of_anything_else_less_than_a_twentieth_is_none(kind, promise, worst, broken):
    """A meal cut, food lost or a shower beyond what is promised; nothing where it is not used."""
    assert is_broken(comfort(kind, promise), came_to(worst)) is broken


def test_nothing_is_broken_where_nothing_is_promised():
    """A comfort without a promise may come to anything."""
    assert not is_broken(comfort("room", None), came_to(20.0, 70.0))
