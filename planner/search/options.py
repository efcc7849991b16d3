"""What can be decided about each load, without what can never pay.

Left out is a soft starter that does the same as a cheaper one, as any two do whose starts always
find room, are always carried at takeover, and can be picked up unannounced whatever else is on.
(One that does less for more stays: a start that seldom fits can leave room for others.)
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from planner.search.problem import Problem
from planner.service.choice import BY_HAND, DIRECT, MODULE, NO_STARTER, OFF
from planner.service.house import KW_ROW
from planner.service.supply import begins_kw
from planner.tolerances import LIMIT

WAYS = (DIRECT, BY_HAND, MODULE, OFF)
"""Connections, in the order in which they are tried where nothing else tells them apart."""


@dataclass(frozen=True, slots=True)
class Option:
    """One way to treat a load: its connection, its soft starter, and what that costs [USD]."""

    connection: int
    soft: int
    usd: float


def ways_of(problem: Problem, i: int) -> tuple[int, ...]:
    """Connections that are open to a load."""
    return tuple(how for how in WAYS if problem.menu.allowed[i, how])


def way_usd(problem: Problem, i: int, how: int) -> float:
    """What a connection of a load costs, without what all loads share [USD]."""
    if how == MODULE:
        return float(problem.menu.module_cost[i])
    return float(problem.menu.off_cost[i]) if how == OFF else 0.0


def options_of(problem: Problem) -> list[list[Option]]:
    """Options of every load that can be part of a best plan, shape [n][options]."""
    found = []
    for i in range(problem.house.count):
        starters = useful_starters(problem, i)
        found.append([
            Option(how, s, way_usd(problem, i, how) + float(problem.menu.soft_cost[i, s]))
            for how in ways_of(problem, i)
            for s in (starters if how in (DIRECT, MODULE) else [NO_STARTER])])
    return found


def count_of(options: list[list[Option]]) -> int:
    """Number of combinations, before any is ruled out."""
    return math.prod(len(mine) for mine in options)


def useful_starters(problem: Problem, i: int) -> list[int]:
    """Soft starters of a load of which none does the same as a cheaper one; `NO_STARTER` first."""
    costs = problem.menu.soft_cost[i]
    fitting = [s for s in range(len(costs)) if costs[s] < math.inf]
    effects = {s: _effect(problem, i, s) for s in fitting}
    return [s for s in fitting
            if not any(effects[o] == effects[s] and (costs[o], o) < (costs[s], s)
                       for o in fitting)]


def _effect(problem: Problem, i: int, s: int) -> tuple[float, bool, float, float]:
    """What a soft starter of a load can change: room, dip, takeover, pick-up."""
    supply = problem.supply
    room_kw = float(supply.room_kw[i, s])
    kva = float(supply.start_kva[i, s])
    firm = problem.menu.allowed[:, DIRECT] | problem.menu.allowed[:, BY_HAND]
    takeover = (bool(firm[i]) and float(supply.start_kva[firm, NO_STARTER].sum())
                > supply.takeover_kva - LIMIT)
    pick_up = may_be_too_much(problem, i)
    return (room_kw if room_kw < supply.capacity_kw + LIMIT else math.inf, supply.can_start(kva),
            kva if takeover or pick_up else 0.0,
            float(supply.start_kw[i, s]) if pick_up else 0.0)


def may_be_too_much(problem: Problem, i: int) -> bool:
    """Whether a start without soft starter that load i is part of may be too much unannounced."""
    house, supply = problem.house, problem.supply
    none = np.full(house.count, NO_STARTER)
    start_kw = supply.start_kw[np.arange(house.count), none]
    begins = begins_kw(house, house.draw[:, KW_ROW, :], start_kw).max(axis=0)
    for b in range(house.count):
        if b != i and not house.closure[b, i]:
            continue
        if not (problem.menu.allowed[b, DIRECT] or supply.blind[b]):
            continue
        parts = [b, *np.flatnonzero(house.closure[b])]
        most_kw = supply.capacity_kw * house.weight.max()
        if (begins[parts].sum() + most_kw > supply.pick_kw - LIMIT
                or supply.start_kva[parts, NO_STARTER].sum() > supply.pick_kva - LIMIT):
            return True
    return False
