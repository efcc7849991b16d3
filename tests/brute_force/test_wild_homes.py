"""On small homes with every corner of the rule in them, the frontier is the true one.

The truth is full enumeration: every connection, every soft starter, every order, priced anew.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from planner.facts.price_book import Module, SoftStarter, Transfer
from planner.search.frontier import frontier
from planner.search.limits import SearchLimits
from tests.brute_force.truth import assert_honest, assert_true, compare
from tests.homes import ALL, base, book, events, generator, home, load, motor
from tests.oracle.every_plan import true_frontier
from tests.oracle.market import most_at, offers, staircase
from tests.oracle.wild import wild_book, wild_home

WILD = 300


def small(seed):
    """A wild home of 2 to 4 loads besides its base, and a book of three sizes."""
    size = (3, 3, 4, 3, 4, 2)[seed % 6]
    return wild_home(seed, size), wild_book(seed, ((3.0, 5.0, 8.0), (5.0, 8.0, 13.0))[seed % 2])


@pytest.mark.parametrize("seed", range(WILD))
def test_whole_house(seed):
    """The frontier is the truth, and there is no plan exactly where enumeration finds none."""
    compare(*small(seed))


def measured(one, seed):
    """The same home with a measured demand between an eighth and all of what its loads draw."""
    rng = random.Random(f"measured {seed}")
    all_kva = sum(ld.running_kva for ld in one.loads)
    return replace(one, code=replace(
        one.code, measured_peak_kva=all_kva * rng.choice([0.125, 0.25, 0.5, 1.0]),
        measured_days=rng.choice([365.0, 365.0, 40.0]), measured_interval_min=15.0,
        added=tuple(ld.id for ld in one.loads if rng.random() < 0.2)))


@pytest.mark.parametrize("seed", range(60))
def test_measured_homes(seed):
    """Where a measured demand bounds what is always connected, the frontier is the truth too."""
    one, sizes = small(seed)
    compare(measured(one, seed), sizes)


def test_a_measurement_changes_some_frontiers():
    """Of the measured homes above some have another frontier than they have unmeasured."""
    changed = 0
    for seed in range(60):
        one, sizes = small(seed)
        before, after = true_frontier(one, sizes), true_frontier(measured(one, seed), sizes)
        changed += [(o.usd, o.coverage) for o in before] != [(o.usd, o.coverage) for o in after]
    assert changed >= 3


def with_panels(one, sizes):
    """The same home, and a book that offers panels for selected circuits too."""
    panels = tuple(Transfer(f"panel-{n}", f"{n} positions", "selected-circuits", 60.0, n,
                            150.0 + 60.0 * n, 100.0) for n in (3, 6, 8, 12))
    return one, replace(sizes, transfers=(*sizes.transfers, *panels))


@pytest.mark.parametrize("seed", range(60))
def test_selected_circuits(seed):
    """With positions that run out, and both kinds of transfer on offer, it is still the truth."""
    one, sizes = with_panels(*small(seed))
    kinds = {"selected-circuits"} if seed % 3 else {"selected-circuits", "whole-house"}
    compare(replace(one, transfer_kinds=frozenset(kinds)), sizes)


@pytest.mark.parametrize("nodes", [1, 8])
@pytest.mark.parametrize("seed", range(40))
def test_search_cut_short(seed, nodes):
    """Where the search gives up early, plans are real and the stated bounds hold."""
    compare(*small(seed), assert_honest, SearchLimits(nodes=nodes, probe=1, all_nodes=20 * nodes))


def test_homes_are_of_every_sort():
    """The homes above hold some without a plan, some with one, and many with a choice of plans."""
    found = [true_frontier(*small(seed)) for seed in range(0, WILD, 3)]
    assert sum(not one for one in found) >= 5
    assert sum(len(one) >= 2 for one in found) >= 30
    assert sum(len(one) >= 3 for one in found) >= 5
    assert sum(any(0.0 < offer.coverage < 1.0 for offer in one) for one in found) >= 25


@pytest.mark.parametrize("seed", range(12))
def test_nothing_is_passed_over(seed):
    """The enumeration that passes over what cannot be better finds what one of everything does."""
    one, sizes = small(seed)
    every = staircase(offers(one, sizes))
    assert [(o.usd, o.coverage) for o in true_frontier(one, sizes)] == [
        (o.usd, pytest.approx(o.coverage, abs=1e-9)) for o in every]


def test_nothing_carries_importance():
    """Where nothing can be lost every valid plan covers 1, and one plan is the frontier."""
    one = home(base(0.5), load("pump", 2.0, importance=5, allowed=frozenset({"direct"})),
               load("toy", 3.0, importance=0, allowed=ALL))
    plans = frontier(one, book(generator(4.0, 1500.0), generator(9.0, 2500.0))).points
    assert [(p.coverage, p.proof.bound) for p in plans] == [(1.0, 1.0)]


def test_a_dearer_and_weaker_soft_starter_can_pay():
    """Where the order is bound by a wish, a start that seldom fits may serve more.

    The pump stands before the heater by a wish. With the strong starter it runs in all its slots
    and bars the heater; with the mild one its start fits only while the fan is off, so the heater
    is served too; with none it never starts.
    """
    one = home(
        base(1.0), load("fan", 2.0, allowed=frozenset({"direct"}), use=events((13.0, 1.0)),
                        importance=0),
        motor("pump", 3.0, 24.0, allowed=frozenset({"module"}), use=events((12.0, 2.0))),
        load("heater", 4.0, allowed=frozenset({"module"}), use=events((13.0, 1.0)), importance=5),
        never_before=(("heater", "pump"),))
    starters = (SoftStarter("strong", "strong soft starter", 0.25, 40.0, 200.0, 0.0, start_s=0.6),
                SoftStarter("mild", "mild soft starter", 0.5, 40.0, 260.0, 0.0, start_s=1.0))
    sizes = book(generator(8.0, 2000.0), soft_starters=starters, modules=(Module(
        "sensing", "module that senses the call", "contactor", 2, 60.0, 5.0, 150.0, 100.0,
        senses="call", largest_breaker_a=200.0),))
    truth = true_frontier(one, sizes)
    assert most_at(truth, 1e6) == pytest.approx((3 / 2 + 5) / 8)
    assert_true(frontier(one, sizes).points, one, sizes, truth)
