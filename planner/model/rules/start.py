"""Rules about starting motors."""

from __future__ import annotations

import numpy as np
import pulp

from planner.model.rules.power import ROOM, on_terms, possibly_on
from planner.model.tables import Tables
from planner.model.variables import Variables, short
from planner.service.choice import DIRECT, NO_STARTER
from planner.service.house import KW_ROW


def takeover_starts_all_direct_motors(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """When the generator takes over, every always-connected motor that calls may start at once.

    Σ_i kw_i · call_it · direct_i + Σ_i adder_ig0 · call_it · direct_i
    − Σ_is (adder_ig0 − adder_igs) · call_it · soft_direct_is ≤ Ks_g, and the same with kVA ≤ V_g,
    for every slot t; with several generators each row holds for the one that is bought.
    """
    calls = tables.house.calls
    for g, supply in enumerate(tables.supplies):
        kw = tables.house.draw[KW_ROW]
        full_kw = kw + np.maximum(tables.adders[g][:, NO_STARTER], 0.0)
        for what, full, by_soft, cap in (
            ("kw", full_kw, supply.start_kw, supply.short_time_kw),
            ("kva", supply.start_kva[:, NO_STARTER], supply.start_kva, supply.startable_kva),
        ):
            most = full * tables.allowed[:, DIRECT] @ calls
            for t in _worst_slots(calls, tables, np.flatnonzero(most > cap)):
                live = np.flatnonzero(calls[:, t] & tables.allowed[:, DIRECT]).tolist()
                terms = [float(full[i]) * chosen.direct[i] for i in live]
                terms += [-float(full[i] - _soft_value(what, by_soft, kw, int(i), s)) * var
                          for (i, s), var in chosen.soft_direct.items() if calls[i, t]]
                slack = float(most[t] - cap)
                row = pulp.lpSum(terms) - slack * _not_bought(tables, chosen, g) <= cap + ROOM
                problem += row, f"takeover_{what}_{short(supply.generator.id)}_{t}"


def _soft_value(
    what: str, by_soft: np.ndarray, kw: np.ndarray, i: int, s: int
) -> float:
    return max(float(by_soft[i, s]), float(kw[i]) if what == "kw" else 0.0)


def _worst_slots(calls: np.ndarray, tables: Tables, slots: np.ndarray) -> list[int]:
    """Slots whose set of calling loads is not part of another slot's set: the others follow."""
    sets: dict[frozenset[int], int] = {}
    for t in slots:
        key = frozenset(np.flatnonzero(calls[:, t] & tables.allowed[:, DIRECT]).tolist())
        sets.setdefault(key, int(t))
    return sorted(t for key, t in sets.items() if not any(key < other for other in sets))


def one_motor_starts_while_the_rest_run(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """Whatever motor is on may start while all else that is on runs.

    Σ_i kw_i · on_it + adder_mg0 · on_mt − Σ_s max(0, adder_mg0 − adder_mgs) · soft_ms ≤ Ks_g for
    every motor m, slot t and the generator g that is bought. (The row is looser than the rule with
    m off and soft-started, and with a starter that raises the power of a start which, without it,
    would collapse the voltage.)
    """
    possible = possibly_on(tables, chosen)
    kw = tables.house.draw[KW_ROW]
    for g, supply in enumerate(tables.supplies):
        for m in np.flatnonzero(tables.house.starting_kva):
            adder = float(tables.adders[g][m, 0])
            most = kw @ possible + adder * possible[m]
            tight = np.flatnonzero((most > supply.short_time_kw) & (possible[m] > 0))
            name = f"{short(tables.house.ids[m])}_{short(supply.generator.id)}"
            saved = [-max(0.0, adder - float(tables.adders[g][m, s])) * var
                     for (i, s), var in chosen.soft.items() if i == m]
            for t in tight:
                terms = [float(kw[i]) * term for i in np.flatnonzero(possible[:, t]).tolist()
                         for term in on_terms(tables, chosen, int(i), int(t))]
                terms += [adder * term for term in on_terms(tables, chosen, int(m), int(t))]
                slack = float(most[t]) - supply.short_time_kw
                row = (pulp.lpSum(terms + saved) - slack * _not_bought(tables, chosen, g)
                       <= supply.short_time_kw + ROOM)
                problem += row, f"start_{name}_{t}"


def start_within_the_dip(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """A motor that the generator cannot start at the allowed dip needs a soft starter that helps.

    module_m + direct_m ≤ 1 − generator_g + Σ_{s: kVA of m with s ≤ V_g} soft_ms for every motor m
    of which some call can be served only by starting it. A module load that never starts stays
    open, so only its runs are held: run_mt ≤ the same right-hand side.
    """
    for g, supply in enumerate(tables.supplies):
        for m in np.flatnonzero(supply.start_kva[:, NO_STARTER] > supply.startable_kva).tolist():
            helps = [var for (i, s), var in chosen.soft.items()
                     if i == m and supply.start_kva[m, s] <= supply.startable_kva]
            name = f"{short(tables.house.ids[m])}_{short(supply.generator.id)}"
            rest = pulp.lpSum([*helps, _not_bought(tables, chosen, g)])
            if tables.house.calls[m].any() and tables.allowed[m, 1]:
                problem += pulp.lpSum([chosen.direct[m]]) - rest <= 0, f"dip_{name}"
            for (i, t), run in chosen.run.items():
                if i == m:
                    problem += run - rest <= 0, f"dip_{name}_{t}"


def _not_bought(tables: Tables, chosen: Variables, g: int) -> pulp.LpAffineExpression:
    several = len(tables.menus) > 1
    return pulp.lpSum([1.0, -1.0 * chosen.generator[g]] if several else [])
