"""Rules about what the bought equipment can hold."""

from __future__ import annotations

import pulp

from planner.model.rules.connect import transfers_of_book
from planner.model.tables import Tables
from planner.model.variables import Variables


def controller_drives_modules(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """The controller drives at least as many shedding modules as there are; one at most is bought.

    Σ_i module_i ≤ Σ_c modules_c · controller_c, Σ_c controller_c ≤ 1.
    """
    controllers = tables.menus[0].controllers
    used = pulp.lpSum(chosen.module[i] for i in tables.may_shed)
    driven = pulp.lpSum(c.modules * chosen.controller[k] for k, c in enumerate(controllers))
    problem += used - driven <= 0, "controller_size"
    if controllers:
        problem += pulp.lpSum(chosen.controller.values()) <= 1, "one_controller"


def positions_hold_circuits(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """With selected circuits each pole of a connected load takes a position.

    Σ_i poles_i · (direct_i + module_i) ≤ Σ_x positions_x · transfer_x.
    """
    poles = tables.menus[0].poles
    if not poles.any():
        return
    wanted = transfers_of_book(tables)
    size = {transfer.id: transfer.positions for transfer in tables.menus[0].book.transfers}
    taken = pulp.lpSum(int(poles[i]) * term for i in range(tables.house.count)
                       for term in (chosen.direct[i], chosen.module[i]))
    held = pulp.lpSum(size[name] * chosen.transfer[x] for x, name in enumerate(wanted))
    problem += taken - held <= 0, "positions"
