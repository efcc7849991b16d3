"""Of several plans, what every one of them serves in full, and where some plan is short."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.report.tables.hours import fully_served, hours_table, where_short
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from tests.homes import ALL, base, events, home, load
from tests.report.plans import book, generator

PROBLEM = problems_of(
    home(base(1.0, label="Lights"),
         load("dryer", 4.0, label="Clothes dryer", allowed=ALL, use=events((18.0, 2.0))),
         load("oven", 4.0, label="Oven", allowed=ALL, use=events((18.0, 1.0))),
         load("spa", 4.0, label="Hot tub", allowed=ALL, use=events((7.0, 1.0))),
         load("spare", 1.0, label="Spare", allowed=ALL, use={})),
    book(generator(6.0, 3000.0)))[0]


def plan(dryer=MODULE, oven=MODULE, spa=MODULE, order=(1, 2, 3)):
    """A plan with the loads that take turns in this order."""
    connection = (DIRECT, dryer, oven, spa, OFF)
    turns = tuple(i for i in order if connection[i] == MODULE)
    return PROBLEM.plan(Choice(connection, (0,) * 5, turns))


PLANS = {"dryer first": plan(), "oven first": plan(order=(2, 1, 3)),
         "no hot tub": plan(spa=OFF), "hot tub only": plan(dryer=OFF, oven=OFF)}


@pytest.mark.parametrize(("names", "full", "short"), [
    (["dryer first"], ("Lights", "Clothes dryer", "Hot tub"), ["Oven"]),
    (["oven first"], ("Lights", "Oven", "Hot tub"), ["Clothes dryer"]),
    (["dryer first", "oven first"], ("Lights", "Hot tub"), ["Clothes dryer", "Oven"]),
    (["no hot tub", "dryer first"], ("Lights", "Clothes dryer"), ["Oven", "Hot tub"]),
    (list(PLANS), ("Lights",), ["Clothes dryer", "Oven", "Hot tub"])])
def test_what_is_short_in_any_plan_has_a_row(names, full, short):
    """Half an hour lost in one plan is enough; what never calls stands in neither."""
    plans = {name: PLANS[name] for name in names}
    assert fully_served(plans) == full
    assert [row.label for row in where_short(plans).items] == short


def test_rows_that_are_kept_are_those_of_the_whole_table():
    """Title, columns and cells are as in the table of all loads; every plan keeps its column."""
    whole, kept = hours_table(PLANS), where_short(PLANS)
    assert (kept.title, kept.headings) == (whole.title, whole.headings)
    assert kept.cells == [cells for cells in whole.cells if cells[0] != "Lights"]


def test_a_home_in_which_nothing_is_short_has_no_rows():
    """Where the hot tub alone takes turns it gets them all; without plans nothing is said."""
    house = home(base(1.0, label="Lights"),
                 load("spa", 4.0, label="Hot tub", use=events((7.0, 1.0))))
    problem = problems_of(house, book(generator(6.0, 3000.0)))[0]
    plans = {"plan": problem.plan(Choice((DIRECT, MODULE), (0, 0), (1,)))}
    assert where_short(plans).cells == []
    assert fully_served(plans) == ("Lights", "Hot tub")
    assert where_short({}).cells == []
    assert fully_served({}) == ()


@given(st.sets(st.sampled_from(sorted(PLANS)), min_size=1))
def test_every_load_that_calls_is_either_full_or_short(names):
    """Together they are the table of all; full means all that is asked for, in every plan."""
    plans = {name: PLANS[name] for name in sorted(names)}
    labels = [row.label for row in hours_table(plans).items]
    full, short = fully_served(plans), [row.label for row in where_short(plans).items]
    assert sorted([*full, *short]) == sorted(labels)
    for one in PLANS["dryer first"].loads:
        if one.called_h > 0.0:
            served = [each.load(one.id).service for each in plans.values()]
            assert (one.label in full) == (min(served) == pytest.approx(1.0))
