"""Off by a module that stays open: what it costs, where it may be, what the rule makes of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import VerificationError
from planner.facts.price_book import Controller, Transfer
from planner.plan.code import direct_sheet
from planner.plan.keeping import saves_of, split, split_at_least
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from planner.study.any_price import choice_reaching
from planner.study.candidates import sturdier
from tests.homes import ALL, base, book, events, generator, home, load

TURNS, KEPT, MOVED = 1, 2, 3  # places of the loads
HOUSE = home(base(0.5), load("dryer", 3.0, allowed=ALL, use=events((18.0, 1.0))),
             load("stove", 9.0, allowed=frozenset({"off"})),
             load("kiln", 9.0, allowed=frozenset({"off"})))
BOOK = book(generator(8.0, 3000.0), relocation=400.0)
LOADS = (DIRECT, MODULE, OFF, OFF)


def problem_of(house=HOUSE, offered=BOOK):
    """The home on the one size of the book."""
    (problem,) = problems_of(house, offered)
    return problem


def chosen(*kept_open, connection=LOADS):
    """A choice in which the dryer takes turns, and what is off is so by these."""
    order = tuple(i for i, how in enumerate(connection) if how == MODULE)
    return Choice(connection, (0,) * len(connection), order, kept_open=frozenset(kept_open))


def test_only_what_is_off_has_a_module_that_stays_open():
    """A choice in which any other load has one contradicts itself."""
    with pytest.raises(ValueError, match=r"\[1\] have modules that stay open, and \[2, 3\] are"):
        chosen(TURNS)
    assert chosen(KEPT).modules == 2
    assert chosen(KEPT).left_out == {MOVED}


@pytest.mark.parametrize(("kept", "lines"), [
    ((), {"contactor module, installed": (1, 250.0), "controller, installed": (1, 100.0),
          "circuits moved to the utility side": (2, 800.0)}),
    ((KEPT,), {"contactor module, installed": (1, 250.0), "controller, installed": (1, 100.0),
               "contactor module, to stay open, installed": (1, 250.0),
               "circuits moved to the utility side": (1, 400.0)}),
    ((KEPT, MOVED), {"contactor module, installed": (1, 250.0),
                     "large controller, installed": (1, 260.0),
                     "contactor module, to stay open, installed": (2, 500.0)})])
def test_each_way_to_be_off_has_its_line(kept, lines):
    """Modules that stay open stand by themselves, and count for the controller."""
    plan = problem_of().plan(chosen(*kept))
    shown = {line.text: (line.quantity, line.usd) for line in plan.price.lines}
    for text in ("8 kW generator", "installation of the generator",
                 "whole-house switch, installed"):
        del shown[text]
    assert shown == lines
    assert plan.cost_usd == pytest.approx(3900.0 + sum(usd for _, usd in lines.values()))


def test_the_rule_sees_no_difference():
    """Service, coverage, calculated load and order are those of the same loads moved."""
    one, other = problem_of().plan(chosen(KEPT, MOVED)), problem_of().plan(chosen())
    assert (one.service.service == other.service.service).all()
    assert one.coverage == other.coverage
    assert [part.priority for part in one.loads] == [part.priority for part in other.loads]
    assert direct_sheet(one.menu, one.choice) == direct_sheet(other.menu, other.choice)
    assert [part.stays_open for part in one.loads] == [False, False, True, True]
    assert one.load("stove").module == "relay"
    assert one.facts()["modules"] == 3
    assert one.facts()["stay_open"] == 2


@pytest.mark.parametrize("changes", [
    {"controllers": ()}, {"modules": ()},
    {"controllers": (Controller("one", "controller for one", 1, 50.0, 0.0),)}])
def test_what_cannot_be_built_is_no_plan(changes):
    """Without controller, without module, or with more modules than any controller drives."""
    problem = problem_of(offered=replace(BOOK, **changes))
    connection = (DIRECT, DIRECT, OFF, OFF)
    assert problem.plan(chosen(connection=connection)).cost_usd == pytest.approx(4700.0)
    with pytest.raises(VerificationError):
        problem.plan(chosen(KEPT, MOVED, connection=connection))


def test_with_selected_circuits_none_stays_open():
    """What stands in no position is off for nothing."""
    panel = Transfer("panel", "8 positions", "selected-circuits", 60.0, 8, 300.0, 100.0)
    house = replace(HOUSE, transfer_kinds=frozenset({"selected-circuits"}))
    problem = problem_of(house, replace(BOOK, transfers=(panel,)))
    assert not saves_of(problem.menu).any()
    with pytest.raises(VerificationError, match="stays open: stove"):
        problem.plan(chosen(KEPT))


@pytest.mark.parametrize(("saves", "turns", "number", "usd"), [
    ((), 0, 0, 0.0), ((), 1, 0, 100.0),
    ((90.0,), 0, 0, 0.0),                        # the first controller costs more
    ((100.0,), 0, 0, 0.0),                       # as much: the fewest modules
    ((101.0,), 0, 1, -1.0), ((60.0, 60.0), 0, 2, -20.0),
    ((90.0,), 1, 1, 10.0),                       # a place is free
    ((150.0,), 2, 0, 100.0),                     # the larger controller costs 160 more
    ((100.0, 90.0), 2, 2, 70.0),                 # two are worth it
    ((170.0, 5.0), 2, 2, 85.0),
    ((9.0,) * 9, 0, 0, 0.0), ((90.0,) * 9, 0, 8, -460.0),  # eight at most
    ((90.0,), 8, 0, 260.0), ((90.0,), 9, 0, float("inf"))])
def test_the_split_weighs_the_steps_of_the_controllers(saves, turns, number, usd):
    """Controllers for 2 modules at 100 and for 8 at 260; what each load saves, the most first."""
    found = split(problem_of().menu, saves, turns)
    assert found[0] == number
    assert found[1] == pytest.approx(usd)


def test_what_saves_most_stays_open_first():
    """Of three loads that are off, those whose modules are cheapest, and of equals the first.

    A controller drives two modules, and one takes turns.
    """
    thin = replace(BOOK.modules[0], id="thin", label="one-pole module", poles=1, price=50.0)
    offered = replace(BOOK, modules=(*BOOK.modules, thin), controllers=(
        Controller("two", "controller for two", 2, 100.0, 0.0),))
    house = home(*HOUSE.loads, load("lamp", 1.0, leg="L1", allowed=frozenset({"off"})))
    connection = (*LOADS, OFF)
    menu = problem_of(house, offered).menu
    assert split_at_least(menu, chosen(connection=connection)).kept_open == {4}
    assert split_at_least(menu, chosen(KEPT, connection=connection)).kept_open == {4}
    alone = (DIRECT, DIRECT, OFF, OFF, OFF)
    assert split_at_least(menu, chosen(connection=alone)).kept_open == {KEPT, 4}


def test_a_load_made_direct_leaves_its_place_to_one_that_is_off():
    """One more load always connected: its module is free, and the controller that drives one."""
    offered = replace(BOOK, controllers=(Controller("one", "for one", 1, 50.0, 0.0),))
    plan = problem_of(offered=offered).plan(chosen())
    assert plan.cost_usd == pytest.approx(3900.0 + 250.0 + 50.0 + 800.0)
    direct = [one for one in sturdier(plan) if one.choice.connection[TURNS] == DIRECT]
    assert [one.choice.kept_open for one in direct] == [{KEPT}]
    assert direct[0].cost_usd == pytest.approx(3900.0 + 250.0 + 50.0 + 400.0)


def test_what_is_found_at_any_price_is_off_in_the_cheapest_way():
    """Asked without prices, it is split by those of the book."""
    (problem, choice) = choice_reaching([problem_of()], 0.3)
    assert choice == split_at_least(problem.menu, choice)
    assert choice.kept_open == {KEPT}
