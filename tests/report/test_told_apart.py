"""Plans that are put side by side have names of their own."""

from __future__ import annotations

from dataclasses import replace

from planner.report.tables.comparison import comparison_table, told_apart
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from tests.homes import ALL, base, events, home, load
from tests.report.plans import book, generator

SMALL, LARGE = generator(6.0, 3000.0), generator(12.0, 6000.0)
HOUSE = home(base(1.0), load("dryer", 4.0, allowed=ALL, use=events((18.0, 1.0))),
             load("oven", 4.0, allowed=ALL, use=events((18.0, 1.0))))


def plan(offered=SMALL, dryer=MODULE, **changes):
    """A plan of the house with one set, with its dryer or without."""
    problem = problems_of(HOUSE, book(offered, **changes))[0]
    order = (2, 1) if dryer == MODULE else (2,)
    return problem.plan(Choice((DIRECT, dryer, MODULE), (0,) * 3, order))


def test_plans_of_different_sets_are_called_by_them():
    """A generator's label is enough where it stands once; the order is kept."""
    plans = [plan(LARGE), plan(SMALL)]
    assert told_apart(plans, None) == {"12 kW generator": plans[0], "6 kW generator": plans[1]}
    assert list(told_apart(plans, None)) == ["12 kW generator", "6 kW generator"]
    assert told_apart([], None) == {}


def test_plans_of_one_set_are_told_apart_by_price_and_coverage():
    """3000 + 900, modules 250 each, controller 100, moving a circuit 180; the dryer is half."""
    with_dryer, without, other = plan(), plan(dryer=OFF), plan(LARGE)
    assert told_apart([without, other, with_dryer], None) == {
        "6 kW generator, 4,430 USD, 50.0 %": without, "12 kW generator": other,
        "6 kW generator, 4,500 USD, 50.0 %": with_dryer}
    in_euros = [plan(currency="EUR"), plan(dryer=OFF, currency="EUR")]
    assert next(iter(told_apart(in_euros, None))) == "6 kW generator, 4,500 EUR, 50.0 %"


def test_the_reference_is_named_as_such():
    """It comes last, and does not make a plan of the same set ambiguous."""
    small, reference = plan(), plan(LARGE)
    assert told_apart([small], reference) == {"6 kW generator": small,
                                              "No load shedding: 12 kW generator": reference}
    assert list(told_apart([reference], reference)) == [
        "12 kW generator", "No load shedding: 12 kW generator"]
    assert told_apart([], reference) == {"No load shedding: 12 kW generator": reference}


def test_names_lead_to_columns():
    """Every name is a heading of the comparison."""
    named = told_apart([plan(), plan(dryer=OFF)], plan(LARGE))
    assert comparison_table(named).headings == ["", *named]


def test_no_plan_is_lost_where_price_and_coverage_are_alike():
    """Two sets of one label, one price and one coverage still have two names."""
    twin = replace(SMALL, id="twin")
    plans = [plan(SMALL), plan(twin)]
    assert [id(one) for one in told_apart(plans, None).values()] == [id(one) for one in plans]
