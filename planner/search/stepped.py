"""The frontier of one size where there are too many combinations to sweep.

The model steps down in cost, each step giving a bound for all that cost no more and a proposal for
the replay.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from planner.errors import SolverError
from planner.model.build import Model, build, maximise_coverage, read_choice
from planner.model.solver import solve
from planner.plan.price import price_of
from planner.progress import OnProgress, part_of, unheard
from planner.search.beside import beside
from planner.search.ceiling import Ceiling
from planner.search.orders import with_best_order
from planner.search.problem import Problem
from planner.search.staircase import Point, Staircase
from planner.service.choice import DIRECT, MODULE, Choice
from planner.service.house import KW_ROW

LEAST_STEP_USD = 150.0  # budgets this close are bounded together
GAP = 2e-3  # where the solver may stop; the bound that it then gives still holds
SECONDS = 60.0  # a guard against a runaway solve, far above what homes need
MOST_STEPS = 80


def stepped(
    problem: Problem,
    known: Staircase,
    *,
    tick: OnProgress = unheard,
) -> tuple[tuple[Point, ...], Ceiling]:
    """Step down from the best coverage that money can buy to the cheapest valid plan.

    Parameters
    ----------
    problem : Problem
        The home on one generator.
    known : Staircase
        Points of other sizes; steps whose bound does not beat them are the last that are taken.
    tick : callable, optional
        Told the share done; what it raises ends the search.

    Returns
    -------
    points : tuple of Point
        Valid choices found, not yet free of dominated ones.
    ceiling : Ceiling
        Bound by cost; it holds for every plan of this size.

    Raises
    ------
    SolverError
        If the solver gives neither a bound nor a proof that there is no plan.
    """
    share = 0.0
    model, = beside([lambda _: build(problem.tables, whole_slots=False)], tick)
    points: list[Point] = []
    steps: list[tuple[float, float]] = []
    budget = _most_usd(problem)
    floor_usd = problem.menu.base
    start = budget
    for _ in range(MOST_STEPS):
        maximise_coverage(model, budget)
        told = part_of(tick, share, share)
        answer, = beside([lambda side: solve(model.problem, gap=GAP, seconds=SECONDS,
                                             ended=side.ended)], told)
        if answer.infeasible:
            steps.append((budget, -1.0))
            break
        if answer.bound is None or not answer.has_point:
            msg = f"The solver stopped without a bound ({answer.status}); try another solver."
            raise SolverError(msg)
        steps.append((budget, min(1.0, answer.bound)))
        point = _realised(problem, read_choice(model), told)
        if point is not None:
            points.append(point)
        proposed = _model_usd(model)
        if answer.bound <= known.at(floor_usd):
            break
        budget = min(proposed - 1.0, budget - LEAST_STEP_USD)
        share = min(1.0, (start - budget) / max(start - floor_usd, 1.0))
    return tuple(points), Ceiling(tuple(reversed(steps)))


def _most_usd(problem: Problem) -> float:
    """More than any plan of this size costs."""
    menu = problem.menu
    finite = [float(cost) for row in menu.soft_cost for cost in row if cost < float("inf")]
    modules = [float(cost) for cost in menu.module_cost if cost < float("inf")]
    parts = [part.installed_usd for part in (*menu.transfers, *menu.controllers)]
    return float(menu.base + sum(parts) + sum(modules) + sum(finite) + menu.off_cost.sum())


def _model_usd(model: Model) -> float:
    value = model.cost.value()
    return float("inf") if value is None else float(value)


def _realised(problem: Problem, proposed: Choice, tick: OnProgress) -> Point | None:
    """Give a proposal its best order; repair it if the replay or the code refuses it."""
    choice: Choice | None = proposed
    for _ in range(len(proposed.connection)):
        if choice is None:
            return None
        ordered = with_best_order(problem, choice, tick=tick)
        if ordered is not None and problem.passes_code(ordered):
            price = price_of(problem.menu, ordered)
            coverage = problem.coverage(ordered)
            if price is not None and coverage is not None:
                return Point(price.usd, coverage, ordered)
        choice = _one_more_module(problem, choice)
    return None


def _one_more_module(problem: Problem, choice: Choice) -> Choice | None:
    """Shed the largest load that is direct, may take turns and is needed by none that is direct.

    None if there is no such load.
    """
    kw = problem.house.draw[KW_ROW]
    direct = choice.connection_array() == DIRECT
    needed = problem.house.closure[direct].any(axis=0)
    spare = [i for i in np.flatnonzero(direct & ~needed) if problem.menu.allowed[i, MODULE]]
    if not spare:
        return None
    largest = int(max(spare, key=lambda i: (kw[i], -i)))
    connection = tuple(MODULE if i == largest else how for i, how in enumerate(choice.connection))
    return replace(choice, connection=connection, order=(*choice.order, largest))
