"""Turns are shown in the order that a reader expects, wherever nobody loses by it."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.search.believable_order import in_believable_order
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from planner.service.replay import Refusal, replay
from tests.homes import base, book, events, generator, home, load, random_home

SEEDS = st.integers(0, 99_999)
SIZE = 5


def problem_of(house, kw=6.0):
    """A home on a generator of this size."""
    return problems_of(house, book(generator(kw, 3000.0)))[0]


def random_turns(seed):
    """A random home and an order of its turns that keeps its wishes; everything takes turns."""
    rng = random.Random(seed)
    problem = problem_of(random_home(seed, SIZE), rng.choice([6.0, 8.0, 12.0]))
    before, left, order = problem.house.before, set(range(1, SIZE + 1)), []
    while left:
        order.append(rng.choice([i for i in sorted(left)
                                 if not any(before[k, i] for k in left)]))
        left.remove(order[-1])
    return problem, Choice((DIRECT, *(MODULE,) * SIZE), (0,) * (SIZE + 1), tuple(order))


def shown(problem, choice):
    """The choice in the order that is shown."""
    return in_believable_order(problem.house, problem.supply, choice)


def played(problem, choice):
    """What the replay says, None if the direct loads are refused."""
    outcome = replay(problem.house, problem.supply, choice)
    return None if isinstance(outcome, Refusal) else outcome


def waited(outcome):
    """All waits of served calls, in slots."""
    return int(np.clip(outcome.waits, 0, None).sum())


def loses(before, after):
    """Whether some load gets another share, a must-run load is late, or the waits grow."""
    return (not np.allclose(before.service, after.service, rtol=0.0, atol=1e-12)
            or bool(after.unmet) or waited(after) > waited(before))


def expected_first(problem, outcome, i):
    """What is served at all, then what must run, then what matters more, then the file."""
    one = problem.house.home.loads[i]
    starving = problem.house.called[i] > 0.0 and outcome.service[i] == 0.0
    return (1 if starving else 0, 0 if one.must_run else 1, -one.importance, i)


def breaks_a_wish(problem, order):
    """Whether a load stands behind one that it must precede."""
    return any(problem.house.before[i, k] for place, i in enumerate(order) for k in order[:place])


@settings(max_examples=80)
@given(SEEDS)
def test_nobody_loses_by_it(seed):
    """The same equipment and service of every load, no longer waits in sum, wishes kept."""
    problem, choice = random_turns(seed)
    before = played(problem, choice)
    assume(before is not None)
    better = shown(problem, choice)
    after = played(problem, better)
    assert replace(better, order=choice.order) == choice
    assert after.service == pytest.approx(before.service, rel=0.0, abs=1e-9)
    assert after.coverage == pytest.approx(before.coverage, rel=0.0, abs=1e-9)
    assert waited(after) <= waited(before)
    assert not breaks_a_wish(problem, better.order)
    assert before.unmet or not after.unmet


@settings(max_examples=80)
@given(SEEDS)
def test_no_neighbours_could_still_change_places(seed):
    """Where the later of two is expected first, a wish forbids the swap or someone loses by it."""
    problem, choice = random_turns(seed)
    assume(played(problem, choice) is not None)
    better = shown(problem, choice)
    now = played(problem, better)
    for place in range(SIZE - 1):
        first, second = better.order[place:place + 2]
        if expected_first(problem, now, second) > expected_first(problem, now, first):
            continue
        swapped = (*better.order[:place], second, first, *better.order[place + 2:])
        assert problem.house.before[first, second] or loses(
            now, played(problem, replace(better, order=swapped)))
    assert shown(problem, better) == better


def test_the_random_homes_above_have_all_of_it():
    """Some orders change and some stay against expectation: by a wish, and by a loss."""
    kept_by_wish = kept_by_loss = changed = 0
    for seed in range(60):
        problem, choice = random_turns(seed)
        if played(problem, choice) is None:
            continue
        better = shown(problem, choice)
        now = played(problem, better)
        changed += better != choice
        for first, second in zip(better.order, better.order[1:], strict=False):
            if expected_first(problem, now, second) < expected_first(problem, now, first):
                wished = bool(problem.house.before[first, second])
                kept_by_wish += wished
                kept_by_loss += not wished
    assert min(changed, kept_by_wish, kept_by_loss) > 0


APART = home(
    base(1.0), load("spa", 9.0, importance=5, use=events((8.0, 1.0))),
    load("fan", 1.0, importance=1, use=events((10.0, 1.0))),
    load("oven", 4.0, importance=4, use=events((12.0, 1.0))),
    load("well", 1.0, importance=0, must_run=True, use=events((14.0, 1.0))))


def names(house, *order, kw=6.0):
    """Ids in the order that is shown for an order of ids."""
    problem = problem_of(house, kw)
    places = tuple(problem.house.index(name) for name in order)
    choice = Choice((DIRECT, *(MODULE,) * len(order)), (0,) * (len(order) + 1), places)
    return [problem.house.ids[i] for i in shown(problem, choice).order]


@pytest.mark.parametrize("order", [
    ("spa", "fan", "oven", "well"), ("well", "oven", "fan", "spa"), ("fan", "spa", "well", "oven")])
def test_where_it_makes_no_difference_the_family_is_followed(order):
    """All at other hours: what must run, what matters more, and last what never has room."""
    assert names(APART, *order) == ["well", "oven", "fan", "spa"]


def test_alike_stand_as_in_the_file():
    """Three loads of the same importance at other hours."""
    house = home(base(1.0), *(load(name, 4.0, use=events((hour, 1.0)))
                              for name, hour in (("a", 8.0), ("b", 12.0), ("c", 18.0))))
    assert names(house, "c", "b", "a") == ["a", "b", "c"]


def test_a_wish_is_kept_although_it_makes_no_difference():
    """The oven matters more, but is never to go ahead of the fan."""
    wished = replace(APART, never_before=(("oven", "fan"),))
    assert names(wished, "fan", "oven", "spa", "well") == ["well", "fan", "oven", "spa"]


def test_what_would_lose_its_turn_stays_ahead():
    """At the same hour only one has room; the less important one has it, and keeps it."""
    house = home(base(1.0), load("oven", 4.0, importance=4, use=events((18.0, 1.0), (20.0, 1.0))),
                 load("dryer", 4.0, importance=1, use=events((18.0, 1.0))))
    assert names(house, "dryer", "oven") == ["dryer", "oven"]
    assert names(house, "oven", "dryer") == ["oven", "dryer"]


@pytest.mark.parametrize(("importances", "expected"), [
    ((5, 3, 1), ["fan", "oven", "iron"]), ((3, 5, 1), ["fan", "oven", "iron"])])
def test_waits_that_would_grow_keep_an_order_and_shorter_ones_change_it(importances, expected):
    """Oven 4 kW, fan and iron 2 kW on 5 kW with lights, all at 18:00 for an hour, all may wait 2 h.

    Oven first: 4 + 4 calls wait an hour. Fan first: the iron runs beside it, only the oven waits.
    """
    kws = {"oven": 4.0, "fan": 2.0, "iron": 2.0}
    house = home(base(1.0), *(
        load(name, kw, importance=importance, wait_h=2.0, use=events((18.0, 1.0)))
        for (name, kw), importance in zip(kws.items(), importances, strict=True)))
    assert names(house, "fan", "oven", "iron", kw=5.0) == expected
    oven_first = names(house, "oven", "fan", "iron", kw=5.0)
    assert oven_first == (expected if importances[1] > importances[0]
                          else ["oven", "fan", "iron"])


@pytest.mark.parametrize(("must_run", "expected"), [
    (True, ["oven", "fan", "iron", "well"]), (False, ["fan", "oven", "iron", "well"])])
def test_what_must_run_is_not_made_to_wait(must_run, expected):
    """Oven 6 kW, the rest 2 kW each on 7 kW with lights; the well is wanted at 19:00, last by wish.

    Oven first: fan and iron wait an hour, beside the well. Fan first: oven and well wait instead,
    8 calls an hour as well, but the well must not.
    """
    house = home(
        base(1.0), *(load(name, kw, importance=importance, wait_h=2.0, use=events((18.0, 1.0)))
                     for name, kw, importance in (("oven", 6.0, 3), ("fan", 2.0, 5),
                                                  ("iron", 2.0, 1))),
        load("well", 2.0, importance=0, must_run=must_run, wait_h=2.0, use=events((19.0, 1.0))),
        never_before=(("well", "iron"),))
    assert names(house, "oven", "fan", "iron", "well", kw=7.0) == expected


def test_nothing_to_order_is_left_as_it_is():
    """One load that takes turns, or direct loads that are refused: the very same choice."""
    one = problem_of(home(base(1.0), load("oven", 4.0)))
    choice = Choice((DIRECT, MODULE), (0, 0), (1,))
    assert shown(one, choice) is choice
    many = problem_of(home(base(9.0), load("a", 1.0), load("b", 1.0, importance=5)))
    refused = Choice((DIRECT, MODULE, MODULE), (0, 0, 0), (1, 2))
    assert played(many, refused) is None
    assert shown(many, refused) is refused
