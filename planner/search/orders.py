"""The best priority order for given connections and soft starters."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from planner.search.loops.next_better import next_better
from planner.search.loops.workspace import workspace_for
from planner.search.problem import Problem
from planner.service.choice import Choice
from planner.tolerances import SAME_COVERAGE

NODES = 4_000


def with_best_order(problem: Problem, choice: Choice, nodes: int = NODES) -> Choice | None:
    """Give a choice the best order that the search finds within its nodes.

    Parameters
    ----------
    problem : Problem
        The home on one generator.
    choice : Choice
        Its order is the start.
    nodes : int
        Nodes of the exact search; if they run out, the order is bettered by moving one load at a
        time until no move helps.

    Returns
    -------
    Choice or None
        None if the choice is not valid in any order that was tried.
    """
    found = _search(problem, choice, nodes)
    if found is None:
        return None
    better, ended = found
    return better if ended else _moved(problem, better)


def _search(problem: Problem, choice: Choice, nodes: int) -> tuple[Choice, bool] | None:
    """Exact search; the choice with the best order seen, and whether the search ended."""
    start = problem.coverage(choice) if _order_allowed(problem, choice.order) else None
    opened = np.array([-1.0])
    row, covered, order, _, _ = next_better(
        0, 0, np.array([choice.connection], dtype=np.int8),
        np.array([choice.soft_start], dtype=np.int8),
        np.array([-1.0 if start is None else start]), 0.0, nodes, 10 * nodes, problem.inputs,
        workspace_for(problem.inputs), opened,
    )
    if row == 0 and covered >= 0.0:
        return replace(choice, order=tuple(int(i) for i in order)), opened[0] < 0.0
    return None if start is None else (choice, opened[0] < 0.0)


def _moved(problem: Problem, choice: Choice) -> Choice:
    """Move single loads up and down the order as long as coverage rises."""
    best = problem.coverage(choice)
    moved = True
    while moved:
        moved = False
        for place in range(len(choice.order)):
            for to in range(len(choice.order)):
                order = list(choice.order)
                order.insert(to, order.pop(place))
                if to == place or not _order_allowed(problem, tuple(order)):
                    continue
                other = replace(choice, order=tuple(order))
                coverage = problem.coverage(other)
                if coverage is not None and (best is None or coverage > best + SAME_COVERAGE):
                    choice, best, moved = other, coverage, True
    return choice


def _order_allowed(problem: Problem, order: tuple[int, ...]) -> bool:
    before = problem.house.before
    return not any(before[later, earlier] for place, later in enumerate(order)
                   for earlier in order[:place])

