"""On small homes with every corner of the rule in them, the frontier is the true one.

The truth is full enumeration: every connection, every soft starter, every order, priced anew.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from moocore import is_nondominated

from planner.errors import NoPlanError
from planner.facts.price_book import SoftStarter, Transfer
from planner.search.frontier import frontier
from planner.search.limits import USUAL_LIMITS, SearchLimits
from tests.homes import ALL, base, book, events, generator, home, load, motor
from tests.oracle.market import most_at, offers, staircase
from tests.oracle.wild import wild_book, wild_home

SAME = 2e-6  # two steps of the least gain that the search counts


def assert_no_plan(one, sizes, limits=USUAL_LIMITS):
    """The planner says that there is no plan, and why."""
    with pytest.raises(NoPlanError) as refused:
        frontier(one, sizes, limits=limits)
    assert refused.value.message


def assert_honest(plans, found):
    """Every plan is a real offer at its price, and no bound is below what enumeration reaches."""
    for plan in plans:
        assert 0.0 <= plan.coverage <= 1.0 + 1e-12
        assert plan.coverage <= most_at(found, plan.cost_usd) + 1e-9
        assert plan.proof.bound is not None
        assert plan.proof.bound >= most_at(found, plan.cost_usd) - SAME
        assert plan.proof.bound >= plan.coverage - 1e-9
        connection = tuple(part.connection for part in plan.loads)
        assert any(o.generator == plan.supply.generator.id and o.kind == plan.menu.kind
                   and o.connection == connection and abs(o.usd - plan.cost_usd) < 1e-6
                   for o in found)


def assert_true(plans, found):
    """The plans are the enumeration's staircase: none is missing, none is beaten."""
    assert_honest(plans, found)
    assert is_nondominated(np.array([(p.cost_usd, -p.coverage) for p in plans])).all()
    for offer in staircase(found):
        best = max((p.coverage for p in plans if p.cost_usd <= offer.usd + 1e-6), default=-1.0)
        assert best >= offer.coverage - SAME
    for plan in plans:
        assert plan.coverage == pytest.approx(most_at(found, plan.cost_usd), abs=SAME)
        assert plan.proof.kind == "proven"
        assert most_at(found, plan.cost_usd - 0.01) < plan.coverage


def small(seed):
    """A wild home of 3 to 5 loads besides its base, and a book of three sizes."""
    size = (3, 3, 4, 3, 4, 5)[seed % 6]
    return wild_home(seed, size), wild_book(seed, (5.0, 9.0) if size == 5 else (4.0, 7.0, 12.0))


def compare(one, sizes, check, limits=USUAL_LIMITS):
    """Hold the frontier to the enumeration."""
    found = offers(one, sizes)
    if found:
        check(frontier(one, sizes, limits=limits).points, found)
    else:
        assert_no_plan(one, sizes, limits)


@pytest.mark.parametrize("seed", range(240))
def test_whole_house(seed):
    """The frontier is the truth, and there is no plan exactly where enumeration finds none."""
    compare(*small(seed), assert_true)


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
    compare(replace(one, transfer_kinds=frozenset(kinds)), sizes, assert_true)


@pytest.mark.parametrize("seed", range(60))
def test_in_rounds(seed):
    """Walked in rounds of growing patience down to no slack, it is still the truth."""
    compare(*small(seed), assert_true,
            SearchLimits(many_turns=0, patience=(1, 8, 100_000), slack=0.0))


@pytest.mark.parametrize("nodes", [1, 8])
@pytest.mark.parametrize("seed", range(40))
def test_search_cut_short(seed, nodes):
    """Where the search gives up early, plans are real and the stated bounds hold."""
    compare(*small(seed), assert_honest, SearchLimits(many_turns=0, patience=(1, nodes)))


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(60))
def test_by_the_model(seed):
    """Where the model bounds and proposes, plans are real and the stated bounds hold."""
    one, sizes = with_panels(*small(seed))
    kinds = {"whole-house"} if seed % 2 else {"selected-circuits"}
    compare(replace(one, transfer_kinds=frozenset(kinds)), sizes, assert_honest,
            SearchLimits(most_combinations=0))


def test_homes_are_of_every_sort():
    """The homes above hold some without a plan, some with one, and many with a choice of plans."""
    counts = [len(staircase(offers(*small(seed)))) for seed in range(0, 240, 3)]
    assert sum(n == 0 for n in counts) >= 3
    assert sum(n >= 3 for n in counts) >= 25


def test_nothing_carries_importance():
    """Where only must-run loads matter every valid plan covers 1, and one plan is the frontier."""
    one = home(base(0.5), load("pump", 2.0, must_run=True, importance=5),
               load("toy", 3.0, importance=0, allowed=ALL))
    plans = frontier(one, book(generator(4.0, 1500.0), generator(9.0, 2500.0))).points
    assert [(p.coverage, p.proof.bound) for p in plans] == [(1.0, 1.0)]


def test_a_dearer_and_weaker_soft_starter_can_pay():
    """Where the order is bound by a wish, a start that seldom fits may serve more.

    The pump stands before the heater by a wish. With the strong starter it runs in both its slots
    and bars the heater; with the mild one its start fits only where the fan is off, so the heater
    is served too; with none it never starts.
    """
    one = home(
        base(1.0), load("fan", 2.0, allowed=frozenset({"direct"}), use=events((12.25, 0.25)),
                        importance=0),
        motor("pump", 3.0, 21.6, allowed=frozenset({"module"}), use=events((12.0, 0.5))),
        load("heater", 4.0, allowed=frozenset({"module"}), use=events((12.25, 0.25)), importance=5),
        never_before=(("heater", "pump"),))
    starters = (SoftStarter("strong", "strong soft starter", 0.35, 40.0, 200.0, 0.0),
                SoftStarter("mild", "mild soft starter", 0.6, 40.0, 260.0, 0.0))
    sizes = book(generator(8.0, 2000.0, short_time=1.0), soft_starters=starters)
    found = offers(one, sizes)
    assert most_at(found, 1e6) == pytest.approx((3 / 2 + 5) / 8)
    assert_true(frontier(one, sizes).points, found)
