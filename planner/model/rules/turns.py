"""Rules about taking turns: who may, who is woken, which tasks are done."""

from __future__ import annotations

import numpy as np
import pulp

from planner.model.linear import Pair, says_something, times, total
from planner.model.on import by_itself
from planner.model.pieces import Piece
from planner.model.tables import Tables
from planner.model.variables import Variables, short


def turns_are_taken_by_module(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """Only a load with a shedding module takes turns.

    run_it ≤ module_i for every load i and slot t; run_it ≤ direct_i + module_i where i comes after
    an earlier stage of its room, so that what it does when it is direct is not known beforehand.
    share_it ≤ run_it.
    """
    for (i, t), run in chosen.run.items():
        name = f"{short(tables.house.ids[i])}_{t}"
        may = [(run, 1.0), (chosen.module[i], -1.0)]
        if not tables.alone.leads[i, tables.slots.day[t]]:
            may.append((chosen.direct[i], -1.0))
        problem += total(may) <= 0, f"by_module_{name}"
        if chosen.share[i, t] is not run:
            row = total([(chosen.share[i, t], 1.0), (run, -1.0)]) <= 0
            problem += row, f"share_{name}"


def tasks_are_done_in_time(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """A task is done if it begins within its wait and then runs its length with few pauses.

    For a task of load i with length L, pauses p and the slots s in which it may begin (with a start
    button only by day, or at once): Σ_s begin_is ≤ module_i; run_is ≥ begin_is;
    Σ_t run_it ≥ L · Σ_s begin_is over its window; and of any p + 1 slots on end that lie between a
    beginning and s + L + p and the deadline, one is run:
    Σ_{τ = t … t+p} run_iτ ≥ Σ_s begin_is. (A direct load begins at once and is always done.)
    """
    for piece in tables.pieces:
        i, name = piece.load, short(tables.house.ids[piece.load])
        begins = [s for s in piece.starts if (i, s) in chosen.begin]
        if not begins:
            continue
        begun = [(chosen.begin[i, s], 1.0) for s in begins]
        problem += total([*begun, (chosen.module[i], -1.0)]) <= 0, f"once_{name}_{piece.first}"
        if piece.pauses:
            for s in begins:
                row = total([(chosen.run[i, s], 1.0), (chosen.begin[i, s], -1.0)]) >= 0
                problem += row, f"begins_{name}_{s}"
            window = range(piece.first, piece.deadline)
            row = total([*_run(chosen, i, window), *times(begun, -float(piece.length))]) >= 0
            problem += row, f"length_{name}_{piece.first}"
        for t in range(piece.first, piece.deadline - piece.pauses):
            late = [(chosen.begin[i, s], -1.0) for s in begins if _covers(piece, s, t)]
            if late and (piece.length > 1 or not piece.pauses):
                here = _run(chosen, i, range(t, t + piece.pauses + 1))
                problem += total([*here, *late]) >= 0, f"goes_on_{name}_{t}"


def _run(chosen: Variables, i: int, here: range) -> list[Pair]:
    """Terms whose sum is the number of these slots that load i runs."""
    return [(chosen.run[i, t], 1.0) for t in here if (i, t) in chosen.run]


def _covers(piece: Piece, s: int, t: int) -> bool:
    """Whether slots t to t + p lie within what a task has that begins in slot s."""
    return s <= t and t + piece.pauses < min(s + piece.length + piece.pauses, piece.deadline)


def wakes(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """A load that another needs is on whenever that other is, and whenever it runs itself.

    awake_kt ≥ ran_kt · direct_k + run_kt, awake_kt ≥ the same of every i that needs k, and
    awake_kt ≤ direct_k + module_k. Of all that can be on without a module in a set u of loads:
    firm_ku ≥ direct_k + hand_k if k is in u; firm_ku ≥ direct_k + hand_k + direct_i + hand_i − 1
    for every i in u that needs k.
    """
    ids = tables.house.ids
    for (k, t), awake in chosen.awake.items():
        for i in [k, *np.flatnonzero(tables.house.closure[:, k]).tolist()]:
            row = total([(awake, 1.0), *times(by_itself(tables, chosen, i, t), -1.0)])
            if len(row) > 1 or row.constant:
                problem += row >= 0, f"wakes_{short(ids[i])}_{short(ids[k])}_{t}"
        held = total([(awake, 1.0), (chosen.direct[k], -1.0), (chosen.module[k], -1.0)])
        if not tables.only_direct[k]:
            problem += held <= 0, f"connected_{short(ids[k])}_{t}"
    for (k, u), firm in chosen.firm_awake.items():
        asking = [i for i in tables.firm_sets[u].members if i == k or tables.house.closure[i, k]]
        for i in asking:
            both = chosen.firm(k) if i == k else [*chosen.firm(k), *chosen.firm(i), (1.0, -1.0)]
            row = total([(firm, 1.0), *times(both, -1.0)])
            if says_something(row):
                problem += row >= 0, f"firm_wakes_{short(ids[i])}_{short(ids[k])}_{u}"
