"""Hours a day: what every load asks for, and what it gets in each plan."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.facts.home import DesignDay, Use
from planner.report.tables.frames import frame
from planner.report.tables.hours import hardest_day, hours_table, of_hours
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from tests.homes import ALL, base, events, home, load
from tests.report.plans import book, generator


@pytest.fixture(scope="module")
def plans():
    """One home with and without its dryer, on two days of which the hot one weighs three."""
    house = home(
        base(1.0),
        load("dryer", 4.0, label="Clothes dryer", allowed=ALL,
             use={"summer": Use(kind="events", events=((18.0, 1.0),)),
                  "winter": Use(kind="events", events=((7.0, 3.0),))}),
        load("oven", 4.0, label="Oven", use=events((18.0, 0.5))),
        load("spare", 1.0, label="Spare", use={}),
        days=(DesignDay("hot", "hot", "summer", 3.0, 70.0, 90.0),
              DesignDay("cold", "cold", "winter", 1.0, 20.0, 40.0)))
    problem = problems_of(house, book(generator(6.0, 3000.0)))[0]
    return {name: problem.plan(Choice((DIRECT, how, MODULE, MODULE), (0,) * 4, order))
            for name, how, order in (("turns", MODULE, (2, 1, 3)), ("without", OFF, (2, 3)))}


def test_hours_are_weighted_over_the_design_days(plans):
    """The dryer asks for (3 x 1 + 3) / 4 = 1.5 h and loses half an hour of three days in four."""
    row = next(row for row in hours_table(plans).records if row["load"] == "Clothes dryer")
    assert row == {"load": "Clothes dryer", "served_turns_h": pytest.approx(1.125),
                   "served_without_h": 0.0}


def test_what_is_got_stands_beside_what_is_asked_for(plans):
    """Every load in the order of the file; one that never calls has no row.

    What is off asks for what nobody knows.
    """
    table = hours_table(plans)
    assert table.headings == ["Load", "turns", "without"]
    assert table.cells == [["base", "24.0 of 24.0 h", "24.0 of 24.0 h"],
                           ["Clothes dryer", "1.1 of 1.5 h", "off"],
                           ["Oven", "0.5 of 0.5 h", "0.5 of 0.5 h"]]


def test_a_frame_holds_numbers_under_keys_with_units(plans):
    """Charts read hours, not text."""
    found = frame(hours_table(plans))
    assert list(found.columns) == ["load", "served_turns_h", "served_without_h"]
    assert found["served_turns_h"].tolist() == pytest.approx([24.0, 1.125, 0.5])


def test_a_plan_may_be_called_anything(plans):
    """No name of a plan hides the column of the loads."""
    table = hours_table({"called": plans["without"], "load": plans["turns"]})
    assert len({column.key for column in table.columns}) == 3


def test_without_plans_there_is_a_table_without_rows():
    """A screen may ask before a plan is pinned."""
    assert list(frame(hours_table({})).columns) == ["load"]
    assert hours_table({}).cells == []


@pytest.mark.parametrize(("served_h", "called_h", "said"), [
    (3.2, 3.4, "3.2 of 3.4 h"), (0.0, 3.4, "0.0 of 3.4 h"), (3.4, 3.4, "3.4 of 3.4 h"),
    (3.38, 3.4, "3.38 of 3.40 h"), (0.02, 3.4, "0.02 of 3.40 h"), (0.0, 0.01, "0.00 of 0.01 h"),
    (0.0125, 0.025, "0.01 of 0.03 h")])
def test_digits_suffice_to_tell_some_from_none_and_all_from_nearly_all(served_h, called_h, said):
    """One decimal where it does; more where rounding would promise or deny too much."""
    assert of_hours(served_h, called_h) == said


def test_a_rare_load_is_not_said_to_ask_for_nothing():
    """Three quarters of an hour on one day in a hundred: 0.0075 h a day."""
    days = (DesignDay("usual", "usual", "mild", 99.0, 60.0, 80.0),
            DesignDay("hot", "hot", "summer", 1.0, 70.0, 95.0))
    fan = load("fan", 1.0, use={"summer": Use(kind="events", events=((18.0, 0.75),))})
    problem = problems_of(home(base(1.0), fan, days=days), book(generator(6.0, 3000.0)))[0]
    table = hours_table({"plan": problem.plan(Choice((DIRECT, DIRECT), (0, 0), ()))})
    assert table.cells[1] == ["fan", "0.01 of 0.01 h"]


@given(st.integers(0, 96), st.integers(1, 96), st.floats(0.01, 1.0))
def test_only_the_whole_reads_as_the_whole(served, called, weight):
    """For any slots of a day of any usual weight: some is not none, and short is not all."""
    served_h, called_h = (0.25 * weight * min(slots, called) for slots in (served, called))
    got, _, asked = of_hours(served_h, called_h).removesuffix(" h").partition(" of ")
    assert (float(got) == 0.0) == (served == 0)
    assert (got == asked) == (served >= called)


def test_hours_of_single_days_add_up_to_the_weighted_ones(plans):
    """Every load in every plan: the days' hours times their weights are the hours of the whole."""
    first = next(iter(plans.values()))
    house = first.menu.house
    whole = {row.label: row for row in hours_table(plans).items}
    by_day = [{row.label: row for row in hours_table(plans, day).items} for day in house.home.days]
    for label, row in whole.items():
        for name, served_h in row.served_h.items():
            mean_h = sum(weight * day[label].served_h[name] for weight, day in
                         zip(house.weights, by_day, strict=True) if label in day)
            assert mean_h == pytest.approx(served_h)


def test_a_day_shows_what_the_mean_hides(plans):
    """On the hot day the dryer asks for one hour and gets half of it."""
    hot = next(iter(plans.values())).menu.house.home.days[0]
    row = next(row for row in hours_table(plans, hot).items if row.label == "Clothes dryer")
    assert (row.called_h["turns"], row.served_h["turns"]) == (1.0, 0.5)


def test_the_hardest_day_is_where_most_is_missing(plans):
    """With turns the dryer loses half of the hot day; without it all of both, the first counts."""
    days = next(iter(plans.values())).menu.house.home.days
    assert hardest_day([plans["turns"]]) == days[0]
    assert hardest_day([plans["without"]]) == days[0]
    assert hardest_day(plans.values()) == days[0]
    with pytest.raises(ValueError, match="no plan"):
        hardest_day([])
