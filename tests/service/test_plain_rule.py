"""The compiled replay is the service rule: it agrees with the plain one, and the laws hold."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from planner.facts.home import Use
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from planner.service.house import house_of
from planner.service.replay import Refusal, replay
from planner.service.supply import supply_of
from tests.homes import base, book, events, generator, home, load, motor, random_home
from tests.oracle.plain import play

WORDS = {OFF: "off", DIRECT: "direct", MODULE: "module"}


def random_choice(house, rng):
    """A random choice in which what is needed is connected as firmly as what needs it."""
    connection = [DIRECT if i == 0 else rng.choice([OFF, DIRECT, MODULE, MODULE])
                  for i in range(house.count)]
    for i, k in np.argwhere(house.closure):
        connection[k] = DIRECT if connection[i] else connection[k]
    soft = [rng.choice([0, 1]) if house.starting_kva[i] else 0 for i in range(house.count)]
    order = [i for i, how in enumerate(connection) if how == MODULE]
    rng.shuffle(order)
    return Choice(tuple(connection), tuple(soft), tuple(order))


@pytest.mark.parametrize("seed", range(300))
def test_agrees_with_the_plain_rule(seed):
    """Served calls, longest waits, coverage and refusals equal those of the plain rule."""
    rng = random.Random(seed)
    one = random_home(seed, rng.randrange(2, 7))
    sizes = book(generator(rng.choice([4.0, 7.0, 10.0, 16.0]), 1000.0))
    house = house_of(one)
    supply = supply_of(house, sizes.generators[0], sizes)
    choice = random_choice(house, rng)
    ours = replay(house, supply, choice)
    plain = play(house, supply, {i: WORDS[c] for i, c in zip(house.ids, choice.connection,
                                                             strict=True)},
                 dict(zip(house.ids, choice.soft_start, strict=True)),
                 [house.ids[i] for i in choice.order])
    assert isinstance(ours, Refusal) == plain.refused
    if isinstance(ours, Refusal):
        return
    assert ours.coverage == pytest.approx(plain.coverage, abs=1e-9)
    for i, load_id in enumerate(house.ids):
        if choice.connection[i]:
            assert ours.served[i].tolist() == plain.served[load_id]
            assert max(0, int(ours.waits[i].max())) == plain.longest_wait[load_id]


def served(one, kw, order, **connection):
    """Service by load id, with everything but the base taking turns unless said otherwise."""
    sizes = book(generator(kw, 1000.0))
    house = house_of(one)
    ways = {"off": OFF, "direct": DIRECT, "module": MODULE}
    how = tuple(ways[connection.get(i, "direct" if i == "base" else "module")] for i in house.ids)
    choice = Choice(how, (0,) * house.count, tuple(house.index(i) for i in order))
    outcome = replay(house, supply_of(house, sizes.generators[0], sizes), choice)
    assert not isinstance(outcome, Refusal), outcome
    return dict(zip(house.ids, outcome.service.tolist(), strict=True))


def test_oldest_call_first_and_expiry():
    """A load barred for 1 h with a wait of 30 min loses the first calls and serves the last two."""
    blocker = load("blocker", 5.0, use=events((10.0, 1.0)))
    late = load("late", 3.0, wait_h=0.5, use=events((10.0, 1.0)))
    assert served(home(base(0.5), blocker, late), 6.0, ["blocker", "late"])["late"] == 0.5


def test_pending_calls_end_with_the_day():
    """A call that may wait 6 h but comes at 23:00 behind a load that runs to midnight is lost."""
    blocker = load("blocker", 5.0, use=events((22.0, 2.0)))
    late = load("late", 3.0, wait_h=6.0, use=events((23.0, 0.5)))
    assert served(home(base(0.5), blocker, late), 6.0, ["blocker", "late"])["late"] == 0.0


def test_a_load_wakes_what_it_requires():
    """With 6 kW an air conditioner of 4 kW runs alone, but not if it wakes 2.5 kW with it."""
    fan = load("fan", 2.5, allowed=frozenset({"direct"}), use={"every": Use(kind="never")})
    cooler = load("cooler", 4.0, use=events((12.0, 1.0)))
    alone = served(home(base(0.1), fan, cooler), 6.0, ["cooler"], fan="direct")
    together = served(home(base(0.1), fan, replace(cooler, requires=("fan",))), 6.0, ["cooler"],
                      fan="direct")
    assert (alone["cooler"], together["cooler"]) == (1.0, 0.0)


def test_not_with_keeps_apart():
    """Two loads that fit together are never on together if one excludes the other."""
    heat = load("heat", 1.0, use=events((12.0, 1.0)))
    cool = load("cool", 1.0, use=events((12.0, 1.0)), not_with=("heat",))
    assert served(home(base(0.1), heat, cool), 6.0, ["heat", "cool"])["cool"] == 0.0


def test_a_start_needs_room_beside_what_runs():
    """5 kW runs; a 1 kW motor of 10 kVA at pf 0.7 dips a 10 kVA set to 5/6 and draws 4.86 kW.

    5 + 4.86 kW is within 11 kW short-time power, with 7 kW running it is not.
    """
    pump = motor("pump", 1.0, 10.0, use=events((12.0, 1.0)))
    for kw, share in ((5.0, 1.0), (7.0, 0.0)):
        one = home(base(kw), pump, limits=replace(home().limits, allowed_dip=0.3))
        assert served(one, 10.0, ["pump"])["pump"] == share


@pytest.mark.parametrize("seed", range(40))
def test_direct_loads_are_always_served(seed):
    """Law: whatever else is chosen, a valid choice serves every call of its direct loads."""
    rng = random.Random(seed)
    house = house_of(random_home(seed, 4))
    sizes = book(generator(40.0, 1000.0, reactance=0.05))
    choice = random_choice(house, rng)
    outcome = replay(house, supply_of(house, sizes.generators[0], sizes), choice)
    if isinstance(outcome, Refusal):
        assert outcome.demand > outcome.limit
        return
    for i in np.flatnonzero(np.array(choice.connection) == DIRECT):
        assert outcome.served[i].sum() == house.calls[i].sum()


@pytest.mark.parametrize("seed", range(60))
def test_first_in_the_order_never_loses_by_more_capacity(seed):
    """Law: the load with priority 1 is served no less by a larger generator."""
    rng = random.Random(seed)
    house = house_of(random_home(seed, 4))
    order = list(range(1, house.count))
    rng.shuffle(order)
    ways = [DIRECT] + [MODULE] * (house.count - 1)
    for i, k in np.argwhere(house.closure):
        assert (i, k) != (0, 0)
    choice = Choice(tuple(ways), (0,) * house.count, tuple(order))
    shares = []
    for kw in (3.0, 5.0, 8.0, 12.0, 20.0):
        sizes = book(generator(kw, 1000.0))
        outcome = replay(house, supply_of(house, sizes.generators[0], sizes), choice)
        shares.append(-1.0 if isinstance(outcome, Refusal) else outcome.service[order[0]])
    assert shares == sorted(shares)


@pytest.mark.parametrize("seed", range(40))
def test_the_order_of_the_file_changes_nothing(seed):
    """Law: shuffling the loads of the file leaves coverage and every load's service alone."""
    rng = random.Random(seed)
    one = random_home(seed, 5)
    loads = list(one.loads)
    rng.shuffle(loads)
    names = [ld.id for ld in one.loads if ld.id != "base"]
    rng.shuffle(names)
    sizes = book(generator(rng.choice([9.0, 14.0, 40.0]), 1000.0))
    outcomes = []
    for version in (one, replace(one, loads=tuple(loads))):
        house = house_of(version)
        how = tuple(DIRECT if i == "base" else MODULE for i in house.ids)
        choice = Choice(how, (0,) * house.count, tuple(house.index(i) for i in names))
        outcome = replay(house, supply_of(house, sizes.generators[0], sizes), choice)
        assert not isinstance(outcome, Refusal), outcome
        outcomes.append((outcome.coverage, dict(zip(house.ids, outcome.service, strict=True))))
    assert outcomes[0][0] == pytest.approx(outcomes[1][0])
    assert outcomes[0][1] == pytest.approx(outcomes[1][1])


def test_a_larger_generator_can_serve_less():
    """The rule has the anomalies of list scheduling: at 10 kW the big load gets in and bars two.

    At 8 kW the first load (9 kW) never fits and both others are served: coverage 2/3. At 10 kW it
    is served and they are not: 1/3.
    """
    big = load("big", 9.0, use=events((12.0, 1.0)))
    small = [load(name, 3.5, use=events((12.0, 1.0))) for name in ("one", "two")]
    one = home(base(0.5), big, *small)
    shares = {kw: served(one, kw, ["big", "one", "two"]) for kw in (8.0, 10.0)}
    assert (shares[8.0]["big"], shares[8.0]["one"], shares[8.0]["two"]) == (0.0, 1.0, 1.0)
    assert (shares[10.0]["big"], shares[10.0]["one"], shares[10.0]["two"]) == (1.0, 0.0, 0.0)
