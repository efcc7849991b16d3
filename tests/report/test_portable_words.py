"""What is said of a portable generator that is worked by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.comfort import Promise
from planner.facts.home import CodeBasis, DesignDay, Use
from planner.facts.portable import Attendance
from planner.facts.site import Place, Site
from planner.report.portable.breaks import broken_in_short, broken_sentences, missed_sentence
from planner.report.portable.groups import (
    always_sentence,
    change_sentences,
    groups_of,
    never_sentence,
    night_words,
)
from planner.report.portable.words import (
    alone_sentences,
    basis_sentence,
    beside_sentence,
    code_sentences,
    cooling_sentences,
    fuel_sentence,
    machine_sentence,
    neutral_sentence,
    noise_sentence,
    option_sentence,
    verdict_sentence,
)
from planner.report.tables.portable import (
    NOTE_OF_WORK,
    beside_table,
    days_table,
    kept_table,
    options_table,
)
from planner.report.words import share, span
from planner.study.basis import Basis
from planner.study.owning import owning_cost
from planner.study.portable.option import DAILY_H, SWITCHING_H
from planner.study.portable.options import by_hand
from tests.homes import book, cheapest, clock, food, generator, home, load, motor, room, tank
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
    assert broken_sentences(it) == (
        "It keeps every promise of the family while somebody works it.",)
    assert basis_sentence(it) == (
        "Assumed (portable.attended, portable.every): somebody is there and awake from 6:00 to "
        "22:00 and switches every 8 h at most; a refuelling stops the engine for 30 min; 90 % of "
        "a tank counts.")
    assert fuel_sentence(it) == (
        "Gasoline for 3 days: 23 gal, that is 5 cans of 5 gal, to be stored outside the house or "
        "fetched where stations have power.")
    assert always_sentence(it, 0) == "On all day on day: fridge and light."
    assert never_sentence(it, 0) == ""
    assert groups_of(it, 0) == [("6:00", "heater", "nothing"),
                                ("22:00", "nothing more", "heater")]
    assert change_sentences(it, 0) == (
        "At 6:00 turn ON heater.", "At 22:00 (refuel first, with everything off) turn OFF heater.")
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
        "Not recommended for this home. server: the family wants it served whenever it calls. It "
        "would be all right only if somebody is at home all day, able to work it, and up at night "
        "when it stops; and server may stop while the engine stands.")


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
    """Its start, carbon monoxide and tank; usual values are said to be so."""
    plain = option(None, portable(5.0, unstated=("inertia", "governor_lag")))
    assert machine_sentence(plain) == (
        "It starts by a cord, does not stop by itself at carbon monoxide (prefer one that does), "
        "and has a tank of 100 gal. Its maker does not state: inertia and governor lag; what is "
        "usual stands for it.")
    better = option(None, portable(5.0, electric_start=True, co_shutoff=True, noise_db=70.0))
    assert machine_sentence(better) == (
        "It starts by a battery, stops by itself at carbon monoxide, and has a tank of 100 gal.")


def test_cooling_is_told_with_its_numbers():
    """Started, only with a soft starter, not at all; what is asked is rounded up, limits down."""
    air = replace(motor("air", 3.0, 16.0), nature="room", use=room("it", 1.0).use)
    said = [cooling_sentences(option(home(air, attendance=THREE), portable(kw)))[0]
            for kw in (14.0, 10.0, 2.0)]
    assert said == [
        "air: it starts; its start takes 16.0 kVA of 18.6, and it runs with 3.0 kW of 14.0.",
        "air: with the soft starter in this price it starts; without one it does not (16.0 kVA of "
        "13.3).",
        "air: it does not start (16.0 kVA of 2.6, and it would run with 3.0 kW of 2.0)."]


def test_it_is_held_against_a_plan_comfort_by_comfort():
    """Both prices, what both keep by one measure, and every comfort in its own words."""
    one = small_home()
    plan = cheapest(one, book(generator(12.0, 3000.0)), 0.9)
    it = option(one)
    said = beside_sentence(it, plan)
    fuel = owning_cost(plan, Basis(1.0, 72.0)).fuel_usd
    assert said.startswith(
        "By hand it breaks: nothing. 1,509 USD, of it 69 USD gasoline for 3 days, instead of "
        "3,900 USD without fuel (3 days like the average of the design days burn natural gas for "
        f"{fuel:.0f} USD). It keeps ")
    assert "counted over all comforts, also those that a plan never loses" in said
    assert f"(the plan's own figure is {share(plan.coverage)})" in said
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
    assert offered == ["Portable, interlock", "1,509 USD", "nothing", share(it.kept),
                       span(float(it.attention_h.max()))]


def test_how_work_is_counted_is_said():
    """The three spans that the work of a day is made of, as the figures have them."""
    assert NOTE_OF_WORK.startswith(
        f"Work: {span(SWITCHING_H)} each time it is switched, 30 min each refuelling, "
        f"{span(DAILY_H)} a day")


STORM = {"every": Use(kind="duty", hours=(0.5,) * 24)}


def in_a_storm():
    """A home with a pit that fills within 8 min, and must not overflow."""
    pit = load("sump", 0.6, nature="pit", must_run=True, use=STORM)
    one = home(pit, clock("light", 0.4, (18.0, 4.0)), attendance=THREE)
    return replace(one, comforts=tuple(
        replace(each, promise=Promise(safe=True)) if each.kind == "pit" else each
        for each in one.comforts))


def test_a_flood_is_said_with_its_hours_and_cause():
    """Which pit, on which day, when, why, and how soon; in tables it stands before what is kept."""
    it = option(in_a_storm())
    hours = " and ".join(f"{it.periods.hour(p):.0f}:00" for p in it.refuellings[0])
    assert broken_sentences(it)[0] == (
        f"Floods: sump overflows on day at {hours}: the engine stands 30 min to be refuelled then, "
        "and without its pump the pit is full within 8 min; no other hour of that day is "
        "better. A pump with a battery of its own would keep it dry meanwhile.")
    assert broken_in_short(it) == "sump floods"
    table = options_table((it,))
    assert table.headings.index("Breaks") < table.headings.index("Kept")
    row, = (one for one in kept_table(it).cells if one[0] == "sump")
    assert row[-1] == "broken: never overflows"


def test_what_is_broken_besides_a_flood_is_named_too():
    """A room that nobody cools breaks its promise; so it is said after the flood, by its name."""
    wet = in_a_storm()
    hot = home(*wet.loads, replace(room("air", 9.0), comfort="room"), attendance=THREE)
    hot = replace(hot, comforts=tuple(
        replace(each, promise=Promise(safe=True) if each.kind == "pit" else Promise(
            warmest_degf=80.0) if each.kind == "room" else None) for each in hot.comforts))
    it = option(hot)
    first, second = broken_sentences(it)
    assert first.startswith("Floods: sump overflows")
    assert second.startswith("Promises that it breaks besides even so: room reaches ")
    assert broken_in_short(it) == "sump floods; room"


def test_around_the_clock_nobody_is_said_to_sleep():
    """With somebody up from 0:00 to 24:00 there is no night in which the engine stands."""
    it = option(replace(
        small_home(), attendance=Attendance(0.0, 24.0, 8.0, stated=True)))
    assert "somebody is there and awake day and night and switches every 8 h" in basis_sentence(it)
    said, = alone_sentences(it)
    assert said.startswith("Somebody is up day and night here, and has to be")
    assert "stands, and nothing has power" not in said
    assert night_words(it, 0) == "runs, watched"
    late = option(replace(small_home(), attendance=Attendance(6.0, 24.0, 6.0, stated=True)))
    assert "awake from 6:00 to 24:00" in basis_sentence(late)


def test_noise_is_said_where_the_neighbour_is():
    """Twice 23 ft takes 6.02 dB, so 74 dB are 68.0 (derived); without the distance it is asked."""
    loud = portable(5.0, noise_db=74.0)
    plain = noise_sentence(option(None, loud))
    assert plain.startswith("Noise: 74 dB at 23 ft")
    assert "site.place.neighbour" in plain
    site = Site(place=Place(neighbour_ft=46.0, neighbour_limit_db=60.0))
    said = noise_sentence(option(small_home(site=site), loud))
    assert said.startswith("Noise at the neighbour's, 46 ft away: 68.0 dB by day, the same at "
                           "night (74 dB at 23 ft")
    assert said.endswith("the limit there is 60 dB.")
    assert noise_sentence(option()) == "Noise: its maker does not state it."


def test_a_room_is_told_in_the_heat_and_in_the_cold():
    """Of the plan and by hand both seasons stand in the same row."""
    days = (DesignDay("hot", "Hot", "summer", 1.0, 75.0, 95.0),
            DesignDay("cold", "Cold", "winter", 1.0, 5.0, 25.0))
    one = home(room("air", 2.0, comfort="floor"), room("furnace", 0.5, cools=False,
               comfort="floor"), days=days, attendance=THREE)
    plan = cheapest(one, book(generator(12.0, 3000.0)), 0.9)
    row, = beside_table(option(one), plan).cells
    for cell in row[1:]:
        assert [words.split(" than ")[0] for words in cell.split(", ")] == [
            "no warmer", "no colder"]
