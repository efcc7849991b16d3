"""What can be decided about each load, without what can never pay.

Left out is a soft starter that does the same as a cheaper one, as any two do whose starts always
find room, are always carried at takeover, and can be picked up unannounced whatever else is on.
(One that does less for more stays: a start that seldom fits can leave room for others.)
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools
from planner.search.problem import Problem
from planner.service.choice import BY_HAND, DIRECT, MODULE, NO_STARTER, OFF
from planner.service.house import KW_ROW
from planner.service.supply import begins_kw
from planner.tolerances import LIMIT

SENSING = 4
"""Behind a module that senses its call, where the cheapest does not: in the search a connection."""
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
    """What a connection of a load costs at least, without what all loads share [USD].

    One that is off is moved, or its module stays open (`planner.plan.keeping`).
    """
    if how == SENSING:
        return float(problem.menu.sensing_cost[i])
    if how == MODULE:
        return float(problem.menu.module_cost[i])
    menu = problem.menu
    return float(min(menu.off_cost[i], menu.keep_cost[i])) if how == OFF else 0.0


def options_of(problem: Problem) -> list[list[Option]]:
    """Options of every load that can be part of a best plan, shape [n][options]."""
    return [
        [Option(how, s, way_usd(problem, i, how) + float(problem.menu.soft_cost[i, s]))
         for how in ways_of(problem, i)
         for s in (mine if how in (DIRECT, MODULE) else [NO_STARTER])]
        for i, mine in enumerate(useful_starters(problem))]


def count_of(options: list[list[Option]]) -> int:
    """Number of combinations, before any is ruled out."""
    return math.prod(len(mine) for mine in options)


def useful_starters(problem: Problem) -> list[list[int]]:
    """Soft starters of each load, of which none does the same as a cheaper one; none first."""
    menu, supply = problem.menu, problem.supply
    firm = menu.allowed[:, DIRECT] | menu.allowed[:, BY_HAND]
    takeover = supply.start_kva[firm, NO_STARTER].sum() > supply.takeover_kva - LIMIT
    pick_up = _may_be_too_much(problem)
    found = []
    for i, costs in enumerate(menu.soft_cost.tolist()):
        fitting = [s for s, usd in enumerate(costs) if usd < math.inf]
        if len(fitting) > 1:
            at_once = bool(pick_up[i] or (firm[i] and takeover))
            effects = {s: _effect(problem, i, s, at_once, bool(pick_up[i])) for s in fitting}
            fitting = [s for s in fitting
                       if not any(effects[o] == effects[s] and (costs[o], o) < (costs[s], s)
                                  for o in fitting)]
        found.append(fitting)
    return found


def _effect(
    problem: Problem, i: int, s: int, at_once: bool, pick_up: bool
) -> tuple[float, bool, float, float]:
    """What a soft starter of a load can change: its room, its dip, takeover, pick-up."""
    supply = problem.supply
    room_kw, kva = float(supply.room_kw[i, s]), float(supply.start_kva[i, s])
    return (room_kw if room_kw < supply.capacity_kw + LIMIT else math.inf, supply.can_start(kva),
            kva if at_once else 0.0, float(supply.start_kw[i, s]) if pick_up else 0.0)


def heaviest_kw(problem: Problem) -> float:
    """Most that what is on can count beside a start that nobody announced [kW]."""
    return problem.supply.capacity_kw * float(problem.house.weight.max())


def sensing_pays(problem: Problem) -> Bools:
    """Loads behind whose cheapest module a start may be too much, and a dearer one senses; (n,)."""
    offered = np.array([kind is not None for kind in problem.menu.sensing_kind], dtype=np.bool_)
    return np.asarray(_too_much(problem) & offered & problem.menu.allowed[:, MODULE])


def _may_be_too_much(problem: Problem) -> Bools:
    """Loads part of a start, without soft starter, that may be too much unannounced, shape (n,)."""
    house = problem.house
    needs = house.closure | np.eye(house.count, dtype=np.bool_)
    return np.asarray(needs[_too_much(problem)].any(axis=0))


def _too_much(problem: Problem) -> Bools:
    """Loads whose start, without soft starter, may be too much where nobody announced it, (n,)."""
    house, supply = problem.house, problem.supply
    needs = house.closure | np.eye(house.count, dtype=np.bool_)
    begins = begins_kw(house, house.draw[:, KW_ROW, :], supply.start_kw[:, NO_STARTER]).max(axis=0)
    unannounced: Bools = np.asarray(problem.menu.allowed[:, DIRECT] | supply.blind)
    return np.asarray(unannounced & (
        (needs @ begins + heaviest_kw(problem) > supply.pick_kw - LIMIT)
        | (needs @ supply.start_kva[:, NO_STARTER] > supply.pick_kva - LIMIT)))
