"""The best priority order for given connections and soft starters."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from planner.service.choice import Choice
from planner.study._search import TABLE
from planner.study._sweep import next_better
from planner.study.problem import Problem

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
    house, supply = problem.house, problem.supply
    needs, foes = problem.relations
    tolls = problem.tolls
    keys, member_keys = problem.fingerprints
    start = problem.coverage(choice) if _order_allowed(problem, choice.order) else None
    opened = np.array([-1.0])
    row, _, order, _, _ = next_better(
        0, 0, np.array([choice.connection], dtype=np.int8),
        np.array([choice.soft_start], dtype=np.int8),
        np.array([-1.0 if start is None else start]), 0.0, nodes, problem.value, house.called,
        house.must_run, house.before, house.weights, keys, member_keys, house.calls,
        house.wait_slots, house.draw, supply.caps(house), supply.start_kw, supply.start_kva,
        supply.short_time_kw, supply.startable_kva, needs, foes,
        tolls.rows, tolls.start, tolls.room, np.zeros(TABLE, dtype=np.uint64), np.zeros(TABLE),
        opened,
    )
    if row == 0:
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
                if coverage is not None and (best is None or coverage > best + 1e-9):
                    choice, best, moved = other, coverage, True
    return choice


def _order_allowed(problem: Problem, order: tuple[int, ...]) -> bool:
    before = problem.house.before
    return not any(before[later, earlier] for place, later in enumerate(order)
                   for earlier in order[:place])

