"""Laws of plans and frontiers that hold for any home."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.errors import NoPlanError, VerificationError
from planner.model.build import build, maximise_coverage
from planner.model.solver import solve
from planner.plan.menu import NEVER
from planner.plan.plan import CONNECTIONS, Plan
from planner.plan.price import price_of
from planner.search.frontier import frontier
from planner.search.problem import problems_of
from planner.service.choice import MODULE
from tests.oracle.counted import carried, counted_va
from tests.oracle.market import Market, choices_of, equipment
from tests.oracle.random_choices import random_choice
from tests.oracle.wild import wild_book, wild_home

SEEDS = st.integers(10_000, 99_999)
SIZES = st.integers(2, 4)


def frontier_points(home, book):
    """Plans of the frontier, cheapest first; none if there is none."""
    try:
        return frontier(home, book).points
    except NoPlanError:
        return ()


def must_not_be_shown(problem, choice):
    """Whether a choice breaks a rule, by the plain rule and the words of home and book."""
    menu, home = problem.menu, problem.house.home
    market, size = Market(home, menu.book), menu.generator
    words = tuple(CONNECTIONS[how] for how in choice.connection)
    soft = [menu.book.soft_starters[s - 1] if s else None for s in choice.soft_start]
    blind = market.blind(choice.sensing)
    barred = any((word, starter, unseen and word == "module") not in [
        (how, one, unsensed) for how, one, _, unsensed, _ in choices_of(ld, menu.book, menu.kind)]
        for ld, word, starter, unseen in zip(home.loads, words, soft, blind, strict=True))
    barred = barred or any(menu.sensing_kind[i] is None for i in choice.sensing)
    barred = barred or any(("off", 1) not in [
        (how, modules) for how, _, _, _, modules in choices_of(home.loads[i], menu.book, menu.kind)]
        for i in choice.kept_open)
    modules = words.count("module") + len(choice.kept_open)
    unbuilt = equipment(home, menu.book, size, menu.kind, words, modules) is None
    firm = [ld.id for ld, word in zip(home.loads, words, strict=True)
            if word in {"direct", "by hand"}]
    heavy = not carried(counted_va(home, firm, menu.kind, "off" in words),
                        market.limits[size.id].derated_kw)
    verdict = market.judge.judge(market.limits[size.id], words, soft, choice.order, blind)
    return barred or unbuilt or heavy or not verdict.is_plan


@settings(max_examples=500)
@given(seed=SEEDS, size=SIZES)
def test_a_plan_exists_exactly_if_it_may_be_shown(seed, size):
    """Whatever breaks a rule cannot become a plan, and whatever breaks none can."""
    home, book = wild_home(seed, size), wild_book(seed)
    rng = random.Random(seed)
    problem = rng.choice(problems_of(home, book))
    choice = random_choice(problem.house, book, rng)
    if must_not_be_shown(problem, choice):
        with pytest.raises(VerificationError, match="refuses a plan"):
            Plan(problem.menu, problem.supply, choice)
    else:
        assert Plan(problem.menu, problem.supply, choice).choice == choice


@settings(max_examples=150)
@given(seed=SEEDS, size=SIZES)
def test_a_price_is_the_sum_of_its_lines(seed, size):
    """Lines add up, none is negative, and each module and soft starter is on one of them."""
    home, book = wild_home(seed, size), wild_book(seed)
    rng = random.Random(seed)
    problem = rng.choice(problems_of(home, book))
    choice = random_choice(problem.house, book, rng)
    assume(all(problem.menu.sensing_kind[i] for i in choice.sensing))
    assume(all(problem.menu.keep_cost[i] < NEVER for i in choice.kept_open))
    price = price_of(problem.menu, choice)
    assume(price is not None)
    assert price.usd == pytest.approx(sum(line.usd for line in price.lines))
    assert all(line.usd >= 0.0 for line in price.lines)
    counts = {line.text: line.quantity for line in price.lines}
    assert sum(counts.get(f"{module.label}, installed", 0)
               for module in book.modules) == choice.connection.count(MODULE)
    assert sum(counts.get(f"{module.label}, to stay open, installed", 0)
               for module in book.modules) == len(choice.kept_open)
    for number, starter in enumerate(book.soft_starters, start=1):
        assert counts.get(f"{starter.label}, installed", 0) == choice.soft_start.count(number)


@settings(max_examples=80)
@given(seed=SEEDS, size=SIZES, budgets=st.lists(st.floats(1000.0, 9000.0), min_size=2, max_size=5))
def test_more_money_never_buys_less(seed, size, budgets):
    """Along a frontier coverage and bound rise with cost, and every budget's pick is in reach."""
    plans = frontier_points(wild_home(seed, size), wild_book(seed))
    for cheaper, dearer in pairwise(plans):
        assert cheaper.cost_usd < dearer.cost_usd
        assert cheaper.coverage < dearer.coverage
        assert cheaper.proof.bound <= dearer.proof.bound + 1e-9
    for plan in plans:
        assert 0.0 <= plan.coverage <= 1.0 + 1e-12
        assert plan.coverage - 1e-9 <= plan.proof.bound <= 1.0 + 1e-9
    if plans:
        found = frontier(wild_home(seed, size), wild_book(seed))
        picks = [found.within(budget) for budget in sorted(budgets)]
        assert all(p is None or p.cost_usd <= b + 1e-6
                   for p, b in zip(picks, sorted(budgets), strict=True))
        reached = [-1.0 if pick is None else pick.coverage for pick in picks]
        assert reached == sorted(reached)


@settings(max_examples=40)
@given(seed=SEEDS, size=SIZES)
def test_same_home_same_plans(seed, size):
    """Asked twice, with homes built anew, the planner answers the same to the last digit."""
    answers = [[(plan.cost_usd, plan.coverage, plan.bound, plan.supply.generator.id, plan.choice)
                for plan in frontier_points(wild_home(seed, size), wild_book(seed))]
               for _ in range(2)]
    assert answers[0] == answers[1]


@settings(max_examples=40)
@given(seed=SEEDS, size=SIZES, shuffle=st.randoms(use_true_random=False))
def test_the_order_of_the_file_changes_no_frontier(seed, size, shuffle):
    """Loads and generators in another order give the same costs and coverages."""
    home, book = wild_home(seed, size), wild_book(seed)
    loads, sets = list(home.loads), list(book.generators)
    shuffle.shuffle(loads)
    shuffle.shuffle(sets)
    mixed = frontier_points(replace(home, loads=tuple(loads)),
                            replace(book, generators=tuple(sets)))
    plain = frontier_points(home, book)
    np.testing.assert_allclose([(p.cost_usd, p.coverage) for p in mixed],
                               [(p.cost_usd, p.coverage) for p in plain], atol=2e-6)


@settings(max_examples=30)
@given(seed=SEEDS, size=SIZES)
def test_a_dearer_book_shifts_the_frontier(seed, size):
    """With every generator 100 dollars dearer, the same coverages cost 100 dollars more."""
    home, book = wild_home(seed, size), wild_book(seed)
    dear = replace(book, generators=tuple(
        replace(one, price=one.price + 100.0) for one in book.generators))
    plain, dearer = frontier_points(home, book), frontier_points(home, dear)
    assert bool(plain) == bool(dearer)
    np.testing.assert_allclose([(p.cost_usd + 100.0, p.coverage) for p in plain],
                               [(p.cost_usd, p.coverage) for p in dearer], atol=2e-6)


@pytest.mark.solver
@settings(max_examples=12)
@given(seed=SEEDS, size=SIZES)
def test_the_models_bound_never_falls_with_capacity(seed, size):
    """Of sets alike in all but size and of one price, the larger has the higher bound.

    Without motors, whose start draws more from a stiffer set.
    """
    home = wild_home(seed, size)
    home = replace(home, loads=tuple(replace(ld, starting_kva=0.0) for ld in home.loads))
    book = wild_book(seed)
    sets = [replace(book.generators[0], id=f"set-{kw:g}",
                    ratings={fuel: replace(rating, kw=kw, kva=kw, amperes=1000.0 * kw / 240.0)
                             for fuel, rating in book.generators[0].ratings.items()})
            for kw in (4.0, 6.0, 9.0)]
    bounds = []
    for problem in sorted(problems_of(home, replace(book, generators=tuple(sets))),
                          key=lambda p: p.supply.derated_kw):
        model = build(problem.tables, whole_slots=False)
        maximise_coverage(model, 4000.0)
        answer = solve(model.problem)
        assert answer.proven
        bounds.append(-1.0 if answer.infeasible else answer.bound)
    assert all(small <= large + 1e-6 for small, large in pairwise(bounds))
