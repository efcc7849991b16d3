"""The rule of starts that nobody announced."""

from __future__ import annotations

import numpy as np
import pulp

from planner.arrays import Floats
from planner.model.linear import Pair, says_something, times, total
from planner.model.on import ROOM, not_bought, power_on, saved
from planner.model.tables import Tables
from planner.model.variables import Variables, short
from planner.service.choice import DIRECT, MODULE, NO_STARTER
from planner.service.house import KW_ROW
from planner.service.supply import Supply, begins_kw


def unannounced_starts_are_picked_up(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """What starts before anything was shed for it is picked up beside what is on.

    For every load b that is direct, or behind a module that does not sense its call, in every slot
    t in which it is known to begin to call: with B what b and all it needs count in their first
    second, Σ_i weighed_i · on_it + B ≤ pick_g over all other loads i, and the same with on_i(t−1);
    weighed is the kW, of electronics by a third more;
    Σ_k v_kg ≤ pick_kva_g for the starting kVA of b and all it needs. Soft starters take off their
    part; slack · (1 − direct_b − module_b + sensing_b) frees what is neither. (Known is every call
    of a direct load, the clock's, the first of a store in a spell, the beginning of a task; the
    others of a load behind a module hang on what was refused.)
    """
    for g, supply in enumerate(tables.supplies):
        begins = _begins(tables, supply)
        for b in range(tables.house.count):
            by_itself, behind = (calls[b] for calls in tables.first_calls)
            behind = behind & bool(supply.blind[b] and tables.allowed[b, MODULE])
            by_itself = by_itself & bool(tables.allowed[b, DIRECT])
            if not (by_itself | behind).any():
                continue
            _dips(problem, tables, chosen, (g, b), (bool(by_itself.any()), bool(behind.any())))
            for slot in np.flatnonzero(by_itself | behind).tolist():
                t = tables.slots.planned(slot)
                if t >= 0:
                    starts = _starting(chosen, b, bool(by_itself[slot]), bool(behind[slot]))
                    _picked_up(problem, tables, chosen, (g, b, t), starts, begins)


def _begins(tables: Tables, supply: Supply) -> Floats:
    """First second of every load without and with each soft starter, shape (D, n, 1 + S) [kW]."""
    running = tables.house.draw[:, KW_ROW, :]
    return np.stack([begins_kw(tables.house, running, supply.start_kw[:, s])
                     for s in range(supply.start_kw.shape[1])], axis=2)


def _starting(chosen: Variables, b: int, by_itself: bool, behind: bool) -> list[Pair]:
    """Terms whose sum is 1 when load b may start unannounced."""
    ways = [(chosen.direct[b], 1.0, by_itself), (chosen.module[b], 1.0, behind),
            (chosen.sensing.get(b, 0.0), -1.0, behind)]
    return [(term, sign) for term, sign, may in ways if may]


def _dips(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables, who: tuple[int, int],
    ways: tuple[bool, bool],
) -> None:
    g, b = who
    supply = tables.supplies[g]
    group = [b, *np.flatnonzero(tables.house.closure[b]).tolist()]
    bare = supply.start_kva[:, NO_STARTER]
    slack = float(bare[group].sum()) - supply.pick_kva
    if slack <= 0.0:
        return
    softer = [pair for k in group
              for pair in saved(chosen, k, float(bare[k]), supply.start_kva[k], slack)]
    row = total([*times(_starting(chosen, b, *ways), slack), *times(softer, -1.0),
                 *times(not_bought(tables, chosen, g), -slack)])
    if says_something(row) or row.constant > ROOM:
        name = f"pick_kva_{short(tables.house.ids[b])}_{short(supply.generator.id)}"
        problem += row <= ROOM, name


def _picked_up(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables, where: tuple[int, int, int],
    starts: list[Pair], begins: Floats,
) -> None:
    g, b, t = where
    supply = tables.supplies[g]
    group = [b, *np.flatnonzero(tables.house.closure[b]).tolist()]
    own = begins[tables.slots.day[t]]
    own_kw = float(own[group, NO_STARTER].sum())
    for at, word in ((t, "now"), (t - 1, "before")):
        if word == "before" and tables.slots.is_first(t):
            continue
        others = tables.possible[:, at].copy()
        others[group] = False
        weighed = tables.weighed_kw[:, at]
        most = min(float(weighed[others].sum()),
                   float(tables.caps[:, KW_ROW].max() * tables.house.weight.max()))
        slack = most + own_kw - supply.pick_kw
        if slack <= 0.0:
            continue
        softer = [pair for k in group
                  for pair in saved(chosen, k, float(own[k, NO_STARTER]), own[k], slack)]
        row = total([*power_on(tables, chosen, at, weighed, without=group),
                     *times(starts, slack), *times(softer, -1.0),
                     *times(not_bought(tables, chosen, g), -slack)])
        name = (f"pick_{word}_{short(tables.house.ids[b])}_{short(supply.generator.id)}_{t}")
        problem += row <= most + ROOM, name
