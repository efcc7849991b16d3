"""The model is never tighter than the rule: its bound is at least what enumeration reaches."""

from __future__ import annotations

import pytest

from planner.facts.home import Limits
from planner.facts.price_book import SoftStarter
from planner.model.build import build, maximise_coverage
from planner.model.solver import solve
from planner.search.problem import problems_of
from tests.homes import base, book, events, generator, home, load, motor
from tests.oracle.market import most_at, offers_of, staircase
from tests.oracle.wild import wild_book, wild_home

SAME = 2e-6


def most_by_model(problem, budget_usd, *, whole_slots):
    """What the model proves for a budget; -1 if it proves that there is no plan."""
    model = build(problem.tables, whole_slots=whole_slots)
    maximise_coverage(model, budget_usd)
    answer = solve(model.problem)
    assert answer.proven
    return -1.0 if answer.infeasible else answer.bound


@pytest.mark.solver
@pytest.mark.parametrize("whole_slots", [True, False])
@pytest.mark.parametrize("seed", range(60))
def test_bound_is_never_below_the_truth(seed, whole_slots):
    """At every step of each size's staircase the model's optimum reaches the enumeration's."""
    one, sizes = wild_home(seed, 3), wild_book(seed, (5.0, 9.0))
    for problem in problems_of(one, sizes):
        found = offers_of(one, sizes, problem.menu.generator, "whole-house")
        for step in staircase(found)[-3:]:
            bound = most_by_model(problem, step.usd + 1e-6, whole_slots=whole_slots)
            assert bound >= step.coverage - SAME


@pytest.mark.solver
def test_a_soft_starter_that_raises_the_starting_power_binds_only_while_its_motor_is_on():
    """A start that collapses the voltage draws less than a softened one; off, it draws nothing.

    78 kVA on an 8 kVA set with X'd 0.2 is X·s = 1.95 and draws less power than 28 % of it would.
    At 12:15 the kettle leaves no room for the pump, which is off then whatever its starter.
    """
    one = home(
        base(0.5), motor("pump", 1.0, 78.0, allowed=frozenset({"module"}),
                         use=events((12.0, 0.5))),
        load("kettle", 7.4, allowed=frozenset({"module"}), use=events((12.25, 0.25))),
        limits=Limits(allowed_dip=0.36, largest_share=1.0))
    sizes = book(generator(8.0, 2000.0, short_time=1.0),
                 soft_starters=(SoftStarter("soft", "soft starter", 0.28, 40.0, 200.0, 0.0),))
    found = offers_of(one, sizes, sizes.generators[0], "whole-house")
    assert most_at(found, 1e6) == pytest.approx(0.75)
    problem = problems_of(one, sizes)[0]
    assert most_by_model(problem, 1e6, whole_slots=True) >= 0.75 - SAME
