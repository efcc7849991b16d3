"""The plain way: one model with the generator choice inside, one solve per coverage step.

The same rules and the same solver as the planner, without its decomposition by size, its walk, its
search over orders or its bounds. What the model proposes is replayed as it stands. The model knows
no order of turns, so its optimum is only a bound, and the order of a proposal is the one that its
point suggests.
"""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np
import pulp

from planner.model.build import build, maximise_coverage, minimise_cost, read_choice
from planner.model.solver import solve
from tests.benchmarks.entrants import CENT, all_sizes, judged

HAIR = 1e-4  # the next step must cover this much more
COST_GAP = 1e-5  # of some thousand USD: less than any two prices of a book differ


def plain_frontier(home, book, clock, *, gap=0.0, whole_slots=True):
    """Climb from the cheapest plan to the most that can be covered.

    Each step is the least cost for a coverage a hair above the last, then the most coverage for
    that cost. `gap` is the relative gap of coverage at which the solver may stop.

    Returns
    -------
    steps : list of Step
    finished : bool
        False if the clock ended it.
    """
    clock.start()
    steps, finished = [], True
    for tables in all_sizes(home, book):
        plain = _Plain(tables, clock, whole_slots)
        goal = 0.0
        while goal <= 1.0:
            cheapest = plain.least_cost(goal)
            if cheapest is not None and cheapest.infeasible:
                break
            in_time = plain.in_time
            best = None if cheapest is None else plain.most_coverage(plain.usd + CENT, gap)
            if best is None:
                finished = False
                break
            steps.append(plain.step(min(1.0, best.bound), in_time and plain.in_time))
            goal = plain.coverage + HAIR
    return steps, finished


def plain_grid(home, book, clock, *, parts=10, whole_slots=True):
    """Solve for the least cost on a fixed grid of coverages, one solve each.

    The grid goes from what the cheapest plan of the model covers to everything. No plan of a cost
    covers more than the first coverage of the grid that is known to cost more.
    """
    clock.start()
    steps, finished = [], True
    for tables in all_sizes(home, book):
        plain = _Plain(tables, clock, whole_slots)
        found, goals, first = [], [], 0.0
        for part in range(parts + 1):
            goals.append(first + (1.0 - first) * part / parts)
            answer = plain.least_cost(goals[-1])
            if answer is None:
                finished = False
                break
            if answer.infeasible:
                break
            first = first or plain.coverage
            found.append(plain.step(1.0, plain.in_time))
        for step in found:
            dearer = (goal for goal, other in zip(goals, found, strict=False)
                      if other.solved and other.usd > step.usd + CENT)
            steps.append(replace(step, bound=next(dearer, 1.0)))
    return steps, finished


class _Plain:
    """One model of every size, asked again and again; says whether the last solve was in time."""

    def __init__(self, tables, clock, whole_slots):
        self.model = build(tables, whole_slots=whole_slots)
        self.clock, self.in_time = clock, True

    @property
    def usd(self):
        """Cost of the model's point."""
        return float(pulp.value(self.model.cost))

    @property
    def coverage(self):
        """Coverage of the model's point, as the model sees it."""
        return float(pulp.value(self.model.coverage))

    def least_cost(self, goal):
        """Solve for the least cost that covers the goal; None without a point in time."""
        self._forget("budget", 1e9)
        minimise_cost(self.model, goal)
        return self._solve(COST_GAP)

    def most_coverage(self, budget_usd, gap):
        """Solve for the most coverage within the budget; None without a point in time."""
        self._forget("goal", -1e9)
        maximise_coverage(self.model, budget_usd)
        return self._solve(gap)

    def _solve(self, gap):
        limit_s = self.clock.left_s()
        if limit_s <= 0.0:
            return None
        begun = time.perf_counter()
        answer = solve(self.model.problem, seconds=limit_s, gap=gap)
        self.in_time = time.perf_counter() - begun < limit_s
        known = answer.infeasible or (answer.has_point and answer.bound is not None)
        return answer if known else None

    def _forget(self, name, harmless):
        """Loosen a row of an earlier step until it says nothing."""
        for row in self.model.problem.constraints():
            if row.name == name:
                row.changeRHS(harmless)

    def step(self, bound, solved):
        """Price and replay the model's point as it stands."""
        tables, bought = self.model.tables, self.model.chosen.generator
        size = int(np.argmax([_value(bought[g]) for g in range(len(tables.menus))]))
        proposed = read_choice(self.model)
        choice = replace(proposed, order=self._order(proposed))
        return judged(tables, size, choice, bound, solved, usd=self.usd)

    def _order(self, proposed):
        """The order of the point, or the one that it suggests, changed only where a wish asks."""
        wished = self.model.tables.house.before
        left, done = list(proposed.order), []
        while left:
            free = next(i for i in left if not any(wished[k, i] for k in left if k != i))
            left.remove(free)
            done.append(free)
        return tuple(done)


def _value(term):
    return term if isinstance(term, float) else float(term.varValue or 0.0)
