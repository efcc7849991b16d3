"""Ways to put a size at its site are searched like everything else: none is missed."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

from planner.facts.site import PropaneTank, Site
from planner.facts.site_parts import SiteParts, TankPart, Wire
from planner.progress import unheard
from planner.search.limits import USUAL_LIMITS
from planner.search.problem import problems_of
from planner.search.rising import Rising
from planner.service.loops.inputs import NEVER_KW
from tests.oracle.wild import wild_book, wild_home
from tests.search.test_every_choice import LOADS, SAME, truth_of

SEEDS = 25


def at_a_site(seed):
    """A wild home on propane with a small tank and a long feeder, and a book with more of both."""
    rng = random.Random(f"place {seed}")
    tank = PropaneTank(rng.choice([20.0, 60.0, 100.0]), delivery_share=rng.choice([0.2, 0.4, 0.6]))
    site = Site(wire_ft=rng.choice([None, 100.0, 900.0]), tank=tank,
                fuel_days=rng.choice([None, None, 0.5]))
    home = replace(wild_home(seed, LOADS), fuel="propane", site=site)
    parts = SiteParts(
        wires=tuple(Wire(f"wire-{size}", size, size, "copper", usd)
                    for size, usd in (("6", 0.4), ("2", 1.1), ("2/0", 2.3), ("250", 4.1))),
        tanks=(TankPart("small", "small tank", 60.0, 24.0, 66.0, 300.0, 100.0),
               TankPart("large", "large tank", 250.0, 30.0, 94.0, 900.0, 150.0)))
    return home, replace(wild_book(seed), site=parts)


def test_the_frontier_at_a_site_is_the_true_one():
    """Cost and coverage of every point are those of full enumeration over all ways of the site.

    In some homes a tank is added, in some a larger wire would start more, in some fuel binds.
    """
    found = Counter()
    for seed in range(SEEDS):
        home, book = at_a_site(seed)
        problems = problems_of(home, book)
        found["more than one way"] += len({p.menu.works.id for p in problems}) > 1
        found["fuel binds"] += any((p.supply.fuel_kw < NEVER_KW).any() for p in problems)
        rising = Rising(USUAL_LIMITS)
        list(rising.run(problems, unheard))
        points = [(point.usd, point.coverage) for point in rising.points]
        assert not rising.opened
        np.testing.assert_allclose(
            np.array(points).reshape(-1, 2), np.array(truth_of(problems)).reshape(-1, 2),
            rtol=0.0, atol=SAME)
        found["point"] += len(points)
    assert min(found.values()) >= 5, found


@pytest.mark.parametrize("seed", range(SEEDS))
def test_what_is_left_out_frees_nothing(seed):
    """Of two ways of one size the dearer one always frees more fuel or starts more motors."""
    home, book = at_a_site(seed)
    by_size = {}
    for problem in problems_of(home, book):
        by_size.setdefault((problem.menu.generator.id, problem.menu.kind), []).append(problem)
    for ways in by_size.values():
        for dear in ways:
            for cheap in ways:
                if cheap.menu.base < dear.menu.base - 1e-9:
                    more_fuel = (dear.supply.fuel_kw > cheap.supply.fuel_kw).any()
                    stiffer = dear.supply.startable_kva > cheap.supply.startable_kva + 1e-9
                    assert more_fuel or stiffer
