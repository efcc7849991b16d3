"""What is shown and not proven is polished: never worse, by the replay, and what is near it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import planner
from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.plan.price import price_of
from planner.progress import unheard
from planner.search import patience
from planner.search.frontier import plans_of
from planner.search.hard.polishing import polished
from planner.search.limits import SearchLimits, Stopped
from planner.search.problem import Problem, problems_of
from planner.service.choice import DIRECT, MODULE, NO_STARTER, Choice
from planner.tolerances import SAME_COVERAGE, SAME_USD
from tests.benchmarks.questions import grown_book, grown_home
from tests.homes import ALL, base, book, events, generator, home, load

CASES = Path(planner.__file__).parents[1] / "cases"
SHORT = SearchLimits(nodes=20_000, probe=2_000, all_nodes=6_000)
TRIES = 300


def suburban():
    """The suburban home, and the best plan of its frontier."""
    one = read_home(CASES / "suburban.toml")[0]
    problems = problems_of(one, read_book(CASES / "demo_price_book.toml")[0])
    plan = plans_of(list(problems))[-1]
    return next(each for each in problems if each.menu.generator is plan.menu.generator
                and each.menu.works.id == plan.menu.works.id), plan


def usd(problem, choice):
    """What a choice costs."""
    return price_of(problem.menu, choice).usd


def test_what_is_proven_the_best_stays_as_it_is():
    """Nothing that costs no more covers more: the search has proven it."""
    problem, plan = suburban()
    found = polished(problem, (plan.choice, plan.coverage), None, TRIES, unheard)
    assert usd(problem, found) == pytest.approx(plan.cost_usd)
    assert problem.coverage(found) == pytest.approx(plan.coverage, abs=2 * SAME_COVERAGE)


def test_a_part_that_does_nothing_goes():
    """With a soft starter more than the best plan has, it is polished to be as cheap as that."""
    problem, plan = suburban()
    menu = problem.menu
    i = next(i for i, how in enumerate(plan.choice.connection)
             if how == MODULE and menu.soft_cost[i, 1:].min() < float("inf")
             and plan.choice.soft_start[i] == NO_STARTER)
    column = 1 + int(menu.soft_cost[i, 1:].argmin())
    soft = tuple(column if k == i else s for k, s in enumerate(plan.choice.soft_start))
    dearer = replace(plan.choice, soft_start=soft)
    assert usd(problem, dearer) > plan.cost_usd + 1.0
    coverage = problem.coverage(dearer)
    found = polished(problem, (dearer, coverage), None, TRIES, unheard)
    assert usd(problem, found) <= plan.cost_usd + SAME_USD
    assert problem.coverage(found) >= coverage - 2 * SAME_COVERAGE


def test_only_as_much_as_is_looked_for_has_to_be_kept():
    """An air conditioner that starts with a soft starter only, and an oven; a goal of a tenth.

    The oven is enough for it, so the soft starter goes; looked for without a goal it stays.
    """
    cooler = load("cooler", 3.0, starting_kva=30.0, soft_start_fits=True, compressor=True,
                  use=events((12.0, 2.0)), allowed=ALL)
    one = home(base(1.0), cooler, load("oven", 3.0, use=events((18.0, 1.0)), allowed=ALL))
    problem = problems_of(one, book(generator(8.0, 3000.0)))[0]
    starting = Choice((DIRECT, MODULE, DIRECT), (0, 1, 0), (1,))
    coverage = problem.coverage(starting)
    assert coverage > 0.9
    kept = polished(problem, (starting, coverage), None, TRIES, unheard)
    cheaper = polished(problem, (starting, coverage), 0.1, TRIES, unheard)
    assert kept.soft_start[1] == 1
    assert usd(problem, cheaper) < usd(problem, kept) - 1.0
    assert coverage > problem.coverage(cheaper) >= 0.1


def test_whoever_listens_may_end_it():
    """It is told of before each plan that is played."""
    problem, plan = suburban()

    def ended(_share):
        raise Stopped

    with pytest.raises(Stopped):
        polished(problem, (plan.choice, plan.coverage), None, TRIES, ended)


@pytest.mark.parametrize("loads", [20, 40])
def test_what_was_cut_short_gains_by_it_and_no_bound_is_passed(loads, monkeypatch):
    """Made-up homes: never dearer for as much, and what is stated still holds of what is shown."""
    limits = replace(SHORT, all_nodes=60_000)
    problems = list(problems_of(grown_home(loads, 3), grown_book(loads, 3), limits))
    after = plans_of(problems)
    monkeypatch.setattr(patience, "polished", lambda problem, covering, *_: covering[0])
    before = plans_of(problems)
    for plan in before:
        better = [each for each in after if each.cost_usd <= plan.cost_usd + SAME_USD
                  and each.coverage >= plan.coverage - 2 * SAME_COVERAGE]
        assert better or any(each.coverage >= plan.coverage - 0.0005 for each in after
                             if each.cost_usd <= plan.cost_usd + SAME_USD)
    for plan in after:
        assert plan.coverage <= plan.bound + SAME_COVERAGE
        assert Problem(plan.menu, plan.supply).coverage(plan.choice) == pytest.approx(
            plan.coverage)
