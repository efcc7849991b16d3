"""What kills beside a portable generator, and the steps for the moment it matters."""

from __future__ import annotations

import pytest

from planner.report.portable.data import by_hand_data
from planner.report.portable.steps import (
    DANGERS,
    OF_PORTABLES,
    SOURCE_OF_STEPS,
    keeper_sentence,
    refuelling_steps,
    returning_steps,
    starting_steps,
)
from planner.study.portable.options import by_hand
from tests.homes import clock, home, motor
from tests.study.portable.machines import THREE, interlock, offering, portable

SWITCH = interlock(kind="switch", positions=8)


def answer(transfer):
    """Two motors and light on 9 kW, behind this transfer equipment."""
    one = home(motor("small pump", 0.5, 3.0), motor("large pump", 1.5, 8.0),
               clock("light", 0.4, (18.0, 4.0)), attendance=THREE)
    return by_hand(one, offering(portable(9.0), transfers=(transfer,)))


def stand_in_this_order(steps, *words):
    """Each of these words begins a step further down than the one before."""
    places = [next(i for i, step in enumerate(steps) if step.startswith(word)) for word in words]
    assert places == sorted(set(places))


def test_an_outage_begins_outside_and_ends_with_the_largest_motor_first():
    """Outside, main off and interlock, branches off, cord, engine, inlet on, then one by one."""
    steps = starting_steps(answer(interlock()).shown)
    stand_in_this_order(steps, "Engine outside, 20 ft", "Main breaker OFF. Set the interlock",
                        "All branch breakers OFF", "Cord", "Start the engine", "Inlet breaker ON",
                        "Breakers of this hour ON, one by one")
    assert "the largest motor first (large pump; then small pump)" in steps[-1]


def test_the_utility_is_let_in_after_the_engine_is_off():
    """Branches off, inlet off, engine off and cooled, main on, branches."""
    steps = returning_steps(answer(interlock()).shown)
    stand_in_this_order(steps, "All branch breakers OFF", "Inlet breaker OFF", "Engine OFF",
                        "Interlock back, main breaker ON", "Branch breakers ON")
    assert "let it cool" in steps[3]
    assert "neighbour's lights" in steps[0]


def test_a_switch_has_steps_of_its_own():
    """Its positions go to OFF, to GENERATOR, back to UTILITY; the main breaker stays."""
    option = answer(SWITCH).shown
    begin, back = starting_steps(option), returning_steps(option)
    stand_in_this_order(begin, "Engine outside", "Transfer switch: every position OFF", "Cord",
                        "Start the engine", "Turn the positions of this hour to GENERATOR")
    stand_in_this_order(back, "Every position of the transfer switch OFF", "Engine OFF",
                        "Turn the positions to UTILITY")
    assert "interlock" not in " ".join([*begin, *back, keeper_sentence(option)])


@pytest.mark.parametrize("transfer", [interlock(), SWITCH])
def test_the_tank_is_filled_after_the_engine_has_cooled(transfer):
    """Loads off, engine off and cooled, filled, started."""
    steps = refuelling_steps(answer(transfer).shown)
    assert "OFF" in steps[0]
    stand_in_this_order(steps, "Engine OFF. Wait until it has cooled", "Fill the tank outdoors",
                        "Start the engine")


def test_what_keeps_it_off_the_line_stays():
    """The electrician fits it, nobody takes it off, and a line worker is why."""
    said = keeper_sentence(answer(interlock()).shown)
    for words in ("Only the electrician fits the interlock", "nobody takes it off", "line worker"):
        assert words in said


def test_the_cautions_of_portables_name_what_kills():
    """Carbon monoxide, what to do when an alarm sounds, backfeed, hot engines, gasoline."""
    assert [one.split(":")[0].split(",")[0] for one in DANGERS[:4]] == [
        "Carbon monoxide", "If an alarm sounds", "Wet", "Backfeed"]
    words = " ".join(OF_PORTABLES)
    for one in ("at night", "leaves the house at once", "calls for help", "engine off and cooled",
                "Gasoline keeps badly"):
        assert one in words


@pytest.mark.parametrize("transfer", [interlock(), SWITCH])
def test_the_data_hold_the_steps_and_their_source(transfer):
    """The same steps as in the text, under keys that do not change, and the cautions."""
    found = answer(transfer)
    data = by_hand_data(found)
    steps = data["options"][data["shown"]]["steps"]
    assert steps["utility_fails"] == list(starting_steps(found.shown))
    assert steps["to_refuel"] == list(refuelling_steps(found.shown))
    assert steps["utility_is_back"] == list(returning_steps(found.shown))
    assert steps["source"] == SOURCE_OF_STEPS
    assert data["cautions_of_portables"] == list(OF_PORTABLES)
