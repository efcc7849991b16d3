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
from planner.report.words import share
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from tests.homes import ALL, base, events, home, load, motor
from tests.report.plans import book, generator

LOADS = (
    base(1.0, label="Lights"),
    load("dryer", 4.0, label="Clothes dryer", allowed=ALL, wait_h=1.0, importance=1,
         use=events((18.0, 2.0))),
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
        "it is not known whether a plan at this price or less covers more")
    assert proof_words(bounded(plan, 0.97)) == (
        "no plan at this price or less covers more than 97.0 %")
    assert proof_words(bounded(plan, plan.coverage)) == "no plan at this price or less covers more"


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
        "Installed cost 5,010 USD, coverage 80.0 %; it is not known whether a plan at this price "
        "or less covers more.")
    assert price_sentence(bounded(plan, 0.8)).endswith(
        "80.0 %; no plan at this price or less covers more.")


def test_the_currency_of_the_price_book_is_written():
    """A price is an amount of what the book is written in."""
    problem = problems_of(home(base(1.0)), book(generator(6.0, 3000.0), currency="EUR"))[0]
    assert "cost 3,900 EUR," in price_sentence(problem.plan(Choice((DIRECT,), (0,), ())))


def test_capacity_is_that_of_the_site(plan):
    """6 kVA on 0.2 reactance start 10 kVA at a dip of 25 %; the well of 1 kW counts 1 kVA.

    Dip of x: S/S_set = x / (1 - x) / X'd = 0.25 / 0.75 / 0.2 (voltage divider), times 6 kVA.
    """
    assert capacity_sentence(plan) == (
        "Rating on natural gas 6 kW; derated for 80 degF (on all days as on the hottest) and 0 ft: "
        "6,000 W, 25.0 A per leg (amperes are not derated); of the watts 100 % may be planned: "
        "6.0 kW. It starts up to 10.0 kVA of motors at the allowed dip.")


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
    assert "of the watts 90.0 % may be planned: 7.6 kW." in said


def test_what_a_plan_bears_is_its_margin(plan):
    """One sentence for starts, one for draws, as the margin says them."""
    assert bearing_sentences(plan) == (*margin_sentences(margin_of(plan)), average_sentence(plan))
    assert len(bearing_sentences(plan)) == 3
    assert "starts" in bearing_sentences(plan)[0]


def always_connected(kw, start_kva):
    """A motor beside lights of 1 kW on 6 kW, which starts 10 kVA; nothing takes turns."""
    pump = replace(motor("pump", kw, start_kva, allowed=frozenset({"direct"})),
                   code=CodeEntry("appliance", 0.0))
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
        "covers a point less or no longer works.")
    assert is_tight(plan) == tight


def test_every_load_stands_in_one_group(plan):
    """Always on and off in the order of the file, turns by priority; together all loads."""
    groups = (always_on(plan), taking_turns(plan), left_off(plan))
    assert [[part.id for part in group] for group in groups] == [
        ["base", "well"], ["air", "dryer"], ["spa"]]
    assert sorted(part.id for group in groups for part in group) == sorted(
        part.id for part in plan.loads)


def part(**changes):
    """A load that takes turns and gets all it asks for without waiting."""
    plain = LoadPlan(id="dryer", label="Dryer", connection="module", module="relay",
                     soft_starter=None, priority=1, service=1.0, usual_wait_h=0.0,
                     longest_wait_h=0.0, called_h=2.0, served_h=2.0, must_run=False, importance=3)
    return replace(plain, **changes)


@pytest.mark.parametrize(("changes", "said"), [
    ({}, "Dryer: runs whenever it wants to."),
    ({"called_h": 0.0}, "Dryer: does not run on these days."),
    ({"usual_wait_h": 0.25, "longest_wait_h": 1.5},
     "Dryer: gets all it asks for; waits 15 min as a rule, 1 h 30 min at most."),
    ({"service": 0.8}, "Dryer: gets 80.0 % of what it asks for; what is served does not wait; the "
     "rest is given up, and it has no power for 1 h at worst."),
    ({"service": 0.8, "usual_wait_h": 0.5, "longest_wait_h": 0.75},
     "Dryer: gets 80.0 % of what it asks for; what is served waits 30 min as a rule, 45 min at "
     "most; the rest is given up, and it has no power for 1 h at worst."),
    ({"service": 0.9999}, "Dryer: gets 99.9 % of what it asks for; what is served does not wait; "
     "the rest is given up, and it has no power for 1 h at worst."),
    ({"service": 1.0 - 1e-12}, "Dryer: runs whenever it wants to."),
    ({"service": 0.0}, "Dryer: never runs."),
])
def test_what_turns_mean_for_a_load(plan, changes, said):
    """All, part, or nothing; at once or after a wait; and a load that never asks.

    In the plan the dryer has no power for the hour of the air conditioner.
    """
    assert turn_sentence(plan, part(**changes)) == said


def test_turns_of_a_plan_are_said(plan):
    """The air goes first, for an hour; every call of the dryer waits as long, and may."""
    assert [turn_sentence(plan, one) for one in taking_turns(plan)] == [
        "Air conditioner: runs whenever it wants to.",
        "Clothes dryer: gets all it asks for; waits 1 h as a rule, 1 h at most."]


def test_what_is_given_up_is_said_with_the_standstill():
    """The dryer may not wait: it misses the hour of the air conditioner, 4 of 8 calls."""
    loads = (LOADS[0], replace(LOADS[1], wait_h=0.0), *LOADS[2:])
    problem = problems_of(home(*loads), book(generator(6.0, 3000.0)))[0]
    plan = problem.plan(Choice((DIRECT, MODULE, MODULE, OFF, DIRECT), (0, 0, 1, 0, 0), (2, 1)))
    assert turn_sentence(plan, plan.load("dryer")) == (
        "Clothes dryer: gets 50.0 % of what it asks for; what is served does not wait; the rest "
        "is given up, and it has no power for 1 h at worst.")


@given(st.integers(0, 96), st.integers(0, 96), st.integers(0, 12))
def test_all_is_said_only_of_what_gets_all(plan, served, called, waited):
    """For any slots of a day: a load that misses a quarter of an hour never "gets all"."""
    served = min(served, called)
    one = part(service=served / called if called else 1.0, called_h=0.25 * called,
               served_h=0.25 * served, longest_wait_h=0.25 * waited, usual_wait_h=0.25 * waited)
    said = turn_sentence(plan, one)
    gets_all = "whenever" in said or "gets all" in said
    assert gets_all == (served == called and called > 0)
    assert ("never runs" in said) == (served == 0 < called)
    assert ("at most" in said) == (waited > 0 and served > 0)
    assert (share(one.service) in said) == (0 < served < called)
    assert ("given up" in said) == ("has no power" in said) == (0 < served < called)
