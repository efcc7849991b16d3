"""A constraint solver, told the rule and nothing of the planner, finds the same best plans."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from planner.facts.home import Use
from planner.search.frontier import frontier
from planner.search.limits import LEAST_GAIN
from tests.homes import ALL, with_comforts
from tests.oracle.elsewhere import most_covered, solver_process
from tests.oracle.market import most_at, offers, staircase
from tests.oracle.wild import wild_book, wild_home


def busy_evening(seed):
    """A wild home whose loads are all wanted within two hours, so that the solver ends soon."""
    rng = random.Random(f"evening {seed}")
    one = wild_home(seed, rng.choice([3, 3, 4]))
    loads = [ld if ld.id == "base" else replace(
        ld, requires=(), nature="clock", comfort="", restarts="by itself", must_run=False,
        importance=rng.choice([0, 1, 2, 3, 5]), allowed=rng.choice([ld.allowed, ALL]),
        use={"every": Use(kind="events", events=(
            (rng.randrange(72, 77) / 4, rng.randrange(4, 8) / 4),))})
        for ld in one.loads]
    sizes = replace(wild_book(seed, (5.0, 8.0)), soft_starters=())
    evening = replace(one, loads=tuple(loads), comforts=(), days=one.days[:1], altitude_ft=0.0,
                      spell_days=1, transfer_kinds=frozenset({"whole-house"}))
    return with_comforts(evening), sizes


@pytest.fixture(scope="module")
def solver():
    """Ask the constraint solver for the most that a size covers for a budget."""
    with solver_process() as process:
        yield lambda *question: process.submit(most_covered, *question).result()


@pytest.mark.solver
@pytest.mark.parametrize("seed", range(40))
def test_three_ways_to_the_same_coverage(seed, solver):
    """Constraint solver, enumeration and planner agree on every step of the staircase."""
    one, sizes = busy_evening(seed)
    found = offers(one, sizes)
    budgets = [offer.usd for offer in staircase(found)] or [1e6]
    plans = frontier(one, sizes) if found else None
    for budget_usd in budgets:
        by_size = [solver(one, size, sizes, budget_usd) for size in sizes.generators]
        for size, by_solver in zip(sizes.generators, by_size, strict=True):
            mine = [offer for offer in found if offer.generator == size.id]
            assert by_solver == pytest.approx(most_at(mine, budget_usd), abs=1e-7)
        if plans is not None:
            plan = plans.within(budget_usd)
            assert plan is not None
            assert plan.coverage == pytest.approx(max(by_size), abs=LEAST_GAIN + 1e-7)


def test_evenings_leave_a_choice():
    """Many of the evenings above have several plans."""
    counts = [len(staircase(offers(*busy_evening(seed)))) for seed in range(40)]
    assert sum(n >= 2 for n in counts) >= 20
    assert sum(n >= 3 for n in counts) >= 5
