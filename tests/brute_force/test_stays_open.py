"""What is off is moved or its module stays open, whichever is cheaper in all: full enumeration.

Homes in which many loads may be off, and books in which moving a circuit costs less than a module,
as much, a little or much more, beside controllers of few modules, so that their steps decide.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from planner.errors import NoPlanError
from planner.facts.price_book import Controller, Module
from planner.model.build import build, minimise_cost
from planner.model.solver import solve
from planner.plan.price import price_of
from planner.search.frontier import frontier
from planner.search.problem import problems_of
from planner.service.choice import OFF
from tests.brute_force.truth import compare
from tests.homes import book, generator, random_home
from tests.oracle.market import offers, staircase

SIZES = (generator(3.0, 1500.0), generator(5.0, 2100.0))
CHEAP_USD, DEAR_USD = 150.0, 250.0  # modules of one pole, and of two
RELOCATIONS_USD = (100.0, 150.0, 250.0, 270.0, 400.0)
STEPS = (((1, 40.0), (2, 90.0), (3, 300.0)), ((1, 130.0), (3, 200.0)), ((2, 60.0),), ((4, 500.0),))
MAY_BE = (frozenset({"direct", "off"}), frozenset({"direct", "off"}), frozenset({"off"}),
          frozenset({"module", "off"}), frozenset({"direct", "module", "off"}))
SEEDS = range(100)


def often_off(seed):
    """A random home of 3 or 4 loads besides its base, and a book of small steps."""
    rng = random.Random(f"stays open {seed}")
    one = random_home(seed, 3 + seed % 2)
    loads = tuple(ld if ld.id == "base" else replace(
        ld, allowed=rng.choice(MAY_BE), must_run=False, requires=()) for ld in one.loads)
    dear = Module("two-pole", "two-pole module", "contactor", 2, 60.0, 5.0, DEAR_USD, 0.0,
                  senses="call", largest_breaker_a=200.0)
    cheap = replace(dear, id="one-pole", label="one-pole module", poles=1, price=CHEAP_USD)
    steps = STEPS[seed % len(STEPS)]
    return replace(one, loads=loads), book(
        *SIZES, modules=(cheap, dear), relocation=RELOCATIONS_USD[seed % len(RELOCATIONS_USD)],
        controllers=tuple(Controller(f"for-{n}", f"controller for {n}", n, usd, 0.0)
                          for n, usd in steps))


def plans_of(seed):
    """The plans of the frontier; none where there is no plan."""
    try:
        return frontier(*often_off(seed)).points
    except NoPlanError:
        return ()


@pytest.mark.parametrize("seed", SEEDS)
def test_the_frontier_is_the_true_one(seed):
    """Cost, coverage, modules of every plan are those of full enumeration, over all splits."""
    compare(*often_off(seed))


@pytest.mark.parametrize("seed", SEEDS)
def test_no_other_split_is_cheaper(seed):
    """Of every plan: another set of modules that stay open costs more, or as much with more."""
    for plan in plans_of(seed):
        off = [i for i, how in enumerate(plan.choice.connection) if how == OFF]
        for mask in range(2 ** len(off)):
            kept = frozenset(i for place, i in enumerate(off) if mask >> place & 1)
            if any(plan.menu.keep_cost[i] == float("inf") for i in kept):
                continue
            price = price_of(plan.menu, replace(plan.choice, kept_open=kept))
            if price is not None:
                assert price.usd >= plan.cost_usd - 1e-6
                assert (price.usd > plan.cost_usd + 1e-6
                        or len(kept) >= len(plan.choice.kept_open))


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(40))
def test_the_model_weighs_it_alike(seed):
    """The least cost of the model for the coverage of a step is no more than the step's."""
    one, sizes = often_off(seed)
    found = offers(one, sizes)
    problems = {(each.menu.generator.id, each.menu.kind): each for each in problems_of(one, sizes)}
    for step in staircase(found):
        model = build(problems[step.generator, step.kind].tables)
        minimise_cost(model, step.coverage - 1e-6)
        answer = solve(model.problem)
        assert answer.proven
        assert answer.objective <= step.usd + 1e-2


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(40))
def test_model_and_search_find_the_same_least_cost(seed):
    """Where all loads are off for good nothing is left to the order: both find the same price."""
    one, sizes = often_off(seed)
    off = replace(one, loads=tuple(ld if ld.id == "base" else replace(
        ld, allowed=frozenset({"off"}), importance=max(1, ld.importance)) for ld in one.loads),
        comforts=tuple(replace(each, importance=max(1, each.importance))
                       for each in one.comforts), never_before=())
    (plan, *_) = frontier(off, sizes).points
    least = []
    for problem in problems_of(off, sizes):
        model = build(problem.tables)
        minimise_cost(model, 0.0)
        answer = solve(model.problem)
        assert answer.proven
        least += [] if answer.infeasible else [answer.objective]
    assert plan.cost_usd == pytest.approx(min(least), abs=1e-2)
    assert all(part.connection == "off" for part in plan.loads if part.id != "base")


def test_every_sort_of_split_happens():
    """Among the plans: all moved, all open, some of each; open only where that is cheaper."""
    kept = {seed: [(len(plan.choice.kept_open), plan.choice.connection.count(OFF))
                   for plan in plans_of(seed)] for seed in SEEDS}
    pairs = [pair for mine in kept.values() for pair in mine]
    assert sum(0 == opened < off for opened, off in pairs) >= 10
    assert sum(0 < opened == off for opened, off in pairs) >= 10
    assert sum(0 < opened < off for opened, off in pairs) >= 10
    for usd in RELOCATIONS_USD[1:]:
        mine = [pair for seed, some in kept.items() for pair in some
                if RELOCATIONS_USD[seed % len(RELOCATIONS_USD)] == usd]
        assert any(opened for opened, _ in mine) == (usd > CHEAP_USD)
