"""What a family reads says the same as the plan, in words that everybody uses."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.plan.plan import LoadPlan
from planner.report import family_words as family
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from planner.study.picks import PickName
from planner.study.wish_cost import WishCost, wish_costs
from planner.study.wishes import Wish
from tests.homes import ALL, base, cheapest, events, home, load, random_home
from tests.report.plans import book, generator

TRADE = re.compile(
    r"\b(k?w|k?va|amp\w*|volt\w*|dip|shed\w*|modules?|contactors?|direct|must.run|importance"
    r"|priorit\w+|design days?|calls?|service|coverage|headroom|frontier|proof|proven|bounds?"
    r"|findings?|derat\w+|transfer\w*|soft.start\w*|starting|running|loads?|circuits?|controllers?"
    r"|installed|replay|demand)\b", re.IGNORECASE)
NO_POWER = "at worst it has no power for 1 h when it is wanted"
ONLY_DIRECT = frozenset({"direct"})
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


def part(**changes):
    """A thing that takes turns and always gets its turn."""
    plain = LoadPlan(id="dryer", label="Dryer", connection="module", module="relay",
                     soft_starter=None, priority=1, service=1.0, usual_wait_h=0.0,
                     longest_wait_h=0.0, called_h=2.0, served_h=2.0, must_run=False, importance=3)
    return replace(plain, **changes)


@pytest.mark.parametrize(("importance", "said"), list(enumerate([
    "We can do without", "Nice to have", "Nice to have", "Matters", "Matters", "Matters most"])))
def test_what_matters_is_said_in_five_steps(importance, said):
    """Importance 0 to 5 in four of them; what must run is the fifth whatever its importance."""
    assert family.matters(load("x", 1.0, importance=importance)) == said
    assert family.matters(load("x", 1.0, importance=importance, must_run=True)) == (
        "Must always work")


def test_what_a_family_says_is_what_it_reads_again():
    """Every answer but the last has an importance that is shown as that answer."""
    assert tuple(family.IMPORTANCE) == family.MATTERS[:-1]
    assert family.MUST == family.MATTERS[-1] == "Must always work"
    for answer, importance in family.IMPORTANCE.items():
        assert family.matters(load("x", 1.0, importance=importance)) == answer
    assert list(family.IMPORTANCE.values()) == sorted(family.IMPORTANCE.values())


def test_a_family_chooses_where_there_is_a_choice():
    """Not about what has to be connected anyway, unless it must run: that can be given up."""
    house = home(load("always", 1.0, allowed=ONLY_DIRECT), load("turns", 1.0),
                 load("off", 1.0, allowed=frozenset({"direct", "off"})),
                 load("any", 1.0, allowed=ALL),
                 load("must", 1.0, allowed=ONLY_DIRECT, must_run=True))
    assert [one.id for one in family.can_be_chosen(house)] == ["turns", "off", "any", "must"]


def test_what_was_said_is_repeated():
    """What matters most first; an answer that nobody gave is left out, the lights are no choice."""
    house = replace(HOUSE, loads=(replace(HOUSE.loads[0], allowed=ONLY_DIRECT), *HOUSE.loads[1:]))
    assert family.said_sentences(house) == (
        "Must always work: Water from the well", "Matters: Oven",
        "Nice to have: Clothes dryer and Fan")


def test_what_happens_is_said_under_headings(plan):
    """The dryer loses one hour of three to the oven, which never waits: it works as always."""
    assert family.happens_sentences(plan) == {
        "Works as always": ("Lights", "Water from the well", "Oven"),
        "Taking turns": ("Clothes dryer: works some of the time; at worst it has no power for 1 h "
                         "when it is wanted",),
        "Would not work": (),
        "Off until the power is back": ("Fan",)}


def test_what_never_gets_a_turn_would_not_work():
    """What matters more is named first, and neither of them is said to take turns."""
    house = home(base(1.0, label="Lights"),
                 load("oven", 4.0, label="Oven", use=events((18.0, 1.0))),
                 load("dryer", 4.0, label="Clothes dryer", importance=2, use=events((18.0, 1.0))),
                 load("spa", 9.0, label="Hot tub", importance=4, use=events((20.0, 1.0))))
    problem = problems_of(house, OFFERED)[0]
    said = family.happens_sentences(
        problem.plan(Choice((DIRECT, MODULE, MODULE, MODULE), (0,) * 4, (1, 2, 3))))
    assert list(said) == ["Works as always", "Taking turns", "Would not work",
                          "Off until the power is back"]
    assert said["Works as always"] == ("Lights", "Oven")
    assert said["Would not work"] == ("Hot tub", "Clothes dryer")
    assert said["Taking turns"] == said["Off until the power is back"] == ()


@settings(max_examples=40)
@given(st.integers(0, 99_999))
def test_every_load_stands_under_one_heading(seed):
    """Any home, everything but the lights in turns: none is lost, none promised what it lacks."""
    house = random_home(seed, 4)
    problem = problems_of(house, book(generator(7.0, 3000.0)))[0]
    turns = sorted(range(1, 5), key=lambda i: (not house.loads[i].must_run,
                                               -house.loads[i].importance))
    choice = Choice((DIRECT, *(MODULE,) * 4), (0,) * 5, tuple(turns))
    assume(problem.coverage(choice) is not None)
    assume(not any(problem.house.before[i, k] for at, i in enumerate(turns) for k in turns[:at]))
    plan = problem.plan(choice)
    said = family.happens_sentences(plan)
    assert sorted(words.split(":")[0] for group in said.values() for words in group) == sorted(
        one.label for one in plan.loads)
    always = [plan.load(load_id) for load_id in said["Works as always"]]
    assert all(one.served_h == pytest.approx(one.called_h) for one in always)
    assert all(one.longest_wait_h == 0.0 for one in always)
    assert all(plan.load(load_id).service < 0.05 for load_id in said["Would not work"])
    assert " for none " not in " ".join(said["Taking turns"])


@pytest.mark.parametrize(("changes", "always"), [
    ({}, True), ({"service": 1.0 - 1e-12}, True), ({"service": 0.9999}, False),
    ({"longest_wait_h": 0.25}, False), ({"service": 0.5, "longest_wait_h": 0.25}, False)])
def test_as_always_is_all_of_it_at_once(changes, always):
    """A call missed or put off is one too many, a rounding is none."""
    assert family.is_as_always(part(**changes)) == always


@pytest.mark.parametrize(("changes", "said"), [
    ({"longest_wait_h": 1.5}, "works, but at times later: 1 h 30 min at most"),
    ({"service": 0.995, "longest_wait_h": 0.25}, "works, but at times later: 15 min at most"),
    ({"service": 0.995}, f"works nearly always; {NO_POWER}"),
    ({"service": 0.994}, f"works most of the time; {NO_POWER}"),
    ({"service": 0.994, "longest_wait_h": 0.25}, f"works most of the time; {NO_POWER}"),
    ({"service": 0.75, "longest_wait_h": 0.25}, f"works most of the time; {NO_POWER}"),
    ({"service": 0.74}, f"works some of the time; {NO_POWER}"),
    ({"service": 0.5}, f"works some of the time; {NO_POWER}"),
    ({"service": 0.49}, f"works little; {NO_POWER}"),
    ({"service": 0.05}, f"works little; {NO_POWER}"),
])
def test_what_turns_mean_for_a_thing(plan, changes, said):
    """Later, or less often in four steps; how long it has no power is the hour of the oven."""
    assert family.turn_words(plan, part(**changes)) == f"Dryer: {said}"


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0), st.sampled_from([0.0, 0.25, 2.0]))
def test_what_gets_more_is_never_said_to_get_less(plan, one, other, longest_wait_h):
    """The words rise with the share that is got, with waits and without."""
    steps = ("never runs", "works little", "works some", "works most",
             "works nearly always", "but at times")

    def step(service):
        words = family.turn_words(plan, part(service=service, longest_wait_h=longest_wait_h))
        return next(place for place, step in enumerate(steps) if step in words)

    assert step(min(one, other)) <= step(max(one, other))


@pytest.mark.parametrize(("fuel", "said"), [
    ("natural gas",
     "Not in the price: longer gas pipe, and a larger gas meter if one is needed."),
    ("propane", "Not in the price: a propane tank and longer gas pipe.")])
def test_what_the_price_leaves_out_is_said_by_the_fuel(fuel, said):
    """A home on propane has no meter, and one on natural gas no tank."""
    assert family.not_in_the_price(replace(HOUSE, fuel=fuel)) == said


def test_how_much_is_kept_is_the_coverage(plan):
    """(4 x 1 + 2 x 2/3) / 6 = 88.8 %: the fan never asks and does not count."""
    assert family.keeps_words(plan) == (
        "Serves 88.8 % of what you asked for, by how much it matters to you")


def test_every_pick_has_a_name():
    """None is left without a title, and no title is used twice."""
    assert set(family.PICKED) == set(PickName.__args__)
    assert len(set(family.PICKED.values())) == len(family.PICKED)


def changed(plan, kind, direction, ids, change_usd):
    """A wish changed, with what that does to the price."""
    if change_usd is None:
        return WishCost(Wish(kind, ids, 0), direction, HOUSE, None, plan)
    dearer = problems_of(HOUSE, replace(OFFERED, generators=(
        generator(6.0, 3000.0 + change_usd),)))[0].plan(plan.choice)
    return WishCost(Wish(kind, ids, 0), direction, HOUSE, dearer, plan)


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


def test_prices_of_a_real_home_stand_in_the_order_of_their_costs(costs):
    """One sentence for each wish that changes the price, with its amount, in the order given."""
    priced = [one for one in costs if one.price_usd is None or abs(one.price_usd) >= 0.5]
    said = family.price_of_wishes(costs)
    assert len(said) == len(priced) > 0
    for sentence, one in zip(said, priced, strict=True):
        if one.price_usd is None:
            assert sentence.startswith("None of the generators")
        else:
            assert sentence.startswith(f"{abs(one.price_usd):,.0f} USD ")
            assert (" more if " in sentence) == (one.plan.cost_usd > one.before.cost_usd)


def test_no_word_of_the_trade_is_used(plan, costs):
    """Whatever is said to a family: no unit, no word that only the trade or this program uses."""
    for words in ("3 kW", "must-run", "Coverage", "loads", "priorities"):
        assert TRADE.search(words)
    said = [*family.MATTERS, *family.PICKED.values(), *family.happens_sentences(plan),
            *sum(family.happens_sentences(plan).values(), ()), family.keeps_words(plan),
            *family.price_of_wishes(costs), family.free_wishes(costs),
            *family.said_sentences(HOUSE), family.not_in_the_price(HOUSE),
            family.not_in_the_price(replace(HOUSE, fuel="propane"))]
    said += [family.turn_words(plan, part(service=0.1 * tenth, longest_wait_h=wait_h))
             for tenth in range(11) for wait_h in (0.0, 0.25)]
    said += [sentence for kind, direction, ids in (
        ("must-run", "give up", ("well",)), ("never-before", "give up", ("dryer", "oven")),
        ("order", "give up", ()), ("order", "add", ()), ("comfort", "give up", ("fan",)))
        for sentence in family.price_of_wishes([changed(plan, kind, direction, ids, 100.0)])]
    assert len(said) > 40
    assert {words: found[0] for words in said if (found := TRADE.search(words))} == {}
