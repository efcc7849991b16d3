"""The compiled replay does what the rule says, on homes with every corner of the rule in them.

The other side is a replay of our own, slot by slot over all loads, which works out wants, limits,
starts, legs, panels, relations, losses and promises from the home itself.
"""

from __future__ import annotations

import random
from collections import Counter
from functools import lru_cache

import numpy as np
import pytest

from planner.service.choice import Choice
from planner.service.house import house_of
from planner.service.replay import Refusal, replay
from planner.service.supply import supply_of
from planner.service.unlimited import levels_of
from tests.oracle.limits import limits_of
from tests.oracle.market import Market
from tests.oracle.random_choices import CODES, random_ways
from tests.oracle.slot_by_slot import LOST, OPEN
from tests.oracle.verdict import MODULE
from tests.oracle.wants import Store, Task
from tests.oracle.wild import wild_book, wild_home

SEEDS = 400
SENSES = 0.2  # of the modules
SIZES_KW = (4.0, 7.0, 12.0, 20.0)
NATURES = ("room", "tank", "box", "battery", "pressure", "pit", "task", "clock")
CORNERS = (
    "refused: direct", "refused: must-run", "refused: pick-up", "refused: average",
    "broken promise", "by hand", "two days", "less than all", "woken", "held back", "lost work",
    "button", "open at the end", *(f"refused {nature}" for nature in NATURES))


@lru_cache(maxsize=SEEDS)
def played(seed):
    """A wild home with a random choice, played by both sides."""
    rng = random.Random(seed)
    one, sizes = wild_home(seed, rng.randrange(2, 7)), wild_book(seed, SIZES_KW)
    words, soft, order = random_ways(one, sizes, rng)
    size = rng.choice(sizes.generators)
    house = house_of(one)
    sensing = frozenset(i for i in order if rng.random() < SENSES)
    choice = Choice(tuple(CODES[word] for word in words), tuple(soft), tuple(order), sensing)
    ours = replay(house, supply_of(house, size, sizes), choice)
    market = Market(one, sizes)
    starters = [sizes.soft_starters[s - 1] if s else None for s in soft]
    plain = market.judge.judge(limits_of(one, size), words, starters, order,
                               market.blind(sensing))
    return house, words, ours, plain, market.judge


def rule_of(refusal):
    """Name the rule that the replay refuses by."""
    if "unannounced" in refusal.rule:
        return "pick-up"
    return "average" if "average" in refusal.rule else "direct"


@pytest.mark.parametrize("seed", range(SEEDS))
def test_replay_is_the_rule(seed):
    """Refusals, who is on in every slot, levels, kept, coverage and broken promises agree."""
    house, words, ours, plain, _ = played(seed)
    if isinstance(ours, Refusal):
        assert ours.demand > ours.limit
        assert plain.refused in {rule_of(ours), "must-run"}  # which of two is said first
        return
    if any(one.load for one in ours.broken):
        assert plain.refused == "must-run"
        return
    assert not plain.refused
    assert {one.comfort for one in ours.broken} == set(plain.broken)
    np.testing.assert_array_equal(ours.state.share > 0.0, np.concatenate(plain.on).T)
    connected = np.isin(words, ("direct", "module"))
    np.testing.assert_array_equal(ours.state.called[connected],
                                  np.concatenate(plain.called).T[connected])
    levels = levels_of(house.works, house.cares, house.spell, ours.state)
    for c, one in enumerate(house.home.comforts):
        alone = np.concatenate([day[one.id] for day in plain.deviation])
        np.testing.assert_allclose(levels[c], alone, atol=1e-9)
        assert ours.kept[c].kept == pytest.approx(plain.kept[one.id], abs=1e-9)
        np.testing.assert_allclose(ours.kept[c].by_day, plain.kept_on[one.id], atol=1e-9)
    np.testing.assert_allclose(ours.average, plain.average, atol=1e-9)
    assert ours.coverage == pytest.approx(plain.coverage, abs=1e-9)


@pytest.mark.parametrize("seed", range(SEEDS))
def test_the_same_comforts_count(seed):
    """What can be lost is the same to both sides, with the same weight."""
    house, _, _, _, judge = played(seed)
    total = sum(one.importance for one in judge.counted)
    counted = {one.id: one.importance / total for one in judge.counted}
    for c, one in enumerate(house.home.comforts):
        assert house.cares.share[c] == pytest.approx(counted.get(one.id, 0.0), abs=1e-12)


def test_every_corner_turned_up():
    """The homes above hold every refusal, lost work, broken promises and half-kept comforts."""
    found = Counter()
    for seed in range(SEEDS):
        _, words, ours, plain, judge = played(seed)
        found[f"refused: {plain.refused}"] += bool(plain.refused)
        if plain.refused or isinstance(ours, Refusal):
            continue
        found["broken promise"] += bool(plain.broken)
        found["by hand"] += "by hand" in words
        found["two days"] += len(judge.days) == 2
        found["less than all"] += 0.0 < plain.coverage < 1.0
        for day, on, called, state in zip(judge.days, plain.on, plain.called, plain.state,
                                          strict=True):
            found.update(_on_a_day(judge, day, words, on, called, state))
    assert min(found[corner] for corner in CORNERS) >= 3, found


def _on_a_day(judge, day, words, on, called, state):
    """Name what a day of a play shows."""
    for i, ld in enumerate(judge.home.loads):
        want = day.wants[ld.id]
        if (on[:, i] & ~called[:, i]).any():
            yield "woken"
        if words[i] != MODULE or want is None:
            continue
        if (called[:, i] & ~on[:, i]).any():
            yield f"refused {ld.nature}"
        if isinstance(want, Store) and want.behind:
            yield "held back"
        if isinstance(want, Task):
            ends = state[i][:len(want.windows)]
            yield from ("lost work",) * bool((ends == LOST).any())
            yield from ("button",) * want.button
            yield from ("open at the end",) * bool((ends == OPEN).any())
