"""What is said of a portable generator that is worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.home import CodeBasis
from planner.report.portable_words import (
    OF_PORTABLES,
    alone_sentences,
    always_sentence,
    basis_sentence,
    beside_sentence,
    broken_sentence,
    code_sentences,
    cooling_sentences,
    fuel_sentence,
    groups_of,
    machine_sentence,
    missed_sentence,
    neutral_sentence,
    option_sentence,
    verdict_sentence,
)
from planner.report.tables.portable import beside_table, days_table, options_table
from planner.study.portable.options import by_hand
from tests.homes import book, cheapest, clock, food, generator, home, motor, room, tank
from tests.study.portable.machines import THREE, interlock, offering, portable


def small_home(**changes):
    """A refrigerator, light and a water heater; somebody switches at 6, 14 and 22 h."""
    return home(food("fridge", importance=5), clock("light", 0.4, (18.0, 4.0)),
                tank("heater", 4.0, importance=2), attendance=THREE, **changes)


def option(one=None, *portables, **changes):
    """Give the one that is shown."""
    found = by_hand(one or small_home(), offering(*(portables or (portable(5.0),)), **changes))
    assert found.shown is not None
    return found.shown


def test_an_option_is_told_from_its_price_to_its_night():
    """The text as it stands, read before it was kept; every figure follows from the small home."""
    it = option()
    assert option_sentence(it) == (
        "Portable, Interlock: 1,509 USD with gasoline for 3 days. It carries 5.0 kW of its 5 kW "
        "here.")
    assert broken_sentence(it) == "It keeps every promise of the family while somebody works it."
    assert basis_sentence(it) == (
        "Assumed (portable.attended, portable.every): somebody is there and awake from 6:00 to "
        "22:00 and switches every 8 h at most; a refuelling stops the engine for 30 min; 90 % of "
        "a tank counts.")
    assert fuel_sentence(it) == (
        "Gasoline for 3 days: 23 gal, that is 5 cans of 5 gal, to be stored outside the house or "
        "fetched where stations have power.")
    assert always_sentence(it, 0) == "Closed all day on day: fridge and light."
    assert groups_of(it, 0) == [("6:00", "heater"), ("22:00", "nothing more")]
    assert alone_sentences(it)[1] == (
        "If the utility leaves while nobody is up, nothing has power until 6:00. The same holds "
        "whenever nobody is at home.")
    assert missed_sentence(it) == ""


def test_who_it_is_for_is_said_first():
    """A calm home: only for who is there. A must-run load: not recommended, and why."""
    calm = by_hand(small_home(), offering(portable(5.0)))
    assert verdict_sentence(calm).startswith("Only for a family that is at home, awake and able")
    must = by_hand(home(clock("server", 0.3, (0.0, 24.0), must_run=True)), offering(portable(5.0)))
    assert verdict_sentence(must) == (
        "Not recommended for this home. server: the family wants it served whenever it calls.")


@pytest.mark.parametrize(("bonded", "switched", "said"), [
    (True, False, "bonded twice"), (True, True, "bonded once"), (False, False, "bonded once"),
    (False, True, "bonded nowhere"), (True, None, "ask whether")])
def test_where_the_neutral_is_bonded_is_a_finding(bonded, switched, said):
    """Twice, once, nowhere or not known; NEC 250.6, 250.30 and 250.34 (from memory)."""
    it = option(None, portable(5.0, neutral_bonded=bonded),
                transfers=(interlock(switches_neutral=switched),))
    assert said in neutral_sentence(it)
    assert "250." in neutral_sentence(it)


@pytest.mark.parametrize(("edition", "clause"), [
    ("2017", "702.4(B)(1)"), ("2020", "702.4(B)(1)"), ("2023", "702.4(A)(1)")])
def test_the_clause_is_that_of_the_edition(edition, clause):
    """Capacity behind manual transfer equipment: NEC 702.4, the numbers from memory."""
    it = option(small_home(code=CodeBasis(edition, "optional")))
    assert clause in code_sentences(it)[0]
    assert "the user may select the loads" in code_sentences(it)[0]


def test_a_switch_names_its_circuits_and_120_volts_their_neutral():
    """Positions are named; a machine of 120 V is warned of circuits that share a neutral."""
    low = portable(2.5, volts=120, receptacle_a=30.0)
    light = home(clock("light", 0.4, (18.0, 4.0), leg="L1"), attendance=THREE)
    it = option(light, low, transfers=(
        interlock(kind="switch", positions=2, volts=120, inlet_a=30.0),))
    said = code_sentences(it)
    assert "On its 2 positions: light." in said
    assert any("share its neutral" in one for one in said)


def test_the_machine_is_told_with_what_nobody_states():
    """Its start, carbon monoxide, tank and noise; usual values are said to be so."""
    plain = option(None, portable(5.0, unstated=("inertia", "governor_lag")))
    assert machine_sentence(plain) == (
        "It starts by a cord, does not stop by itself at carbon monoxide (prefer one that does), "
        "and has a tank of 100 gal. Its maker does not state: inertia and governor lag; what is "
        "usual stands for it.")
    better = option(None, portable(5.0, electric_start=True, co_shutoff=True, noise_db=70.0))
    assert machine_sentence(better) == (
        "It starts by a battery, stops by itself at carbon monoxide, has a tank of 100 gal, and is "
        "heard with 70 dB at 23 ft.")


def test_cooling_is_told_with_its_numbers():
    """Started, only with a soft starter, not at all; what is asked is rounded up, limits down."""
    air = replace(motor("air", 3.0, 16.0), nature="room", use=room("it", 1.0).use)
    said = [cooling_sentences(option(home(air, attendance=THREE), portable(kw)))[0]
            for kw in (14.0, 10.0, 2.0)]
    assert said == [
        "air: it starts; its start takes 16.0 kVA of 18.6, and it runs with 3.0 kW of 14.0.",
        "air: it starts only with a soft starter, which is in this price; its start takes 16.0 kVA "
        "of 13.3, and it runs with 3.0 kW of 10.0 without one.",
        "air: it does not start; its start takes 16.0 kVA of 2.6, and it runs with 3.0 kW of 2.0."]


def test_it_is_held_against_a_plan_comfort_by_comfort():
    """Both prices, what both keep by one measure, and every comfort in its own words."""
    one = small_home()
    plan = cheapest(one, book(generator(12.0, 3000.0)), 0.9)
    it = option(one)
    said = beside_sentence(it, plan)
    assert said.startswith("1,509 USD instead of 3,900 USD: it keeps ")
    assert "with nobody there" in said
    cells = beside_table(it, plan).cells
    assert [row[0] for row in cells] == ["fridge", "light", "heater"]
    assert cells[0][1:] == ["food safe", "food safe"]


def test_tables_have_a_row_for_every_day_and_option():
    """What a day asks, and what is on offer."""
    it = option()
    (row,), (offered,) = days_table(it).cells, options_table((it,)).cells
    assert row[0] == "day"
    assert row[-1] == "runs"
    assert offered[0] == "1,509 USD"


def test_the_cautions_of_portables_name_what_kills():
    """Carbon monoxide, backfeed, hot engines and gasoline."""
    words = " ".join(OF_PORTABLES)
    for one in ("Carbon monoxide", "Backfeed", "engine off and cooled", "Gasoline keeps badly"):
        assert one in words
