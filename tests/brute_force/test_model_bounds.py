"""The model is never tighter than the rule: it lets all stand that the replay accepts.

Bound, truth, plan: for one way to connect everything the model's optimum is at least what the
replay keeps in any order; over all ways it is at least what full enumeration reaches.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from planner.model.build import build, fix, maximise_coverage, minimise_cost
from planner.model.solver import solve
from planner.plan.judged import judged
from planner.search.problem import problems_of
from tests.oracle.every_plan import true_frontier
from tests.oracle.random_choices import random_choice
from tests.oracle.wild import wild_book, wild_home

SAME = 2e-6
CENT = 1e-2
TRIES = 40
WAYS = [(None, True), (None, False), (1, False)]  # days of a spell, whole slots
by_the_way = pytest.mark.parametrize(("last_days", "whole_slots"), WAYS)


def accepted(seed):
    """A problem, and up to two random choices of it that stand as plans, with what they are."""
    rng = random.Random(f"accepted {seed}")
    one = wild_home(seed, rng.choice([2, 3, 4, 5]))
    sizes = wild_book(seed, (rng.choice([4.0, 7.0, 9.0, 12.0, 16.0]),))
    for problem in problems_of(one, sizes):
        found = []
        for _ in range(TRIES):
            choice = random_choice(problem.house, sizes, rng)
            judgement = judged(problem.menu, problem.supply, choice)
            if not judgement.wrong and len(found) < 2:
                found.append((choice, judgement))
        yield problem, found


def built(problem, last_days, whole_slots):
    """The model of a problem."""
    return build(replace(problem.tables, last_days=last_days), whole_slots=whole_slots)


def most_by_model(model, budget_usd):
    """What the model proves for a budget; -1 if it proves that there is no plan."""
    maximise_coverage(model, budget_usd)
    answer = solve(model.problem)
    assert answer.proven
    return -1.0 if answer.infeasible else answer.bound


@pytest.mark.solver
@by_the_way
@pytest.mark.parametrize("seed", range(25))
def test_what_the_replay_accepts_is_feasible_and_covers_no_more(seed, last_days, whole_slots):
    """With the connections and soft starters of a plan the model costs the same, covers no less."""
    for problem, found in accepted(seed):
        for choice, judgement in found:
            model = built(problem, last_days, whole_slots)
            fix(model, choice)
            assert most_by_model(model, 1e9) >= judgement.service.coverage - SAME
            minimise_cost(model, 0.0)
            assert solve(model.problem).objective == pytest.approx(judgement.price.usd, abs=CENT)


def test_enough_is_accepted():
    """The test above is about something: at least half of its homes have a plan."""
    counts = [any(found for _, found in accepted(seed)) for seed in range(30)]
    assert sum(counts) >= 15


@pytest.mark.solver
@by_the_way
@pytest.mark.parametrize("seed", range(25))
def test_bound_is_never_below_the_truth(seed, last_days, whole_slots):
    """At every step of the true frontier the model's optimum for its cost is no lower."""
    one, sizes = wild_home(seed, 3), wild_book(seed, (5.0, 9.0))
    problems = {(each.menu.generator.id, each.menu.kind): each for each in problems_of(one, sizes)}
    for step in true_frontier(one, sizes):
        model = built(problems[step.generator, step.kind], last_days, whole_slots)
        assert most_by_model(model, step.usd + SAME) >= step.coverage - SAME
