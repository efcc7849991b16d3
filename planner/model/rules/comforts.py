"""Rules about how well the comforts are kept."""

from __future__ import annotations

import numpy as np
import pulp

from planner.model.levels import Level
from planner.model.linear import Pair, says_something, times, total
from planner.model.on import ROOM, for_a_share, on
from planner.model.tables import Tables
from planner.model.variables import Variables, deviation_before, is_step, short
from planner.service.loops.inputs import ADDED, BY_CLOCK, BY_LEVEL, MOST, MOST_MARKED, TASKS
from planner.service.loops.losing import EMPTY
from planner.service.nature import HUGE

STEP = 1e-5
"""What a deviation passes a limit by less than is left out, in its unit."""


def what_is_missing_stays_missing(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """What a comfort lacks is missing in the next slot too; its need adds to it, runs make it good.

    behind_ct ≥ keep_c · behind_c(t−1) + need_ct − Σ_i gain_it · share_it over its loads. Where the
    store can be at its end, so that what was not drawn is lost, not owed: + need_ct · loss_ct on
    the left where the loss of the slot is asked for (at the end all is lost), need_ct · spoiled_c
    of a pit, else behind_ct · (1 + need_ct / full_c): all three meet the truth at the end.
    """
    cares, works = tables.house.cares, tables.house.works
    for c, level in tables.levels.items():
        loads = tables.loads_of(c)
        for t in np.flatnonzero(level.matters).tolist():
            p = tables.slots.of_day[t]
            before = deviation_before(tables, chosen, level, c, t)
            gains = [pair for i in loads for pair in times(for_a_share(tables, chosen, i, t),
                                                           float(works.gain[i, p]))]
            row = total([*_left(tables, chosen, level, c, t), *gains,
                         (before, -float(cares.keep[c]))])
            problem += row >= float(level.need[t]), f"missing_{_name(tables, c)}_{t}"


def _left(tables: Tables, chosen: Variables, level: Level, c: int, t: int) -> list[Pair]:
    """Terms whose sum is what is missing after a slot, with what was lost of it."""
    need, day = float(level.need[t]), int(tables.slots.day[t])
    behind = chosen.behind[c, t]
    if not level.spills[t]:
        return [(behind, 1.0)]
    if (c, t) in chosen.loss:
        return [(behind, 1.0), (chosen.loss[c, t], need)]
    if (c, day) in chosen.spoiled and tables.house.cares.stretch[c] == 0:
        return [(behind, 1.0), (chosen.spoiled[c, day], need)]
    return [(behind, 1.0 + need / float(tables.house.cares.full[c]))]


def loss_grows_with_the_deviation(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """Nothing is lost up to one deviation and all from another on; between them it grows in line.

    (top_ct − low_ct) · loss_ct ≥ behind_ct − low_ct, top being where all is lost, or the largest
    deviation that is possible if that is more. What unlimited power loses is not counted:
    lost_ct ≥ weight_ct · loss_ct − unlimited_ct.
    """
    cares = tables.house.cares
    for (c, t), loss in chosen.loss.items():
        p, name = tables.slots.of_day[t], f"{_name(tables, c)}_{t}"
        if cares.kind[c] == BY_LEVEL:
            low, top = float(cares.low[c, p]), float(tables.levels[c].top[t])
            if not is_step(tables, c, t):
                row = total([(loss, top - low), (chosen.behind[c, t], -1.0)]) >= -low
                problem += row, f"loss_{name}"
        if (c, t) in chosen.lost:
            row = total([(chosen.lost[c, t], 1.0), (loss, -weight_of(tables, c, t))])
            problem += row >= -float(cares.unlimited[c, p]), f"lost_{name}"


def weight_of(tables: Tables, c: int, t: int) -> float:
    """Weight of the loss of a comfort in a slot."""
    cares = tables.house.cares
    return 1.0 if cares.kind[c] == BY_CLOCK else float(cares.weight[c, tables.slots.of_day[t]])


def dark_slots_are_lost(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """What is wanted by the clock is lost where it is dark, each of the loads that call alike.

    calling_ct · loss_ct ≥ Σ_i (1 − on_it) over the loads of the comfort that call in slot t.
    """
    for c, t in tables.dark:
        calling = [i for i in tables.loads_of(c)
                   if tables.house.works.can[i, tables.slots.of_day[t]]]
        lit = [pair for i in calling for pair in on(tables, chosen, i, t)]
        row = total([(chosen.loss[c, t], float(len(calling))), *lit]) >= float(len(calling))
        problem += row, f"dark_{_name(tables, c)}_{t}"


def a_stretch_beyond_the_limit_spoils(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """Food is lost once it has been above its limit for too many slots on end.

    behind_ct ≤ limit_c + stretch_c · need + most · spoiled_c: unless it is lost, it was within the
    limit at most `stretch` slots ago, and cannot have risen faster than by its need. (Looser than
    the rule by that rise. A pit is lost at once, where it runs over.)
    """
    cares = tables.house.cares
    for c, level in tables.levels.items():
        for t in np.flatnonzero(level.matters).tolist():
            spoiled = chosen.spoiled.get((c, int(tables.slots.day[t])))
            here = tables.slots.spell_of(int(tables.slots.day[t]))
            line = float(cares.limit[c] + cares.stretch[c] * level.need[here].max())
            most = float(level.worst[t]) - line
            if spoiled is not None and most > STEP:
                row = total([(chosen.behind[c, t], 1.0), (spoiled, -most)]) <= line + ROOM
                problem += row, f"spoils_{_name(tables, c)}_{t}"


def promises_are_kept(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """What is promised of a comfort holds on every planned day.

    A room, or a car at its hour: behind_ct ≤ bound_cd. Cold showers, dry taps:
    Σ_t amount_ct · loss_ct ≤ bound_cd over the slots of a day. Food, pits: spoiled_cd ≤ bound_cd.
    Tasks that close on a day: Σ (1 − direct_i − Σ_s begin_is) ≤ bound_cd.
    """
    cares, slots = tables.house.cares, tables.slots
    for c, day in np.argwhere(cares.bound < HUGE).tolist():
        bound, name = float(cares.bound[c, day]) + EMPTY + ROOM, _name(tables, c)
        measure = cares.measure[c]
        if (c, day) in chosen.spoiled:
            row = total([(chosen.spoiled[c, day], 1.0)]) <= bound
            problem += row, f"promise_{name}_{slots.spell_of(day).start}"
        for here in slots.days_of(day):
            if measure in (MOST, MOST_MARKED):
                for t in here:
                    marked = measure == MOST or cares.amount[c, slots.of_day[t]] > 0.0
                    if marked and (c, t) in chosen.behind and tables.levels[c].worst[t] > bound:
                        row = total([(chosen.behind[c, t], 1.0)]) <= bound
                        problem += row, f"promise_{name}_{t}"
            elif measure in (ADDED, TASKS):
                asked = (_amounts(tables, chosen, c, here) if measure == ADDED
                         else undone(tables, chosen, c, here))
                row = total(asked)
                if says_something(row) or row.constant > bound:
                    problem += row <= bound, f"promise_{name}_{here.start}"


def _amounts(tables: Tables, chosen: Variables, c: int, here: range) -> list[Pair]:
    amount = tables.house.cares.amount
    return [(chosen.loss[c, t], float(amount[c, tables.slots.of_day[t]]))
            for t in here if (c, t) in chosen.loss]


def undone(
    tables: Tables, chosen: Variables, c: int, here: range, *, counted: bool = False
) -> list[Pair]:
    """Terms whose sum is how many tasks of a comfort that close in these slots are not done.

    `counted`: without those that are lost with unlimited power too.
    """
    found: list[Pair] = []
    for piece in tables.pieces:
        if piece.comfort == c and piece.closing in here and piece.known and not (
                counted and piece.excused):
            begun = [(chosen.begin[piece.load, s], -1.0) for s in piece.starts
                     if (piece.load, s) in chosen.begin]
            found += [(1.0, 1.0), (chosen.direct[piece.load], -1.0), *begun]
    return found


def _name(tables: Tables, c: int) -> str:
    return short(tables.house.home.comforts[c].id)
