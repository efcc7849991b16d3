"""What can be decided about each load, and every combination of it with its cost.

A combination leaves the priority order open. Options that can never pay are left out first: a soft
starter where no start can bind, a starter that does the same as a cheaper one, as any two do whose
starts always find room. (One that does less for more stays: under a wish about the order, a start
that seldom fits can leave room for others.)
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.service.choice import DIRECT, MODULE, OFF
from planner.service.replay import EPS_KW
from planner.study._directs import direct_sets
from planner.study.problem import Problem

Bytes = NDArray[np.int8]
Floats = NDArray[np.float64]

SLICE = 20_000  # combinations priced together


@dataclass(frozen=True, slots=True)
class Option:
    """One way to treat a load: its connection, its soft starter, and what that costs [USD]."""

    connection: int
    soft: int
    usd: float


@dataclass(frozen=True)
class Combinations:
    """Combinations of options, cheapest first.

    Attributes
    ----------
    connection, soft : ndarray of int8, shape (C, n)
    usd : ndarray of float, shape (C,)
        Installed cost of each.
    """

    connection: Bytes
    soft: Bytes
    usd: Floats

    def take(self, rows: NDArray[np.int64]) -> Combinations:
        """Some of them, in the order of the rows."""
        return Combinations(self.connection[rows], self.soft[rows], self.usd[rows])


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
            starters = [0] if connection == OFF else _useful_starters(problem, i, connection)
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
        return [0]
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
    adder_kw = float(supply.start_kw[i, starter] - problem.house.draw[0, i])
    return (adder_kw > spare_kw - EPS_KW
            or float(supply.start_kva[i, starter]) > supply.startable_kva - EPS_KW)


def _start_can_bind(problem: Problem, i: int, connection: int) -> bool:
    supply, house = problem.supply, problem.house
    spare_kw = supply.short_time_kw - supply.capacity_kw
    if connection == MODULE:
        return _turn_can_bind(problem, i, 0)
    may_be_direct = problem.menu.allowed[:, DIRECT]
    adders_kw = float((supply.start_kw[:, 0] - house.draw[0])[may_be_direct].sum())
    all_kva = float(supply.start_kva[may_be_direct, 0].sum())
    return adders_kw > spare_kw - EPS_KW or all_kva > supply.startable_kva - EPS_KW


def combinations_of(
    problem: Problem, options: list[list[Option]], most: int
) -> Combinations | None:
    """Every combination that the wiring, the price book and the direct loads' limits allow.

    First the sets of loads that can be direct together, each motor taken at its gentlest start;
    then, for each set, every way to treat the rest and every soft starter.

    Parameters
    ----------
    problem : Problem
        The home on one generator.
    options : list of list of Option
        From `options_of`.
    most : int
        Where it gives up.

    Returns
    -------
    Combinations or None
        None if there are more than `most`.
    """
    sets = _direct_sets(problem, options, most)
    if sets is None:
        return None
    connection, soft, usd = [], [], []
    total = 0
    for direct in sets:
        open_options = [
            [o for o in mine if (o.connection == DIRECT) == bool(direct[i])]
            for i, mine in enumerate(options)]
        total += count_of(open_options)
        if total > most:
            return None
        if all(open_options):
            for part in _slices(problem, *_products(open_options)):
                connection.append(part[0])
                soft.append(part[1])
                usd.append(part[2])
    if not usd:
        shape = (0, len(options))
        return Combinations(np.zeros(shape, np.int8), np.zeros(shape, np.int8), np.zeros(0))
    return _sorted(np.concatenate(connection), np.concatenate(soft), np.concatenate(usd))


def _products(options: list[list[Option]]) -> tuple[Bytes, Bytes, Floats]:
    """Connections, soft starters and their price for every pick of one option per load."""
    open_loads = [i for i, mine in enumerate(options) if len(mine) > 1]
    picks = np.indices([len(options[i]) for i in open_loads], dtype=np.int8)
    picks = picks.reshape(len(open_loads), -1) if open_loads else np.zeros((0, 1), dtype=np.int8)
    connection = np.empty((picks.shape[1], len(options)), dtype=np.int8)
    soft = np.empty_like(connection)
    usd = np.zeros(picks.shape[1])
    for i, mine in enumerate(options):
        pick = picks[open_loads.index(i)] if len(mine) > 1 else np.zeros(1, dtype=np.int8)
        connection[:, i] = np.array([option.connection for option in mine], dtype=np.int8)[pick]
        soft[:, i] = np.array([option.soft for option in mine], dtype=np.int8)[pick]
        usd += np.array([option.usd for option in mine])[pick]
    return connection, soft, usd


def _slices(
    problem: Problem, connection: Bytes, soft: Bytes, usd: Floats
) -> Iterator[tuple[Bytes, Bytes, Floats]]:
    """Add equipment, drop what the wiring forbids or another beats; some at a time, for memory."""
    for start in range(0, len(usd), SLICE):
        some = slice(start, start + SLICE)
        whole = usd[some] + problem.menu.base + equipment_usd(problem, connection[some])
        keep = np.isfinite(whole) & _wakes_connected(problem, connection[some])
        keep &= ~_better_shed_than_moved(problem, connection[some])
        yield connection[some][keep], soft[some][keep], whole[keep]


def _sorted(connection: Bytes, soft: Bytes, usd: Floats) -> Combinations:
    modules = (connection == MODULE).sum(axis=1)
    rows = np.lexsort((modules, usd))
    return Combinations(connection[rows], soft[rows], usd[rows])


def _direct_sets(
    problem: Problem, options: list[list[Option]], most: int
) -> NDArray[np.bool_] | None:
    """Sets of loads that can be direct together, shape (S, n); None if there are too many."""
    house, supply, form = problem.house, problem.supply, problem.demand
    rows = range(house.count)
    gentle = [[o.soft for o in mine if o.connection == DIRECT] or [0] for mine in options]
    adder_kw = np.array([supply.start_kw[i, gentle[i]].min() for i in rows]) - house.draw[0]
    start_kva = np.array([supply.start_kva[i, gentle[i]].min() for i in rows])
    ways = [{o.connection for o in mine} for mine in options]
    candidates = np.array([i for i in rows if DIRECT in ways[i] and ways[i] != {DIRECT}],
                          dtype=np.int64)
    always = np.array([way == {DIRECT} for way in ways])
    groups = np.array(form.groups) if form.groups else np.zeros((0, house.count))
    needs, foes = problem.relations
    sets, complete = direct_sets(
        candidates, always, most, form.constant_va, form.general_va, groups,
        1000.0 * supply.derated_kw, house.calls, house.draw, supply.caps(house), adder_kw,
        start_kva, supply.short_time_kw, supply.startable_kva, needs, foes)
    if not complete:
        return None
    direct = np.tile(always, (sets.shape[0], 1))
    direct[:, candidates] = sets
    return direct


def equipment_usd(problem: Problem, connection: Bytes) -> Floats:
    """Transfer equipment and controller for each row of connections, shape (C,); inf if none."""
    menu = problem.menu
    modules = (connection == MODULE).sum(axis=1)
    by_count = np.array([0.0] + [
        next((c.price + c.installation for c in menu.controllers if c.modules >= m), math.inf)
        for m in range(1, connection.shape[1] + 1)])
    poles = (connection != OFF) @ menu.poles
    by_poles = np.array([
        next((t.price + t.installation for t in menu.transfers
              if not menu.poles.any() or t.positions >= p), math.inf)
        for p in range(int(menu.poles.sum()) + 1)])
    total: Floats = by_count[modules] + by_poles[poles]
    return total


def _wakes_connected(problem: Problem, connection: Bytes) -> NDArray[np.bool_]:
    fine = np.ones(connection.shape[0], dtype=np.bool_)
    for i, k in np.argwhere(problem.house.closure):
        direct = connection[:, i] == DIRECT
        fine &= ~direct | (connection[:, k] == DIRECT)
        fine &= (connection[:, i] != MODULE) | (connection[:, k] != OFF)
    return fine


def _better_shed_than_moved(problem: Problem, connection: Bytes) -> NDArray[np.bool_]:
    """Whether shedding the relocated loads too, last in the order, costs no more.

    Nothing stands behind them, so they take room from nobody and can only be served more.
    """
    off = connection == OFF
    movable = off & problem.menu.allowed[:, MODULE]
    worse = np.zeros(connection.shape[0], dtype=np.bool_)
    may_be_last = ~problem.house.before.any(axis=1)
    rows = np.flatnonzero(movable.any(axis=1) & (movable == off).all(axis=1)
                          & (may_be_last | ~movable).all(axis=1))
    if rows.size:
        shed = np.where(movable[rows], MODULE, connection[rows]).astype(np.int8)
        module_usd = np.where(movable[rows], problem.menu.module_cost, 0.0).sum(axis=1)
        off_usd = np.where(movable[rows], problem.menu.off_cost, 0.0).sum(axis=1)
        worse[rows] = (module_usd + equipment_usd(problem, shed)
                       <= off_usd + equipment_usd(problem, connection[rows]))
    return worse
