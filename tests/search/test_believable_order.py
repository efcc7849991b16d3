"""Turns are shown in the order that a reader expects, wherever nobody loses by it."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
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


def test_nothing_to_order_is_left_as_it_is():
    """One load that takes turns, or direct loads that are refused: the very same choice."""
    one = problem_of(home(base(1.0), load("oven", 4.0)))
    choice = Choice((DIRECT, MODULE), (0, 0), (1,))
    assert shown(one, choice) is choice
    many = problem_of(home(base(9.0), load("a", 1.0), load("b", 1.0, importance=5)))
    refused = Choice((DIRECT, MODULE, MODULE), (0, 0, 0), (1, 2))
    assert played(many, refused) is None
    assert shown(many, refused) is refused
