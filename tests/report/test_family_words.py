"""What a family reads says the same as the plan, in words that everybody uses."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from planner.facts.site import GasService, PipeRun, Site
from planner.plan.site.parts import SiteLine
from planner.report import family_words as family
from planner.report.comforts import family_comforts
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from planner.study.picks import PickName
from planner.study.wish_cost import WishCost, wish_costs
from planner.study.wishes import Wish
from tests.homes import ALL, base, cheapest, events, home, load, task
from tests.report.plans import book, generator

TRADE = re.compile(
    r"\b(k?w|k?va|amp\w*|volt\w*|dip|shed\w*|modules?|contactors?|direct|must.run|importance"
    r"|priorit\w+|design days?|calls?|service|coverage|headroom|frontier|proof|proven|bounds?"
    r"|findings?|derat\w+|transfer\w*|soft.start\w*|starting|running|loads?|circuits?|controllers?"
    r"|installed|replay|demand)\b", re.IGNORECASE)
OFFERED = book(generator(6.0, 3000.0), generator(8.0, 4000.0), generator(12.0, 6000.0))
HOUSE = home(
    base(1.0, label="Lights"),
    load("well", 1.0, label="Water from the well", must_run=True, use=events((18.0, 1.0))),
    load("oven", 4.0, label="Oven", importance=4, allowed=ALL, use=events((18.0, 1.0))),
    load("dryer", 4.0, label="Clothes dryer", importance=2, allowed=ALL,
         use=events((18.0, 3.0))),
    load("fan", 1.0, label="Fan", importance=1, allowed=ALL, use={}),
    never_before=(("dryer", "oven"),))


@pytest.fixture(scope="module")
def plan():
    """6 kW: the well always on, the oven ahead of the dryer, the fan left out of it."""
    problem = problems_of(HOUSE, OFFERED)[0]
    return problem.plan(Choice((DIRECT, DIRECT, MODULE, MODULE, OFF), (0,) * 5, (2, 3)))


@pytest.fixture(scope="module")
def costs():
    """What every wish of the house costs, at nine tenths of what matters."""
    return wish_costs(HOUSE, OFFERED, cheapest(HOUSE, OFFERED, 0.9), 0.9)


@pytest.mark.parametrize(("fuel", "said"), [
    ("natural gas", "Not in the price: the wire to the house, the gas pipe, the trench, a larger "
     "gas meter if one is needed, and the fuel."),
    ("propane", "Not in the price: the wire to the house, the gas pipe, the trench, a propane "
     "tank, and the fuel.")])
def test_what_the_price_leaves_out_is_said_by_the_fuel(plan, fuel, said):
    """A home on propane has no meter, and one on natural gas no tank; nothing is known."""
    assert family.not_in_the_price(at(plan, fuel=fuel)) == said


def test_what_is_known_of_the_place_is_not_left_out(plan):
    """What has a length or a size is in the price, and a line without a price is not."""
    known = Site(wire_ft=30.0, trench_ft=0.0, gas=GasService(
        meter_ft3_h=400.0, runs=(PipeRun("pipe", 30.0, generator=True),)))
    assert family.not_in_the_price(at(plan, site=known)) == "Not in the price: the fuel."
    works = replace(plan.menu.works, lines=(SiteLine("trench, 30 ft", None),))
    unpriced = at(replace(plan, menu=replace(plan.menu, works=works)), site=known)
    assert family.not_in_the_price(unpriced) == "Not in the price: trench, 30 ft; and the fuel."


def at(plan, **changes):
    """A plan as it is, of a home that says something else of fuel or place."""
    house = plan.menu.house
    return replace(plan, menu=replace(plan.menu, house=replace(
        house, home=replace(house.home, **changes))))


def test_every_pick_has_a_name():
    """None is left without a title, and no title is used twice."""
    assert set(family.PICKED) == set(PickName.__args__)
    assert len(set(family.PICKED.values())) == len(family.PICKED)


def changed(plan, kind, direction, ids, change_usd):
    """A wish changed, with what that does to the price."""
    if change_usd is None:
        return WishCost(Wish(kind, ids, 0), direction, HOUSE, 0.0, None, plan)
    dearer = problems_of(HOUSE, replace(OFFERED, generators=(
        generator(6.0, 3000.0 + change_usd),)))[0].plan(plan.choice)
    return WishCost(Wish(kind, ids, 0), direction, HOUSE, 0.0, dearer, plan)


@pytest.mark.parametrize(("kind", "direction", "ids", "change_usd", "said"), [
    ("must-run", "give up", ("well",), -300.0,
     "300 USD less if this need not always work: Water from the well."),
    ("must-run", "add", ("oven",), 1250.4, "1,250 USD more if this must always work: Oven."),
    ("comfort", "give up", ("dryer",), -1.0, "1 USD less if you do without this: Clothes dryer."),
    ("never-before", "give up", ("dryer", "oven"), -80.0,
     "80 USD less if Clothes dryer may go ahead of Oven."),
    ("order", "add", (), 90.0, "90 USD more if what matters more always goes first."),
    ("order", "give up", (), -90.0, "90 USD less if the order need not follow what matters more."),
    ("must-run", "add", ("dryer",), None,
     "None of the generators can do it if this must always work: Clothes dryer."),
])
def test_the_price_of_a_wish_is_said(plan, kind, direction, ids, change_usd, said):
    """What changes, by how much, and in which direction; or that it cannot be had."""
    assert family.price_of_wishes([changed(plan, kind, direction, ids, change_usd)]) == (said,)


def test_a_wish_at_the_same_price_is_named_apart(plan):
    """It is no line among the prices; only what takes turns is offered to always work for it."""
    free = [changed(plan, "must-run", "add", ("oven",), 0.4),
            changed(plan, "must-run", "give up", ("well",), 0.0),
            changed(plan, "comfort", "give up", ("dryer",), 0.0),
            changed(plan, "must-run", "add", ("fan",), 900.0),
            changed(plan, "must-run", "add", ("dryer",), None)]
    assert len(family.price_of_wishes(free)) == 2
    assert family.free_wishes(free) == (
        "For the same price any one of these could always work: Oven.")
    assert family.free_wishes(free[1:]) == family.free_wishes([]) == ""
    more = [changed(plan, "must-run", "add", (load_id,), 0.0) for load_id in ("dryer", "fan")]
    assert family.free_wishes([free[0], *more]).endswith(
        "could always work: Oven and Clothes dryer.")


def test_equal_prices_share_a_sentence(plan):
    """Two things that each save the same are told together."""
    same = [changed(plan, "comfort", "give up", (load_id,), -100.0) for load_id in ("dryer", "fan")]
    assert family.price_of_wishes(same) == (
        "100 USD less if you do without one of these: Clothes dryer or Fan.",)


def test_prices_of_a_real_home_stand_in_the_order_of_their_costs(costs):
    """Dearest first, those that cannot be had last; giving something up never costs more."""
    said = family.price_of_wishes(costs)
    assert said
    usd = [int(one.split(" USD")[0].replace(",", "")) for one in said if " USD " in one]
    assert usd == sorted(usd, reverse=True)
    assert not any(" more if " in one and "you do without" in one for one in said)


def test_what_was_said_is_repeated():
    """What matters most first; an answer that nobody gave is left out, the lights are no choice."""
    house = home(*HOUSE.loads)
    assert family_comforts.said_sentences(house) == (
        "Must always work: well", "Matters: oven", "Nice to have: dryer and fan")


def test_what_happens_is_said_under_headings(plan):
    """The dryer loses one hour of three to the oven."""
    said = family_comforts.happens_sentences(plan)
    assert said[family_comforts.LIKE] == ("dryer: without power for 1 h of 3 h",)
    assert said[family_comforts.ALWAYS] == ("well", "oven", "fan")
    assert said[family_comforts.WAITS] == said[family_comforts.BY_HAND] == ()
    assert said[family_comforts.OFF] == ("Fan",)


def test_what_waits_is_said_with_how_long():
    """Washing that may wait an hour begins after the oven."""
    house = home(base(1.0), load("oven", 4.0, importance=4, use=events((18.0, 1.0))),
                 task("dryer", 4.0, (18.0, 1.0), wait_h=1.0, label="Clothes dryer"))
    problem = problems_of(house, OFFERED)[0]
    found = problem.plan(Choice((DIRECT, MODULE, MODULE), (0,) * 3, (1, 2)))
    assert family_comforts.happens_sentences(found)[family_comforts.WAITS] == (
        "Clothes dryer: done up to 1 h later",)
    assert family_comforts.happens_sentences(found)[family_comforts.TURNS] == (
        "oven", "Clothes dryer")
    assert family_comforts.differs_sentences(found) == ()


def test_no_word_of_the_trade_is_used(plan, costs):
    """Whatever is said to a family: no unit, no word that only the trade or this program uses."""
    for words in ("3 kW", "must-run", "Coverage", "loads", "priorities"):
        assert TRADE.search(words)
    happens = family_comforts.happens_sentences(plan)
    said = [*family_comforts.MATTERS, *family.PICKED.values(), *happens,
            *sum(happens.values(), ()), family_comforts.in_short(plan),
            *family_comforts.differs_sentences(plan), *family.price_of_wishes(costs),
            family.free_wishes(costs), *family_comforts.said_sentences(HOUSE),
            family.not_in_the_price(plan), family.not_in_the_price(at(plan, fuel="propane"))]
    said += [sentence for kind, direction, ids in (
        ("must-run", "give up", ("well",)), ("never-before", "give up", ("dryer", "oven")),
        ("order", "give up", ()), ("order", "add", ()), ("comfort", "give up", ("fan",)))
        for sentence in family.price_of_wishes([changed(plan, kind, direction, ids, 100.0)])]
    assert len(said) > 25
    assert {words: found[0] for words in said if (found := TRADE.search(words))} == {}


def test_nobody_is_tempted_to_do_without_what_must_always_work(plan):
    """The well must always work: its price is that it need not, never that of doing without it.

    The home with the change has no must-have any more; what the family said is in the one before.
    """
    without = home(*(replace(one, must_run=False) for one in HOUSE.loads))
    given_up = changed(plan, "comfort", "give up", ("well",), -300.0)
    given_up = replace(given_up, home=without, wish=replace(given_up.wish, comfort="well"))
    assert family.price_of_wishes([given_up]) == ()
    spared = changed(plan, "must-run", "give up", ("well",), -300.0)
    assert family.price_of_wishes([spared]) != ()


def test_what_is_less_than_usual_is_named_and_much_of_it_is_not_nearly_nothing(plan):
    """The dryer, which matters little, by its name; what matters much and is lost says so first."""
    assert family_comforts.in_short(plan) == (
        "Nearly everything as usual; less than usual: dryer.")
    house = home(*(replace(one, importance=5) if one.id == "dryer" else one
                   for one in HOUSE.loads), never_before=(("oven", "dryer"),))
    other = problems_of(house, OFFERED)[0].plan(
        Choice((DIRECT, DIRECT, MODULE, MODULE, OFF), (0,) * 5, (3, 2)))
    assert family_comforts.in_short(other).startswith("Less than usual: oven")


def test_what_was_given_up_is_not_called_as_usual(plan):
    """What the family can do without, and loses, is named as given up, with what that is like."""
    house = home(*(replace(one, importance=0) if one.id == "dryer" else one
                   for one in HOUSE.loads))
    other = problems_of(house, OFFERED)[0].plan(plan.choice)
    assert family_comforts.in_short(other) == "Everything else as usual; given up: dryer."
    like = family_comforts.happens_sentences(other)[family_comforts.LIKE]
    assert any(sentence.startswith("dryer: ") for sentence in like)
    assert not any(sentence.startswith("dryer: ") for sentence in
                   family_comforts.happens_sentences(other)[family_comforts.ALWAYS])
    assert family_comforts.given_up(plan) == ()
