"""The compiled replay does what the rule says, on homes with every corner of the rule in them.

The other side is a replay of our own, slot by slot over all loads, which works out limits, starts,
legs, panels and relations from the home itself.
"""

from __future__ import annotations

import random
from functools import lru_cache

import numpy as np
import pytest

from planner.service.choice import DIRECT, MODULE, OFF
from planner.service.house import house_of
from planner.service.replay import Refusal, replay
from planner.service.supply import supply_of
from tests.oracle.facts import facts_of
from tests.oracle.wild import random_choice, wild_book, wild_home

WORDS = {OFF: "off", DIRECT: "direct", MODULE: "module"}
SEEDS = 400


@lru_cache(maxsize=SEEDS)
def played(seed):
    """A wild home with a random choice, played by both sides."""
    rng = random.Random(seed)
    home, book = wild_home(seed, rng.randrange(3, 8)), wild_book(seed, (3.0, 6.0, 9.0, 15.0))
    size = rng.choice(book.generators)
    house = house_of(home)
    choice = random_choice(house, book, rng)
    facts = facts_of(home, size)
    factors = [1.0, *(starter.factor for starter in book.soft_starters)]
    return (house, choice, facts, replay(house, supply_of(house, size, book), choice),
            facts.play([WORDS[how] for how in choice.connection],
                       [factors[s] for s in choice.soft_start], choice.order))


@pytest.mark.parametrize("seed", range(SEEDS))
def test_replay_is_the_rule(seed):
    """Refusal, served calls, waits, coverage and power are those of the plain rule."""
    house, choice, facts, ours, (valid, served, waited, live) = played(seed)
    assert isinstance(ours, Refusal) == (not valid)
    if isinstance(ours, Refusal):
        assert ours.demand > ours.limit
        return
    np.testing.assert_array_equal(ours.served, served)
    np.testing.assert_array_equal(ours.waits, waited)
    kw = np.array([ld.running_kw for ld in house.home.loads])
    np.testing.assert_allclose(ours.load_kw, live @ kw, atol=1e-9)
    coverage = 1.0 if facts.idle else float(facts.worth @ (served @ facts.weights))
    assert ours.coverage == pytest.approx(coverage, abs=1e-12)
    late = {house.ids[i] for i in np.flatnonzero(facts.must_run)
            if choice.connection[i] == OFF or waited[i].max() > 0
            or served[i].sum() < house.calls[i].sum()}
    assert set(ours.unmet) == late


def test_every_corner_turned_up():
    """The homes above hold refusals, waits, lost calls, woken loads and exclusions to agree on."""
    kinds = {"refused": 0, "waited": 0, "lost": 0, "woken": 0, "must-run late": 0, "two days": 0}
    for seed in range(SEEDS):
        house, choice, _, ours, (valid, served, waited, live) = played(seed)
        kinds["refused"] += not valid
        if isinstance(ours, Refusal):
            continue
        turns = np.array(choice.connection) == MODULE
        kinds["waited"] += bool((waited > 0).any())
        kinds["lost"] += bool((served[turns].sum(axis=1) < house.calls[turns].sum(axis=1)).any())
        kinds["woken"] += bool((live.T & ~house.calls & (waited < 0)).any())
        kinds["must-run late"] += bool(ours.unmet)
        kinds["two days"] += len(house.weights) == 2
    assert min(kinds.values()) >= 20, kinds
