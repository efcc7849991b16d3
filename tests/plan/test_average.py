"""The average load of a plan's generator on its worst day."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import VerificationError
from planner.facts.home import DesignDay
from planner.plan.average import average_of
from planner.report.plan_words import average_sentence
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, Choice
from tests.homes import base, book, events, generator, home, load

DAYS = (DesignDay("mild", "mild day", "mild", 0.5, 60.0, 80.0),
        DesignDay("cold", "cold day", "winter", 0.5, 20.0, 40.0))


def plan_of(hours, permitted=None):
    """1 kW all day and 8 kW for some hours of the winter day, on 10 kW."""
    use = {"winter": events((0.0, hours))["every"]}
    one = home(base(1.0), load("heat", 8.0, use=use, allowed=frozenset({"direct"})), days=DAYS)
    size = generator(10.0, 3000.0, permitted_average=permitted)
    one = replace(one, loads=tuple(replace(ld, code=replace(ld.code, va=0.0)) for ld in one.loads))
    return problems_of(one, book(size))[0].plan(Choice((DIRECT, DIRECT), (0, 0), ()))


def test_the_worst_day_counts():
    """12 h at 9 kW and 12 h at 1 kW, which counts as 3: 60 % on the cold day, 30 % on the other."""
    found = average_of(plan_of(12.0))
    assert found.day == "cold day"
    assert found.share == pytest.approx(0.60)
    assert (found.permitted, found.by_maker, found.is_kept) == (0.70, False, True)


def test_an_average_that_is_not_permitted_is_no_plan():
    """18 h at 9 kW: 75 %, above the 70 % of ISO 8528-1, within the 80 % of a maker."""
    with pytest.raises(VerificationError, match="average power over 24 h on cold day"):
        plan_of(18.0)
    assert average_sentence(plan_of(18.0, permitted=0.8)) == (
        "Average load over 24 h 75.0 % of the rating here on cold day, 80.0 % permitted (by its "
        "maker).")
