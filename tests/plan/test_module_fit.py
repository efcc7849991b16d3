"""Which shedding module may switch a load, and what is said where none may."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.home import CodeEntry
from planner.facts.price_book import Module
from planner.plan.menu import menu_of
from planner.service.choice import MODULE
from planner.service.house import house_of
from planner.service.module_fit import (
    cheapest_module,
    closest_reason,
    module_findings,
    motor_full_load_a,
    why_not,
)
from tests.homes import book, generator, home, load, motor

FIFTY = Module("fifty", "50 A module", "contactor", 2, 50.0, 5.0, 150.0, 100.0)
SIXTY = Module("sixty", "60 A module", "contactor", 2, 60.0, 5.0, 200.0, 100.0)
CALL = Module("call", "thermostat module", "thermostat", 0, 0.0, 0.0, 50.0, 50.0)


def charger(amperes):
    """A vehicle charger of so many amperes."""
    kw = 0.24 * amperes
    return load("car", kw, code=CodeEntry("vehicle", 1000.0 * kw))


def offering(*modules):
    """A price book with these modules."""
    return book(generator(20.0, 4000.0), modules=modules)


def test_a_module_stands_behind_the_breaker_of_its_load():
    """A 48 A charger has a 60 A breaker (625.41), so that 50 A are too few, though it draws 48."""
    assert "60 A (625.41)" in why_not(FIFTY, charger(48.0))
    assert cheapest_module(charger(48.0), offering(FIFTY, SIXTY)) == SIXTY
    assert cheapest_module(charger(40.0), offering(FIFTY, SIXTY)) == FIFTY


def test_a_range_is_judged_by_its_plate():
    """A 12 kW range draws 33.3 A as the plan counts it and stands behind 50 A: 35 A are too few."""
    kitchen = load("range", 8.0, code=CodeEntry("cooking", 12_000.0))
    small = replace(FIFTY, amperes=35.0)
    assert "50 A" in why_not(small, kitchen)
    assert why_not(FIFTY, kitchen) == ""


def test_a_fault_current_asks_for_a_rating_not_for_a_breaker():
    """Where only the fault current keeps modules away, the remedy is a higher rating (110.9).

    The module that withstands the most, and costs the least, is named.
    """
    weak = replace(FIFTY, short_circuit_a=5000.0)
    more = replace(SIXTY, short_circuit_a=10_000.0)
    one = replace(home(charger(40.0)), fault_current_a=12_000.0)
    one = replace(one, loads=tuple(replace(x, allowed=frozenset({"module"})) for x in one.loads))
    finding, = module_findings(one, offering(weak, more))
    assert "60 A module: 12,000 A may flow" in finding.sentence
    assert "higher short-circuit rating" in finding.remedy
    assert "breaker =" not in finding.remedy


def test_a_larger_permitted_breaker_is_the_makers_word():
    """It moves the breaker only: what the load draws must still be carried."""
    more = replace(FIFTY, largest_breaker_a=60.0)
    assert why_not(more, charger(48.0)) == ""
    assert "carries 50 A" in why_not(replace(more, largest_breaker_a=100.0), charger(64.0))


def test_a_breaker_that_was_read_off_the_panel_decides():
    """A dryer stands behind 35 A by 422.11(E) unless its 30 A breaker is known."""
    dryer, thirty = load("dryer", 5.0), replace(FIFTY, amperes=30.0)
    assert "35 A (422.11(E))" in why_not(thirty, dryer)
    assert why_not(thirty, replace(dryer, breaker_a=30.0)) == ""


@pytest.mark.parametrize(("stated", "said"), [
    ({"motor_hp": 1.0}, "1.5 hp"),
    ({"full_load_a": 9.0}, "10.0 A"),
    ({"locked_rotor_a": 50.0}, "60 A"),
    ({"full_load_a": 10.0, "locked_rotor_a": 60.0}, ""),
])
def test_a_motor_is_held_against_every_rating_that_is_stated(stated, said):
    """1½ hp at 230 V: 10 A (NEC Table 430.248), six times that at locked rotor."""
    pump = load("pump", 2.0, starting_kva=14.4, motor_hp=1.5, code=CodeEntry("motor", 2400.0))
    found = why_not(replace(FIFTY, **stated), pump)
    assert said in found
    assert bool(said) == bool(found)


def test_a_compressor_has_no_row_in_the_table_of_motors():
    """Its full-load current is what it draws; the table is for others (NEC 440.6, from memory)."""
    air = motor("air", 3.6, 20.0, motor_hp=3.0)
    assert motor_full_load_a(air) == pytest.approx(15.0)
    assert motor_full_load_a(replace(air, compressor=False)) == 17.0


def test_the_fault_current_is_asked_only_where_both_are_known():
    """NEC 110.9: 10,000 A at the panel are too much for 5000 A; unknown, nothing is refused."""
    weak = replace(FIFTY, short_circuit_a=5000.0)
    assert "10,000 A" in why_not(weak, charger(24.0), 10_000.0)
    assert why_not(weak, charger(24.0)) == ""
    assert why_not(FIFTY, charger(24.0), 10_000.0) == ""
    one = home(charger(24.0), fault_current_a=10_000.0)
    size = generator(20.0, 4000.0)
    assert not menu_of(house_of(one), book(size, modules=(weak,)), size, "whole-house").allowed[
        0, MODULE]


def test_a_thermostat_module_carries_nothing():
    """The breaker of the compressor is not its matter."""
    air = motor("air", 12.0, 60.0, module_actions=frozenset({"thermostat"}))
    assert why_not(CALL, air) == ""
    assert "does not suit" in why_not(FIFTY, air)


def test_a_load_without_a_module_is_named_with_the_reason():
    """The finding says of the module that comes closest why it does not fit, and what to do."""
    one, offered = home(charger(48.0), charger(24.0)), offering(FIFTY)
    finding, = module_findings(one, offered)
    assert finding.where == "load car"
    assert "50 A module: the branch breaker may be 60 A (625.41)" in finding.sentence
    assert "breaker" in finding.remedy
    assert closest_reason(charger(24.0), offered) == ""
    assert module_findings(one, offering(FIFTY, SIXTY)) == ()
