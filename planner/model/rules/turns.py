"""Rules about taking turns: calls, waiting, waking."""

from __future__ import annotations

import numpy as np
import pulp

from planner.facts.home import SLOTS_PER_DAY
from planner.model.tables import Tables
from planner.model.variables import Variables, short


def run_only_by_module(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """Only a load with a shedding module takes turns.

    run_it ≤ module_i for every load i and slot t.
    """
    for (i, t), run in chosen.run.items():
        row = run - chosen.module[i] <= 0
        problem += row, f"by_module_{short(tables.house.ids[i])}_{t}"


def only_pending_calls_are_served(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """A slot serves one call, made in it or still waiting; a call older than its wait is lost.

    backlog_it + run_it ≤ backlog_i(t−1) + call_it, where backlog_it is at most the calls of the
    last `wait` slots and is 0 before the day's first slot. (Serving the oldest first and losing
    only what grows too old meets this with equality; the row is looser in that it may lose more.)
    """
    for (i, t), run in chosen.run.items():
        name = short(tables.house.ids[i])
        first = t % SLOTS_PER_DAY == 0
        before = 0.0 if first else chosen.backlog.get((i, t - 1), 0.0)
        left = chosen.backlog.get((i, t), 0.0)
        if isinstance(before, float) and isinstance(left, float):
            continue  # no waiting: the run exists only where the load calls
        row = pulp.lpSum([left, run]) - before <= int(tables.house.calls[i, t])
        problem += row, f"pending_{name}_{t}"


def wakes(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """A load that another needs is on whenever that other is, and whenever it runs itself.

    awake_kt ≥ direct_k · call_kt + run_kt, and awake_kt ≥ direct_i · call_it + run_it for every i
    that needs k.
    """
    calls = tables.house.calls
    for k in tables.woken:
        for i in [k, *np.flatnonzero(tables.house.closure[:, k])]:
            pair = f"{short(tables.house.ids[i])}_{short(tables.house.ids[k])}"
            for t in range(tables.house.slots):
                asked = pulp.lpSum(
                    ([chosen.direct[i]] if calls[i, t] else []) + [chosen.run.get((i, t), 0.0)]
                )
                if asked.keys() or asked.constant:
                    problem += asked - chosen.awake[k, t] <= 0, f"wakes_{pair}_{t}"
