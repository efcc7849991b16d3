"""A plan in sentences: each says what the plan is, with its numbers, and no more than is known."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.facts.home import CodeEntry
from planner.plan import code
from planner.plan.margin import margin_of
from planner.plan.plan import LoadPlan
from planner.report.plan_words import (
    always_on,
    average_sentence,
    bearing_sentences,
    by_hand,
    by_hand_sentence,
    calculated_sentence,
    capacity_sentence,
    is_tight,
    left_off,
    price_sentence,
    proof_words,
    room_sentence,
    taking_turns,
    turn_sentence,
)
from planner.report.tables.verify import margin_sentences
from planner.search.problem import problems_of
from planner.service.choice import BY_HAND, DIRECT, MODULE, OFF, Choice
from tests.homes import ALL, base, events, home, load, motor
from tests.report.plans import book, generator

LOADS = (
    base(1.0, label="Lights"),
    load("dryer", 4.0, label="Clothes dryer", allowed=ALL, wait_h=1.0, importance=1,
         nature="task", use=events((18.0, 2.0))),
    motor("air", 3.0, 12.0, label="Air conditioner", allowed=ALL, importance=4,
          use=events((18.0, 1.0))),
    load("spa", 5.0, label="Hot tub", allowed=ALL, importance=2, use=events((20.0, 1.0))),
    load("well", 1.0, label="Well", allowed=ALL, importance=3, use=events((7.0, 1.0))),
)


@pytest.fixture(scope="module")
def plan():
    """6 kW at sea level: lights and well always on, air before dryer, no hot tub."""
    problem = problems_of(home(*LOADS), book(generator(6.0, 3000.0)))[0]
    return problem.plan(Choice((DIRECT, MODULE, MODULE, OFF, DIRECT), (0, 0, 1, 0, 0), (2, 1)))


def bounded(plan, bound):
    """The same plan with a bound."""
    return replace(plan, bound=bound)


def test_the_proof_goes_as_far_as_it_is_known(plan):
    """Nothing is known, something might cover more, or nothing does; three sentences."""
    assert proof_words(plan) == (
        "it is not known whether a plan at this price or less keeps more")
    assert proof_words(bounded(plan, 0.97)) == (
        "a plan at this price or less keeps 97.0 % at most")
    assert proof_words(bounded(plan, plan.coverage)) == "no plan at this price or less keeps more"


@pytest.mark.parametrize("bound", [None, 0.97, 0.8])
def test_a_proof_among_plans_of_its_size_says_so(plan, bound):
    """The words of the whole price book, with the generator named as what is held fixed."""
    plan = bounded(plan, bound)
    for words in (proof_words, price_sentence):
        assert words(plan).count("a plan at") + words(plan).count("no plan at") == 1
        assert words(plan, of_its_size=True) == words(plan).replace(
            " plan at", " plan with this generator at")


def test_price_coverage_and_proof_stand_in_one_sentence(plan):
    """Only the hot tub is missed, 2 of 10 by importance. Prices are those of the small book.

    Set 3000, switch 900, modules 2 x 250, controller 100, soft starter 330, the hot tub's circuit
    moved 180: 5010 USD.
    """
    assert plan.coverage == pytest.approx(8.0 / 10.0)
    assert price_sentence(plan) == (
        "Installed cost 5,010 USD; 80.0 % of what the family wants is kept, by importance; it is "
        "not known whether a plan at this price or less keeps more.")
    assert price_sentence(bounded(plan, 0.8)).endswith(
        "importance; no plan at this price or less keeps more.")


def test_the_currency_of_the_price_book_is_written():
    """A price is an amount of what the book is written in."""
    problem = problems_of(home(base(1.0)), book(generator(6.0, 3000.0), currency="EUR"))[0]
    assert "cost 3,900 EUR;" in price_sentence(problem.plan(Choice((DIRECT,), (0,), ())))


def test_capacity_is_that_of_the_site(plan):
    """6 kVA on 0.2 reactance start 10 kVA at a dip of 25 %; the well of 1 kW counts 1 kVA.

    Dip of x: S/S_set = x / (1 - x) / X'd = 0.25 / 0.75 / 0.2 (voltage divider), times 6 kVA.
    """
    assert capacity_sentence(plan) == (
        "Rating on natural gas 6 kW; derated for 80 degF (on all days as on the hottest) and 0 ft: "
        "6,000 W, 25.0 A per leg (amperes are not derated); 100 % may be planned: 6.0 kW, 25.0 A "
        "per leg. It starts up to 10.0 kVA of motors at the allowed dip.")


def test_the_calculated_load_is_told_by_both_methods(plan):
    """Part III alone where a circuit is on the utility side; comparing kVA with kW is a convention.

    Nothing counts but small-appliance and laundry circuits, 3000 + 35 % of 1500 = 3525 VA, the
    fixed appliances and the dryers of the home that are always connected (here the well, 1 kVA).
    """
    part = plan.direct_demand.total_va
    assert calculated_sentence(plan) == (
        f"Calculated load of what is always connected: {part:,.0f} VA by Part III (the optional "
        "method is not permitted); the generator may carry 6,000 W here (a convention: the "
        "calculated kVA are compared with the kW).")
    whole = problems_of(home(*(replace(one, allowed=frozenset({"direct"})) for one in LOADS)),
                        book(generator(40.0, 3000.0)))[0].plan(
        Choice((DIRECT,) * 5, (0,) * 5, ()))
    sheets = code.always_connected(whole.menu, whole.choice)
    assert (f"{sheets.optional.total_va:,.0f} VA by the optional method, "
            f"{sheets.standard.total_va:,.0f} VA by Part III; the lesser counts"
            ) in calculated_sentence(whole)


def test_height_takes_from_what_the_site_gives():
    """5500 ft leave 8.5 of 10 kW, and 90 % of that is used where the home says so."""
    house = home(base(1.0), altitude_ft=5500.0)
    house = replace(house, limits=replace(house.limits, largest_share=0.9))
    problem = problems_of(house, book(generator(10.0, 3000.0)))[0]
    said = capacity_sentence(problem.plan(Choice((DIRECT,), (0,), ())))
    assert said.startswith("Rating on natural gas 10 kW; derated for 80 degF")
    assert "and 5,500 ft: 8,500 W, 41.6 A per leg" in said
    assert "90.0 % may be planned: 7.6 kW, 37.5 A per leg." in said


def test_what_a_plan_bears_is_its_margin(plan):
    """One sentence for starts, one for draws, as the margin says them."""
    assert bearing_sentences(plan) == (*margin_sentences(margin_of(plan)), average_sentence(plan))
    assert len(bearing_sentences(plan)) == 3
    assert "starts" in bearing_sentences(plan)[0]


def always_connected(kw, start_kva):
    """A motor beside lights of 1 kW on 6 kW, which starts 10 kVA; nothing takes turns."""
    pump = replace(motor("pump", kw, start_kva, allowed=frozenset({"direct"})),
                   code=CodeEntry("appliance", 0.0), use=events((18.0, 1.0)))
    problem = problems_of(home(base(1.0), pump), book(generator(6.0, 1.0, short_time=5.0)))[0]
    return problem.plan(Choice((DIRECT, DIRECT), (0, 0), ()))


@pytest.mark.parametrize(("kw", "start_kva", "said", "tight"), [
    pytest.param(3.0, 8.0, "starts may grow 25 %, running draws 50 %", False, id="roomy"),
    pytest.param(3.0, 9.7, "starts may grow 3 %, running draws 50 %", True, id="starts"),
    pytest.param(4.8, 8.0, "starts may grow 25 %, running draws 3.4 %", True, id="draws"),
    pytest.param(4.8, 9.7, "starts may grow 3 %, running draws 3.4 %", True, id="both"),
    pytest.param(3.0, 9.5, "starts may grow 5.2 %, running draws 50 %", False, id="just roomy"),
])
def test_room_is_said_in_a_line_and_is_tight_below_a_twentieth(kw, start_kva, said, tight):
    """10 kVA over the start, 6 kW over what runs, less 1; tenths of a percent, never rounded up."""
    plan = always_connected(kw, start_kva)
    assert room_sentence(plan) == (f"Safety margin: {said}, before the plan "
        "keeps a point less or no longer works.")
    assert is_tight(plan) == tight


def test_every_load_stands_in_one_group(plan):
    """Always on and off in the order of the file, turns by priority; together all loads."""
    groups = (always_on(plan), taking_turns(plan), left_off(plan))
    assert [[part.id for part in group] for group in groups] == [
        ["base", "well"], ["air", "dryer"], ["spa"]]
    assert sorted(part.id for group in groups for part in group) == sorted(
        part.id for part in plan.loads)


def part(**changes):
    """A load that takes turns and gets all it asks for; the spa, which never works in the plan."""
    plain = LoadPlan(id="spa", label="Dryer", connection="module", module="relay",
                     soft_starter=None, priority=1, service=1.0, usual_wait_h=0.0,
                     longest_wait_h=0.0, called_h=2.0, served_h=2.0, must_run=False, importance=3)
    return replace(plain, **changes)


@pytest.mark.parametrize(("changes", "said"), [
    ({}, "Dryer: runs whenever it is wanted."),
    ({"called_h": 0.0}, "Dryer: not used on these days."),
    ({"id": "dryer"}, "Dryer: done up to 1 h later."),
    ({"service": 0.8, "comfort": "dryer"}, "Dryer: takes turns; dryer: all done."),
    ({"service": 1.0 - 1e-12}, "Dryer: runs whenever it is wanted."),
    ({"service": 0.0, "served_h": 0.0}, "Dryer: never runs."),
])
def test_what_turns_mean_for_a_load(plan, changes, said):
    """At once or after a wait, with what its comfort is like; never; and a load that never asks."""
    assert turn_sentence(plan, part(**changes)) == said


def test_turns_of_a_plan_are_said(plan):
    """The air goes first, for an hour; the load of washing waits as long, and is done."""
    assert [turn_sentence(plan, one) for one in taking_turns(plan)] == [
        "Air conditioner: runs whenever it is wanted.",
        "Clothes dryer: done up to 1 h later; dryer: all done."]


def test_what_is_lost_is_said_of_the_comfort():
    """The dryer may not wait: its only load is lost to the air conditioner."""
    loads = (LOADS[0], replace(LOADS[1], wait_h=0.0), *LOADS[2:])
    problem = problems_of(home(*loads), book(generator(6.0, 3000.0)))[0]
    plan = problem.plan(Choice((DIRECT, MODULE, MODULE, OFF, DIRECT), (0, 0, 1, 0, 0), (2, 1)))
    assert turn_sentence(plan, plan.load("dryer")) == (
        "Clothes dryer: never runs; dryer: not done.")
    light = replace(LOADS[1], wait_h=0.0, nature="clock")
    problem = problems_of(home(LOADS[0], light, *LOADS[2:]), book(generator(6.0, 3000.0)))[0]
    plan = problem.plan(Choice((DIRECT, MODULE, MODULE, OFF, DIRECT), (0, 0, 1, 0, 0), (2, 1)))
    assert turn_sentence(plan, plan.load("dryer")) == (
        "Clothes dryer: takes turns; dryer: without power for 1 h of 2 h.")


def test_what_the_family_switches_off_itself_is_said_with_what_that_asks_of_it():
    """Somebody has to be at home; until then it is counted. Nothing is said where there is none."""
    loads = (LOADS[0], replace(LOADS[3], importance=0, allowed=frozenset({"by hand", "direct"})))
    problem = problems_of(home(*loads), book(generator(12.0, 3000.0)))[0]
    found = problem.plan(Choice((DIRECT, BY_HAND), (0, 0), ()))
    assert [one.id for one in by_hand(found)] == ["spa"]
    said = by_hand_sentence(found)
    assert "somebody at home switches off" in said
    assert "Hot tub" in said
    assert "Until then it is counted as running." in said
    assert by_hand_sentence(problem.plan(Choice((DIRECT, DIRECT), (0, 0), ()))) == ""


@given(st.integers(0, 96), st.integers(0, 96))
def test_at_once_is_said_only_of_what_never_waits(plan, served, called):
    """For any slots of a day: a load that misses a quarter of an hour never runs at will."""
    served = min(served, called)
    one = part(service=served / called if called else 1.0, called_h=0.25 * called,
               served_h=0.25 * served)
    said = turn_sentence(plan, one)
    assert ("whenever" in said) == (served == called > 0)
    assert ("never runs" in said) == (served == 0 < called)
