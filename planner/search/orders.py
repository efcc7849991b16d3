"""The best priority order for given connections and soft starters."""

from __future__ import annotations

from dataclasses import replace

from planner.progress import OnProgress, unheard
from planner.search.desk import desk_of
from planner.search.ground import Ground
from planner.search.problem import Problem
from planner.service.choice import Choice
from planner.tolerances import SAME_COVERAGE

NODES = 4_000


def with_best_order(
    problem: Problem, choice: Choice, nodes: int = NODES, *, tick: OnProgress = unheard
) -> Choice | None:
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
    tick : callable, optional
        Called while it goes on.

    Returns
    -------
    Choice or None
        None if the choice is not valid in any order that was tried.
    """
    ground = Ground(problem, desk_of(problem.house))
    node = ground.node_of(choice)
    if node is None:
        return None
    start = problem.coverage(choice) if _order_allowed(problem, choice.order) else None
    bar = -1.0 if start is None else start
    found = ground.search(ground.asked(node), node.soft, bar, tick, first=False, nodes=nodes)
    if found.order is not None:
        better = replace(ground.choice(node, found.order), soft_start=choice.soft_start,
                         kept_open=choice.kept_open)
    elif start is None:
        return None
    else:
        better = choice
    ended = found.bound <= found.coverage + SAME_COVERAGE
    return better if ended else _moved(problem, better, tick)


def _moved(problem: Problem, choice: Choice, tick: OnProgress) -> Choice:
    """Move single loads up and down the order as long as coverage rises."""
    best = problem.coverage(choice)
    moved = True
    while moved:
        moved = False
        for place in range(len(choice.order)):
            tick(0.0)
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


