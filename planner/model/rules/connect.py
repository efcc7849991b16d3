"""Rules about which load is connected how."""

from __future__ import annotations

import numpy as np
import pulp

from planner.model.linear import says_something, total
from planner.model.tables import Tables
from planner.model.variables import Variables, short, transfers_of
from planner.service.choice import MODULE


def one_generator(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """Exactly one generator and one piece of transfer equipment that suits it are bought.

    Σ_g generator_g = 1, Σ_x transfer_x = 1, and
    generator_g ≤ Σ_{x suits g} transfer_x for every g.
    """
    if len(tables.menus) > 1:
        problem += pulp.lpSum(chosen.generator.values()) == 1, "one_generator"
    problem += pulp.lpSum(chosen.transfer.values()) == 1, "one_transfer"
    offered = transfers_of(tables)
    for g, menu in enumerate(tables.menus):
        suits = {transfer.id for transfer in menu.transfers}
        rest = [chosen.transfer[x] for x, one in enumerate(offered) if one.id in suits]
        if len(tables.menus) > 1 and len(rest) < len(offered):
            row = pulp.lpSum(rest) - chosen.generator[g] >= 0
            problem += row, f"suits_{short(menu.generator.id)}"


def every_load_has_one_connection(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """A load is always connected, takes turns, is opened by hand, or is not on standby power.

    direct_i + module_i + hand_i + off_i = 1 for every load i; hand_i only where its comfort is of
    importance 0.
    """
    for i in np.flatnonzero(~tables.only_direct).tolist():
        row = total([*chosen.connected(i), (chosen.off[i], 1.0)]) == 1
        problem += row, f"connection_{short(tables.house.ids[i])}"


def modules_that_sense_are_modules(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """A dearer module that senses its call stands where a load has a module.

    sensing_i ≤ module_i.
    """
    for i, sensing in chosen.sensing.items():
        row = total([(chosen.module[i], 1.0), (sensing, -1.0)]) >= 0
        problem += row, f"sensing_{short(tables.house.ids[i])}"


def modules_that_stay_open_leave_a_load_off(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """A module that stays open is that of a load which is off, in the place of a relocation.

    kept_open_i ≤ off_i.
    """
    for i, kept_open in chosen.kept_open.items():
        row = total([(chosen.off[i], 1.0), (kept_open, -1.0)]) >= 0
        problem += row, f"kept_open_{short(tables.house.ids[i])}"


def woken_loads_are_connected(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """What a load needs is connected at least as firmly as the load itself.

    direct_i ≤ direct_k and module_i ≤ direct_k + module_k for every i that needs k.
    """
    for i, k in np.argwhere(tables.house.closure).tolist():
        if tables.only_direct[k]:
            continue
        pair = f"{short(tables.house.ids[i])}_{short(tables.house.ids[k])}"
        firm = total([(chosen.direct[k], 1.0), (chosen.direct[i], -1.0)])
        needs = total([(chosen.direct[k], 1.0), (chosen.module[k], 1.0), (chosen.module[i], -1.0)])
        for row, name in ((firm, f"firm_{pair}"), (needs, f"needs_{pair}")):
            if says_something(row):
                problem += row >= 0, name


def direct_loads_stand_ahead(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """A direct load stands ahead of every module: so it may not, if it has to stand behind one.

    direct_k + module_i ≤ 1 where i stands ahead of k: an earlier stage of its room, or "k never
    before i".
    """
    for i, k in np.argwhere(tables.house.wished).tolist():
        row = total([(chosen.direct[k], 1.0), (chosen.module[i], 1.0)])
        if says_something(row):
            pair = f"{short(tables.house.ids[i])}_{short(tables.house.ids[k])}"
            problem += row <= 1, f"ahead_{pair}"


def must_run_is_never_refused(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """A must-run load runs wherever it calls, just as if it were alone.

    share_it ≥ ran_it · module_i, run_it ≥ module_i for every must-run load i and every slot t in
    which it calls when it is never refused, ran_it being the share of it that it then runs.
    module_i = 0 where one of these slots has no room for it. (It is never off nor opened by hand:
    these are not open to it.)
    """
    never = (tables.owed & ~tables.turns).any(axis=1) & tables.allowed[:, MODULE]
    for i in np.flatnonzero(never).tolist():
        problem += total([(chosen.module[i], 1.0)]) <= 0, f"owed_{short(tables.house.ids[i])}"
    for i, t in np.argwhere(tables.owed & tables.turns).tolist():
        name = f"{short(tables.house.ids[i])}_{t}"
        share = float(tables.alone.ran[i, tables.slots.replayed[t]])
        if share < 1.0:
            row = total([(chosen.share[i, t], 1.0), (chosen.module[i], -share)]) >= 0
            problem += row, f"owed_share_{name}"
        if share == 1.0 or chosen.whole_slots:
            row = total([(chosen.run[i, t], 1.0), (chosen.module[i], -1.0)]) >= 0
            problem += row, f"owed_{name}"


def soft_starter_needs_a_connected_motor(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """A motor gets at most one soft starter, and only if it is on standby power.

    Σ_s soft_is ≤ direct_i + hand_i + module_i; soft_firm_is ≤ soft_is;
    Σ_s soft_firm_is ≤ direct_i + hand_i.
    """
    for i, fitting in chosen.starters.items():
        name = short(tables.house.ids[i])
        fitted = [(chosen.soft[i, s], -1.0) for s in fitting]
        problem += total([*chosen.connected(i), *fitted]) >= 0, f"soft_{name}"
        both = [(chosen.soft_firm[i, s], -1.0) for s in fitting]
        problem += total([*chosen.firm(i), *both]) >= 0, f"soft_firm_{name}"
        for s in fitting:
            row = total([(chosen.soft_firm[i, s], 1.0), (chosen.soft[i, s], -1.0)]) <= 0
            problem += row, f"soft_firm_{s}_{name}"
