"""On small homes of lights and work to be done the frontier is the true one, size by size too.

The truth is full enumeration of all connections, soft starters and orders by the plain rule.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.price_book import Transfer
from planner.search.frontier import frontier_by_size
from planner.search.limits import SearchLimits
from tests.brute_force.truth import assert_honest, assert_true, compare
from tests.homes import book, generator, random_home
from tests.oracle.every_plan import true_frontier

SIZES = (generator(4.0, 1500.0), generator(7.0, 2100.0), generator(11.0, 3000.0))


def small(seed):
    """A random home of 2-4 loads beside its base, and a book of three sizes."""
    return random_home(seed, 2 + seed % 3), book(*SIZES)


@pytest.mark.parametrize("seed", range(120))
def test_whole_house(seed):
    """The frontier equals full enumeration; there is no plan exactly where enumeration has none."""
    compare(*small(seed))


@pytest.mark.parametrize("seed", range(40))
def test_selected_circuits(seed):
    """The same with selected circuits: positions count, and what is off costs nothing."""
    one, sizes = small(seed)
    panels = tuple(Transfer(f"panel-{n}", f"{n} positions", "selected-circuits", 100.0, n,
                            200.0 + 60.0 * n, 100.0) for n in (4, 6, 12))
    compare(replace(one, transfer_kinds=frozenset({"selected-circuits"})),
            replace(sizes, transfers=panels))


@pytest.mark.parametrize("seed", range(40))
def test_cut_short(seed):
    """Where the search is cut short, every plan is real and no stated bound is below the truth."""
    compare(*small(seed), assert_honest, SearchLimits(nodes=2, probe=1, all_nodes=40))


@pytest.mark.parametrize("seed", range(20))
def test_each_size(seed):
    """The frontier of each size by itself equals enumeration of that size."""
    one, sizes = small(seed)
    found = frontier_by_size(one, sizes)
    for size in sizes.generators:
        truth = true_frontier(one, sizes, [size])
        assert (size.id in found) == bool(truth)
        if truth:
            assert_true(found[size.id].points, one, sizes, truth)
