"""Rules about which load is connected how."""

from __future__ import annotations

import numpy as np
import pulp

from planner.model.tables import Tables
from planner.model.variables import Variables, short


def one_generator(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """Exactly one generator and one piece of transfer equipment that suits it are bought.

    Σ_g generator_g = 1, Σ_x transfer_x = 1, and
    generator_g ≤ Σ_{x suits g} transfer_x for every g.
    """
    if len(tables.menus) > 1:
        problem += pulp.lpSum(chosen.generator.values()) == 1, "one_generator"
    problem += pulp.lpSum(chosen.transfer.values()) == 1, "one_transfer"
    from_book = transfers_of_book(tables)
    for g, menu in enumerate(tables.menus):
        suits = {transfer.id for transfer in menu.transfers}
        rest = [chosen.transfer[x] for x, name in enumerate(from_book) if name in suits]
        if len(tables.menus) > 1 and len(rest) < len(from_book):
            row = pulp.lpSum(rest) - chosen.generator[g] >= 0
            problem += row, f"suits_{short(menu.generator.id)}"


def transfers_of_book(tables: Tables) -> list[str]:
    """Ids of the transfer variables, in their order."""
    wanted = {transfer.id for menu in tables.menus for transfer in menu.transfers}
    return [t.id for t in tables.menus[0].book.transfers if t.id in wanted]


def every_load_has_one_connection(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """A load is always connected, or takes turns, or is not on standby power.

    direct_i + module_i + off_i = 1 for every load i.
    """
    for i in np.flatnonzero(~tables.only_direct).tolist():
        row = pulp.lpSum([chosen.direct[i], chosen.module[i], chosen.off[i]]) == 1
        problem += row, f"connection_{short(tables.house.ids[i])}"


def woken_loads_are_connected(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """What a load needs is connected at least as firmly as the load itself.

    direct_i ≤ direct_k and module_i ≤ direct_k + module_k for every i that needs k.
    """
    for i, k in np.argwhere(tables.house.closure).tolist():
        if tables.only_direct[k]:
            continue
        pair = f"{short(tables.house.ids[i])}_{short(tables.house.ids[k])}"
        problem += _sum(chosen.direct[i]) <= chosen.direct[k], f"firm_{pair}"
        firm = pulp.lpSum([chosen.direct[k], chosen.module[k]]) - chosen.module[i] >= 0
        problem += firm, f"needs_{pair}"


def must_run_is_never_off_or_late(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """A must-run load is served in the slot in which it calls.

    off_i = 0, and run_it ≥ module_i for every must-run load i in every slot t in which it calls.
    """
    for i in np.flatnonzero(tables.house.must_run).tolist():
        if not tables.allowed[i, 2]:
            continue
        name = short(tables.house.ids[i])
        for t in np.flatnonzero(tables.house.calls[i]).tolist():
            row = chosen.run[i, t] - chosen.module[i] >= 0
            problem += row, f"must_run_{name}_{t}"


def soft_starter_needs_a_connected_motor(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """A motor gets at most one soft starter, and only if it is on standby power.

    Σ_s soft_is ≤ direct_i + module_i; soft_direct_is ≤ soft_is; Σ_s soft_direct_is ≤ direct_i.
    """
    for i in sorted({load for load, _ in chosen.soft}):
        name = short(tables.house.ids[i])
        mine = [s for load, s in chosen.soft if load == i]
        connected = pulp.lpSum([chosen.direct[i], chosen.module[i]])
        fitted = pulp.lpSum(chosen.soft[i, s] for s in mine)
        problem += fitted - connected <= 0, f"soft_{name}"
        both = pulp.lpSum(chosen.soft_direct[i, s] for s in mine)
        problem += both - _sum(chosen.direct[i]) <= 0, f"soft_direct_{name}"
        for s in mine:
            row = chosen.soft_direct[i, s] - chosen.soft[i, s] <= 0
            problem += row, f"soft_direct_{s}_{name}"


def _sum(term: object) -> pulp.LpAffineExpression:
    return pulp.lpSum([term])
