"""Every combination of what can be decided about the loads, with its cost.

A combination leaves the priority order open.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.arrays import Bytes, Floats
from planner.search.beside import Side
from planner.search.loops.direct_sets import direct_sets
from planner.search.options import Option, count_of
from planner.search.problem import Problem
from planner.service.choice import DIRECT, MODULE, NO_STARTER, OFF
from planner.service.house import KW_ROW
from planner.tolerances import SAME_USD

SLICE = 20_000  # combinations priced together
PRICE_DIGITS = 6  # of a dollar: the order in which prices were added makes no difference


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


def combinations_of(
    problem: Problem, options: list[list[Option]], most: int, side: Side | None = None
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
    side : Side, optional
        May end it: it is deaf for seconds where there are many.

    Returns
    -------
    Combinations or None
        None if there are more than `most`.

    Raises
    ------
    Ended
        If it was told to end.
    """
    mine = side or Side()
    sets = _direct_sets(problem, options, most, mine)
    if sets is None:
        return None
    connection, soft, usd = [], [], []
    total = 0
    for direct in sets:
        mine.look()
        open_options = [
            [o for o in mine if (o.connection == DIRECT) == bool(direct[i])]
            for i, mine in enumerate(options)]
        total += count_of(open_options)
        if total > most:
            return None
        if all(open_options):
            for part in _slices(problem, *_products(open_options)):
                mine.look()
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
    """Cheapest first, of equal cost those with the fewest modules; sums of prices are rounded."""
    modules = (connection == MODULE).sum(axis=1)
    usd = np.round(usd, PRICE_DIGITS)
    rows = np.lexsort((modules, usd))
    return Combinations(connection[rows], soft[rows], usd[rows])


def _direct_sets(
    problem: Problem, options: list[list[Option]], most: int, side: Side
) -> NDArray[np.bool_] | None:
    """Sets of loads that can be direct together, shape (S, n); None if there are too many."""
    house, supply, forms = problem.house, problem.supply, problem.demand
    rows = range(house.count)
    gentle = [[o.soft for o in mine if o.connection == DIRECT] or [NO_STARTER] for mine in options]
    adder_kw = np.array([supply.start_kw[i, gentle[i]].min() for i in rows]) - house.draw[KW_ROW]
    start_kva = np.array([supply.start_kva[i, gentle[i]].min() for i in rows])
    ways = [{o.connection for o in mine} for mine in options]
    candidates = np.array([i for i in rows if DIRECT in ways[i] and ways[i] != {DIRECT}],
                          dtype=np.int64)
    always = np.array([way == {DIRECT} for way in ways])
    needs, foes = problem.relations
    sets, complete = direct_sets(
        candidates, always, most, np.array([form.constant_va for form in forms]),
        np.array([form.general_va for form in forms]), np.array([form.groups for form in forms]),
        1000.0 * supply.derated_kw, house.calls, house.draw, supply.caps(house), adder_kw,
        start_kva, supply.short_time_kw, supply.startable_kva, needs, foes,
        side.ended)
    if not complete:
        return None
    direct = np.tile(always, (sets.shape[0], 1))
    direct[:, candidates] = sets
    return direct


def equipment_usd(problem: Problem, connection: Bytes) -> Floats:
    """Transfer equipment and controller for each row of connections, shape (C,); inf if none."""
    menu = problem.menu
    by_count = np.array([[menu.equipment_usd(modules, positions)
                          for positions in range(int(menu.poles.sum()) + 1)]
                         for modules in range(connection.shape[1] + 1)])
    total: Floats = by_count[(connection == MODULE).sum(axis=1), (connection != OFF) @ menu.poles]
    return total


def _wakes_connected(problem: Problem, connection: Bytes) -> NDArray[np.bool_]:
    fine = np.ones(connection.shape[0], dtype=np.bool_)
    for i, k in np.argwhere(problem.house.closure):
        direct = connection[:, i] == DIRECT
        fine &= ~direct | (connection[:, k] == DIRECT)
        fine &= (connection[:, i] != MODULE) | (connection[:, k] != OFF)
    return fine


def _better_shed_than_moved(problem: Problem, connection: Bytes) -> NDArray[np.bool_]:
    """Whether shedding the relocated loads too, last in the order, costs less.

    Nothing stands behind them, so they take room from nobody and can only be served more. (Where it
    costs the same and serves no more, the plan with fewer modules wins.)
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
                       < off_usd + equipment_usd(problem, connection[rows]) - SAME_USD)
    return worse
