"""Numbers say what they mean, with their unit, and never promise more than is so."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.plan.proof import Proof
from planner.report.words import count, instead_of, money, number, proof, rating, share, span


def test_money_has_its_currency_and_separated_thousands():
    """A price reads as an amount of something."""
    assert money(9350.4) == "9,350 USD"
    assert money(12.0, "EUR") == "12 EUR"


@given(st.floats(0.0, 1.0))
def test_only_the_whole_is_written_as_a_hundred_percent(value):
    """However close to 1, a share that misses something does not read 100 %."""
    assert (share(value) == "100 %") == (value >= 1.0 - 1e-9)


@pytest.mark.parametrize(("value", "said"), [(0.0, "0.0 %"), (0.7421, "74.2 %"), (0.9996, "99.9 %"),
                                             (1.0, "100 %")])
def test_shares_have_one_decimal(value, said):
    """The last case before the whole is held at 99.9 %."""
    assert share(value) == said


@pytest.mark.parametrize(("hours", "said"), [(0.0, "none"), (0.75, "45 min"), (2.0, "2 h"),
                                             (2.25, "2 h 15 min")])
def test_spans_are_said_in_hours_and_minutes(hours, said):
    """Nobody says 2.25 hours."""
    assert span(hours) == said


def test_numbers_and_counts():
    """Thousands are separated; one thing is singular."""
    assert number(1234.56) == "1,234.6"
    assert [count(1, "plan"), count(2, "plan"), count(0, "entry", "entries")] == [
        "1 plan", "2 plans", "0 entries"]


def test_the_proof_is_said_as_far_as_it_goes():
    """Proven, bounded or unbounded are three different sentences."""
    assert proof(Proof(0.9, 0.9)) == "proven"
    assert proof(Proof(0.75, 0.97)) == "at most 97.0 %"
    assert proof(Proof(0.75, None)) == "no bound"


def test_two_coverages_that_read_alike_are_not_held_against_each_other():
    """Nobody is told "98.0 % instead of 98.0 %"."""
    assert instead_of(0.9801, 0.9804) == "as much"
    assert instead_of(0.91, 0.9804) == "91.0 % instead of 98.0 %"


@pytest.mark.parametrize(("kw", "said"), [(11.79, "11.7"), (11.8, "11.8"), (18.86, "18.8")])
def test_a_rating_is_never_rounded_up(kw, said):
    """What a generator gives at its site is not promised better than it is."""
    assert rating(kw) == said
