"""Rules about starting motors."""

from __future__ import annotations

import numpy as np
import pulp

from planner.arrays import Floats
from planner.model.linear import Pair, times, total
from planner.model.on import ROOM, firm_load, firm_on, not_bought, on, power_on, saved
from planner.model.tables import Tables
from planner.model.variables import Variables, short
from planner.service.choice import BY_HAND, DIRECT, NO_STARTER
from planner.service.house import KW_ROW


def takeover_starts_all_direct_motors(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """When the generator takes over, all that can be on without a module may start at once.

    Σ_i v_ig0 · firm_iu − Σ_is (v_ig0 − v_igs) · soft_firm_is ≤ takeover_g for the starting kVA v of
    every set u of loads that can be on in the same slot; with several generators each row holds for
    the one that is bought.
    """
    for g, supply in enumerate(tables.supplies):
        bare = supply.start_kva[:, NO_STARTER]
        for u, one in enumerate(tables.firm_sets):
            slack = float(bare[list(one.loads)].sum()) - supply.takeover_kva
            if slack <= 0.0:
                continue
            softer = [pair for i in one.loads
                      for pair in saved(chosen, i, float(bare[i]), supply.start_kva[i],
                                        float(bare[i]), firm=True)]
            row = total([*firm_on(tables, chosen, u, bare), *times(softer, -1.0),
                         *times(not_bought(tables, chosen, g), -slack)])
            name = f"takeover_{short(supply.generator.id)}_{u}"
            problem += row <= supply.takeover_kva + ROOM, name


def direct_motors_start_beside_the_rest(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """A motor that can be on without a module starts beside all else that can.

    Σ_i kw_i · firm_iu ≤ most − (most − R_mg0 − kw_m) · firm_mu + Σ_s (R_mgs − R_mg0) · soft_ms for
    every motor m of every set u; R is the other load on which it starts, most the largest sum.
    """
    for u, one in enumerate(tables.firm_sets):
        kw = tables.house.draw[one.day, KW_ROW]
        load = firm_on(tables, chosen, u, kw)
        most = min(float(kw[list(one.loads)].sum()), float(tables.caps[:, KW_ROW].max()))
        for m in one.loads:
            started = firm_load(tables, chosen, u, m)
            _starts(problem, tables, chosen, m, f"firm_{u}", (load, started, most, float(kw[m])))


def one_motor_starts_while_the_rest_run(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """Whatever motor is on may start while all else that is on runs.

    Σ_i kw_i · on_it ≤ most − (most − R_mg0 − kw_m) · on_mt + Σ_s (R_mgs − R_mg0) · soft_ms for
    every motor m, slot t and the generator g that is bought; R is the other load on which it
    starts, most the largest sum. (The row is looser with m off and soft-started, and with a starter
    that leaves less room than none.)
    """
    power = (tables.kw * tables.possible).sum(axis=0)
    moving = tables.turns.any(axis=0)
    for m in np.flatnonzero(tables.house.starting_kva).tolist():
        for t in np.flatnonzero(tables.possible[m] & moving).tolist():
            most = min(float(power[t]), float(tables.caps[:, KW_ROW].max()))
            room = min(float(one.room_kw[m, NO_STARTER]) for one in tables.supplies)
            if room + tables.kw[m, t] < most:
                load = power_on(tables, chosen, t, tables.kw[:, t])
                started = on(tables, chosen, m, t)
                _starts(problem, tables, chosen, m, str(t),
                        (load, started, most, float(tables.kw[m, t])))


def _starts(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables, m: int, where: str,
    what: tuple[list[Pair], list[Pair], float, float],
) -> None:
    """Rows of motor m for each generator on which it does not start beside the most."""
    load, started, most, kw = what
    for g, supply in enumerate(tables.supplies):
        total_kw: Floats = supply.room_kw[m] + kw
        excess = most - float(total_kw[NO_STARTER])
        if excess > 0.0 and started:
            helped = saved(chosen, m, -float(total_kw[NO_STARTER]), -total_kw, excess)
            row = total([*load, *times(started, excess), *times(helped, -1.0),
                         *times(not_bought(tables, chosen, g), -excess)])
            name = f"start_{short(tables.house.ids[m])}_{short(supply.generator.id)}_{where}"
            problem += row <= most + ROOM, name


def start_within_the_dip(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """A motor that the generator cannot start at the allowed dip needs a soft starter that helps.

    direct_m + hand_m ≤ 1 − generator_g + Σ_{s: kVA of m with s ≤ V_g} soft_ms for every motor m
    that can ever be on by itself, direct_i ≤ the same for every i that can and needs m, and
    on_mt ≤ the same. (A module load that never starts stays open.)
    """
    for g, supply in enumerate(tables.supplies):
        for m in np.flatnonzero(supply.start_kva[:, NO_STARTER] > supply.startable_kva).tolist():
            helps = [(chosen.soft[m, s], -1.0) for s in chosen.starters.get(m, [])
                     if supply.can_start(float(supply.start_kva[m, s]))]
            rest = [*helps, *times(not_bought(tables, chosen, g), -1.0)]
            name = f"dip_{short(tables.house.ids[m])}_{short(supply.generator.id)}"
            for i in _firm_with(tables, m):
                firm = chosen.firm(m) if i == m else [(chosen.direct[i], 1.0)]
                row = total([*firm, *rest]) <= 0
                problem += row, f"{name}_{short(tables.house.ids[i])}"
            for t in np.flatnonzero(tables.possible[m]).tolist():
                if (m, t) in chosen.run or (m, t) in chosen.awake:
                    row = total([*on(tables, chosen, m, t), *rest]) <= 0
                    problem += row, f"{name}_{t}"


def _firm_with(tables: Tables, m: int) -> list[int]:
    """Load m, and what needs it, where these can ever be on by themselves without a module."""
    ever = tables.house.works.can.any(axis=1) & (
        tables.allowed[:, DIRECT] | tables.allowed[:, BY_HAND])
    return [i for i in np.flatnonzero(ever).tolist() if i == m or (
        tables.house.closure[i, m] and tables.allowed[i, DIRECT])]
