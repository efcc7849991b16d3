"""What can be decided about each load, without what can never pay.

Left out are: a soft starter where no start can bind; a starter that does the same as a cheaper
one, as any two do whose starts always find room. (One that does less for more stays: under a wish
about the order, a start that seldom fits can leave room for others.)
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from planner.search.problem import Problem
from planner.service.choice import DIRECT, MODULE, NO_STARTER, OFF
from planner.service.house import KW_ROW
from planner.service.replay import EPS_KW


@dataclass(frozen=True, slots=True)
class Option:
    """One way to treat a load: its connection, its soft starter, and what that costs [USD]."""

    connection: int
    soft: int
    usd: float


def options_of(problem: Problem) -> list[list[Option]]:
    """Options of every load that can be part of a best plan, shape [n][options]."""
    menu = problem.menu
    found = []
    for i in range(problem.house.count):
        mine: list[Option] = []
        for connection in (DIRECT, MODULE, OFF):
            if not menu.allowed[i, connection]:
                continue
            paid = {DIRECT: 0.0, MODULE: float(menu.module_cost[i]),
                    OFF: float(menu.off_cost[i])}[connection]
            starters = ([NO_STARTER] if connection == OFF
                        else _useful_starters(problem, i, connection))
            mine += [Option(connection, s, paid + float(menu.soft_cost[i, s])) for s in starters]
        found.append(mine)
    return found


def count_of(options: list[list[Option]]) -> int:
    """Number of combinations, before any is ruled out."""
    return math.prod(len(mine) for mine in options)


def _useful_starters(problem: Problem, i: int, connection: int) -> list[int]:
    costs = problem.menu.soft_cost[i]
    fitting = [s for s in range(len(costs)) if costs[s] < math.inf]
    if len(fitting) == 1 or not _start_can_bind(problem, i, connection):
        return [NO_STARTER]
    kw, kva = problem.supply.start_kw[i], problem.supply.start_kva[i]
    effects = [(kw[s], kva[s]) if connection == DIRECT or _turn_can_bind(problem, i, s) else None
               for s in range(len(costs))]
    return [s for s in fitting
            if not any(effects[o] == effects[s] and (costs[o], o) < (costs[s], s)
                       for o in fitting)]


def _turn_can_bind(problem: Problem, i: int, starter: int) -> bool:
    """Whether the start of a load that takes turns can be what there is no room for."""
    supply = problem.supply
    spare_kw = supply.short_time_kw - supply.capacity_kw
    adder_kw = float(supply.start_kw[i, starter] - problem.house.draw[KW_ROW, i])
    return (adder_kw > spare_kw - EPS_KW
            or float(supply.start_kva[i, starter]) > supply.startable_kva - EPS_KW)


def _start_can_bind(problem: Problem, i: int, connection: int) -> bool:
    supply, house = problem.supply, problem.house
    spare_kw = supply.short_time_kw - supply.capacity_kw
    if connection == MODULE:
        return _turn_can_bind(problem, i, 0)
    may_be_direct = problem.menu.allowed[:, DIRECT]
    adders_kw = float((supply.start_kw[:, NO_STARTER] - house.draw[KW_ROW])[may_be_direct].sum())
    all_kva = float(supply.start_kva[may_be_direct, NO_STARTER].sum())
    return adders_kw > spare_kw - EPS_KW or all_kva > supply.startable_kva - EPS_KW
