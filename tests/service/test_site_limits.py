"""What the site adds to the limits of a generator, held to the rule a second time."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from planner.service.choice import Choice
from planner.service.house import house_of
from planner.service.replay import Refusal, Service, replay
from planner.service.supply import SiteLimits, supply_of
from tests.homes import base, book, clock, generator, home
from tests.oracle.limits import limits_of
from tests.oracle.market import Market
from tests.oracle.random_choices import CODES, random_ways
from tests.oracle.wild import wild_book, wild_home

SEEDS = 150


def played(seed):
    """A wild home with a random choice, a scarce fuel and a long feeder, played by both sides."""
    rng = random.Random(f"site {seed}")
    one, sizes = wild_home(seed, rng.randrange(2, 6)), wild_book(seed, (7.0, 12.0, 20.0))
    words, soft, order = random_ways(one, sizes, rng)
    size = rng.choice(sizes.generators)
    house = house_of(one)
    fuel_kw = tuple(round(rng.uniform(0.5, 4.0), 2) for _ in one.days)
    ohm = round(rng.choice([0.0, 0.3, 1.0]), 2)
    supply = supply_of(house, size, sizes, SiteLimits(fuel_kw, ohm))
    ours = replay(house, supply, Choice(tuple(CODES[word] for word in words), tuple(soft),
                                        tuple(order)))
    market = Market(one, sizes)
    starters = [sizes.soft_starters[s - 1] if s else None for s in soft]
    plain = market.judge.judge(limits_of(one, size, fuel_kw, ohm), words, starters, order,
                               market.blind())
    return ours, plain


def test_fuel_and_feeder_are_the_rule():
    """Both sides refuse the same choices, and where they do not, they cover the same.

    Every kind of outcome turns up: refused for the fuel, for a start, and accepted.
    """
    found = Counter()
    for seed in range(SEEDS):
        ours, plain = played(seed)
        if isinstance(ours, Refusal):
            assert plain.refused, ours
            found["fuel" if "fuel" in ours.rule else "other"] += 1
            assert ("fuel" in ours.rule) == (plain.refused == "fuel") or plain.refused == "must-run"
            continue
        if any(one.load for one in ours.broken):
            assert plain.refused == "must-run"
            continue
        assert not plain.refused
        assert ours.coverage == pytest.approx(plain.coverage, abs=1e-9)
        found["accepted"] += 1
    assert min(found[name] for name in ("fuel", "other", "accepted")) >= 10, found


def test_the_average_of_a_day_is_held_against_its_fuel():
    """4 kW from 6 to 18 h beside 1 kW always average 3 kW: allowed at 3.0, refused at 2.9."""
    one, sizes = home(base(1.0), clock("oven", 4.0, (6.0, 12.0))), book(generator(10.0, 1.0))
    house, choice = house_of(one), Choice((1, 1), (0, 0), ())
    for fuel_kw, serves in ((3.0, True), (2.9, False)):
        supply = supply_of(house, sizes.generators[0], sizes,
                           SiteLimits((fuel_kw,) * len(one.days)))
        outcome = replay(house, supply, choice)
        assert isinstance(outcome, Service) == serves
        if isinstance(outcome, Refusal):
            assert "fuel" in outcome.rule
            assert outcome.demand == pytest.approx(3.0)
            assert outcome.limit == 2.9


def test_a_feeder_dips_the_voltage_besides_the_generator():
    """0.5 ohm on 20 kVA are 0.1736 per unit, Z = 240²/20,000 = 2.88 ohm (derived).

    The kVA started at 25 % fall from 20/3/0.2 = 33.33 to 20/3/0.3736 = 17.84.
    """
    one, sizes = home(base(1.0), altitude_ft=0.0, summer_degf=70.0), book(generator(20.0, 1.0))
    one = replace(one, days=tuple(replace(day, high_degf=70.0) for day in one.days))
    house, size = house_of(one), sizes.generators[0]
    assert supply_of(house, size, sizes).startable_kva == pytest.approx(20.0 / 3.0 / 0.2)
    far = supply_of(house, size, sizes, SiteLimits(feeder_ohm=0.5))
    assert far.startable_kva == pytest.approx(20.0 / 3.0 / (0.2 + 0.5 / 2.88))
    np.testing.assert_allclose(far.start_kw, supply_of(house, size, sizes).start_kw)
