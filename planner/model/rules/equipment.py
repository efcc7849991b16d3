"""Rules about what the bought equipment can hold."""

from __future__ import annotations

import pulp

from planner.model.linear import times, total
from planner.model.tables import Tables
from planner.model.variables import Variables, transfers_of


def controller_drives_modules(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """The controller drives at least as many shedding modules as there are; one at most is bought.

    Σ_i (module_i + kept_open_i) ≤ Σ_c modules_c · controller_c, Σ_c controller_c ≤ 1.
    """
    controllers = tables.menus[0].controllers
    used = [(chosen.module[i], 1.0) for i in tables.may_shed.tolist()]
    used += [(kept_open, 1.0) for kept_open in chosen.kept_open.values()]
    driven = [(chosen.controller[c], -float(one.modules)) for c, one in enumerate(controllers)]
    problem += total([*used, *driven]) <= 0, "controller_size"
    if controllers:
        problem += pulp.lpSum(chosen.controller.values()) <= 1, "one_controller"


def positions_hold_circuits(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """With selected circuits each pole of a connected load takes a position.

    Σ_i poles_i · (direct_i + hand_i + module_i) ≤ Σ_x positions_x · transfer_x.
    """
    poles = tables.menus[0].poles
    if not poles.any():
        return
    taken = [pair for i in range(tables.house.count)
             for pair in times(chosen.connected(i), float(poles[i]))]
    held = [(chosen.transfer[x], -float(one.positions))
            for x, one in enumerate(transfers_of(tables))]
    problem += total([*taken, *held]) <= 0, "positions"
