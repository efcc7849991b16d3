"""Laws of the service rule that hold for any home, any choice and any generator."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from planner.facts.home import CodeEntry, Use
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from planner.service.house import house_of
from planner.service.replay import Refusal, Service, play, replay
from planner.service.supply import supply_of
from tests.homes import base, book, events, generator, home, load, task
from tests.oracle.random_choices import random_choice
from tests.oracle.wild import wild_book, wild_home

SEEDS = range(80)


def drawn(seed, sizes_kw=(4.0, 7.0, 12.0, 20.0)):
    """A wild home, one generator for it and a random choice."""
    rng = random.Random(f"law {seed}")
    one, sizes = wild_home(seed, rng.randrange(2, 7)), wild_book(seed, sizes_kw)
    house = house_of(one)
    supply = supply_of(house, rng.choice(sizes.generators), sizes)
    return house, supply, random_choice(house, sizes, rng), rng


def played(house, supply, choice):
    """The play of a choice, whether or not a rule refuses it."""
    return play(house, supply.power(house, choice.soft_start), choice)


@pytest.mark.parametrize("seed", SEEDS)
def test_direct_loads_are_always_served(seed):
    """Wherever a direct load calls it is on, and so is all that it needs."""
    house, supply, choice, _ = drawn(seed)
    state = played(house, supply, choice)
    for i, how in enumerate(choice.connection):
        if how == DIRECT:
            for k in (i, *np.flatnonzero(house.closure[i])):
                assert (state.share[k][state.called[i]] > 0.0).all()


@pytest.mark.parametrize("seed", SEEDS)
def test_what_is_off_or_opened_by_hand_is_on_only_for_others(seed):
    """It never calls, and nothing that is connected needs it."""
    house, supply, choice, _ = drawn(seed)
    state = played(house, supply, choice)
    for i, how in enumerate(choice.connection):
        if how not in (DIRECT, MODULE):
            assert not state.called[i].any()
            assert not (state.share[i] > 0.0).any()


@pytest.mark.parametrize("seed", SEEDS)
def test_a_prefix_of_the_order_is_final(seed):
    """What stands behind changes nothing for those ahead: neither their calls nor their slots."""
    house, supply, choice, rng = drawn(seed)
    kept = choice.order[:rng.randrange(0, len(choice.order) + 1)]
    connection = tuple(OFF if how == MODULE and i not in kept else how
                       for i, how in enumerate(choice.connection))
    whole = played(house, supply, choice)
    ahead = play(house, supply.power(house, choice.soft_start),
                 Choice(connection, choice.soft_start, kept))
    for i in (*kept, *(i for i, how in enumerate(choice.connection) if how == DIRECT)):
        np.testing.assert_array_equal(whole.called[i], ahead.called[i])
        mine = ahead.called[i]
        np.testing.assert_array_equal(whole.share[i][mine] > 0.0, ahead.share[i][mine] > 0.0)


@pytest.mark.parametrize("seed", SEEDS)
def test_a_longer_spell_begins_like_a_shorter_one(seed):
    """The first days of a spell do not know how many follow."""
    house, supply, choice, _ = drawn(seed)
    longer = house_of(replace(house.home, spell_days=house.spell + 1))
    short, long = (played(one, supply, choice) for one in (house, longer))
    days, slots = len(house.weights), 96 * house.spell
    for rows, more in ((short.called, long.called), (short.share, long.share)):
        first = more.reshape(len(rows), days, slots + 96)[:, :, :slots]
        np.testing.assert_allclose(rows.reshape(len(rows), days, slots), first, atol=1e-12)


@pytest.mark.parametrize("seed", SEEDS)
def test_kept_lies_between_nothing_and_all(seed):
    """No comfort is worse than without its loads, or better than with unlimited power."""
    house, supply, choice, _ = drawn(seed)
    outcome = replay(house, supply, choice)
    if isinstance(outcome, Service):
        for one in outcome.kept:
            assert -1e-9 <= one.kept <= 1.0 + 1e-9
            assert ((one.by_day >= -1e-9) & (one.by_day <= 1.0 + 1e-9)).all()


@pytest.mark.parametrize("seed", SEEDS)
def test_everything_always_connected_keeps_everything(seed):
    """On a generator that carries the whole house at once all comforts are as with the utility."""
    one = wild_home(seed, 4)
    one = replace(one, loads=tuple(replace(ld, not_with=(), starting_kva=0.0) for ld in one.loads),
                  panels=tuple(replace(panel, feeder_a=900.0) for panel in one.panels),
                  service_a=900.0)
    house, sizes = house_of(one), book(generator(150.0, 9000.0))
    outcome = replay(house, supply_of(house, sizes.generators[0], sizes),
                     Choice((DIRECT,) * house.count, (0,) * house.count, ()))
    assert isinstance(outcome, Service), str(outcome)
    assert outcome.coverage == pytest.approx(1.0)
    assert not outcome.broken
    assert [each.kept for each in outcome.kept] == pytest.approx([1.0] * len(outcome.kept))


@pytest.mark.parametrize("seed", SEEDS)
def test_the_order_of_the_file_changes_nothing(seed):
    """Loads and comforts in another order give the same coverage and the same kept."""
    house, supply, choice, rng = drawn(seed)
    one = house.home
    loads, comforts = list(one.loads), list(one.comforts)
    rng.shuffle(loads)
    rng.shuffle(comforts)
    mixed = house_of(replace(one, loads=tuple(loads), comforts=tuple(comforts)))
    place = {load_id: i for i, load_id in enumerate(house.ids)}
    back = [place[load_id] for load_id in mixed.ids]
    again = Choice(tuple(choice.connection[i] for i in back), (0,) * len(back),
                   tuple(mixed.index(house.ids[i]) for i in choice.order))
    plain = replace_soft(choice)
    sizes = book(supply.generator)
    outcomes = [replay(house, supply_of(house, supply.generator, sizes), plain),
                replay(mixed, supply_of(mixed, supply.generator, sizes), again)]
    assert isinstance(outcomes[0], Refusal) == isinstance(outcomes[1], Refusal)
    if isinstance(outcomes[0], Service) and isinstance(outcomes[1], Service):
        assert outcomes[0].coverage == pytest.approx(outcomes[1].coverage, abs=1e-12)
        kept = [{each.comfort.id: each.kept for each in one.kept} for one in outcomes]
        assert kept[0] == pytest.approx(kept[1])


def replace_soft(choice):
    """The same choice without soft starters."""
    return Choice(choice.connection, (0,) * len(choice.connection), choice.order)


def test_at_priority_1_more_capacity_never_serves_less():
    """A clock load or a task that may pause as long as it may wait gets no less from more.

    More is: kW, amperes, the other load on which any motor starts.
    """
    assert sum(_gets_no_less(seed) for seed in range(300)) >= 100


def _gets_no_less(seed):
    """Whether something of the kind takes turns in a home; what it gets is then compared."""
    house, supply, choice, rng = drawn(seed, (4.0, 7.0))
    one = house.home
    first = [i for i in choice.order if not house.before[:, i].any()
             and one.loads[i].nature in {"clock", "task"}]
    if not first:
        return False
    i = rng.choice(first)
    wait = int(4 * one.loads[i].wait_h)
    patient = house_of(replace(one, loads=tuple(
        replace(ld, pause_slots=wait, restarts="by itself") if k == i else ld
        for k, ld in enumerate(one.loads))))
    order = (i, *(k for k in choice.order if k != i))
    more = replace(supply, capacity_kw=1.3 * supply.capacity_kw, leg_a=1.3 * supply.leg_a,
                   room_kw=supply.room_kw + 0.3 * np.abs(supply.room_kw))
    less, most = (played(patient, each, Choice(choice.connection, choice.soft_start, order))
                  for each in (supply, more))
    works = patient.works
    mine = slice(works.task_first[i], works.task_first[i + 1])
    if one.loads[i].nature == "clock":
        assert (most.share[i] >= less.share[i] - 1e-12).all()
    assert ((most.lost[mine] == 1) <= (less.lost[mine] == 1)).all()
    return True


def services(one, kw, order):
    """Service by load id, with everything but the base taking turns; no start is too much."""
    house, sizes = house_of(one), book(generator(kw, 1000.0, inertia_s=20.0))
    how = tuple(DIRECT if load_id == "base" else MODULE for load_id in house.ids)
    choice = Choice(how, (0,) * house.count, tuple(house.index(load_id) for load_id in order))
    outcome = replay(house, supply_of(house, sizes.generators[0], sizes), choice)
    assert isinstance(outcome, Service), str(outcome)
    return dict(zip(house.ids, outcome.service.tolist(), strict=True))


def test_a_larger_generator_can_serve_less():
    """The rule has the anomalies of list scheduling: at 10 kW the big load gets in and bars two.

    At 8 kW the first load (9 kW) never fits and both others are served.
    """
    noon = {"every": Use(kind="events", events=((12.0, 1.0),))}
    one = home(base(0.5), load("big", 9.0, use=noon), load("one", 3.5, use=noon),
               load("two", 3.5, use=noon))
    small, large = (services(one, kw, ["big", "one", "two"]) for kw in (8.0, 10.0))
    assert (small["big"], small["one"], small["two"]) == (0.0, 1.0, 1.0)
    assert (large["big"], large["one"], large["two"]) == (1.0, 0.0, 0.0)


def test_a_meal_at_priority_1_can_be_cut_by_more_power():
    """It begins earlier, and is cut where the small generator would have let it begin later.

    A pan of 3 kW is hot from 12:15 to 12:45, always connected. At 6 kW the meal of 4 kW may not
    begin at 12:00 beside a kettle of 2 kW; it begins at 12:45 and is finished. At 7 kW it begins at
    12:00, pauses for two slots, and is lost.
    """
    element, direct = CodeEntry("cooking", 1000.0), frozenset({"direct"})
    one = home(base(0.5),
               load("kettle", 2.0, use=events((12.0, 0.25)), allowed=direct, code=element),
               load("pan", 3.0, use=events((12.25, 0.5)), allowed=direct, code=element),
               task("meal", 4.0, (12.0, 1.0), wait_h=1.0, pause_slots=1, code=element),
               spell_days=1)
    house = house_of(one)
    lost = []
    for kw in (6.0, 7.0):
        sizes = book(generator(kw, 1000.0, inertia_s=20.0))
        outcome = replay(house, supply_of(house, sizes.generators[0], sizes),
                         Choice((DIRECT, DIRECT, DIRECT, MODULE), (0,) * 4, (3,)))
        assert isinstance(outcome, Service), str(outcome)
        lost.append(int(outcome.state.lost[0, 0]))
    assert lost == [0, 1]
