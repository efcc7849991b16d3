"""The coverage: what is lost of every comfort, in the terms of the model."""

from __future__ import annotations

import numpy as np
import pulp

from planner.model.linear import Pair, times, total
from planner.model.rules.comforts import undone, weight_of
from planner.model.tables import Tables
from planner.model.values import value_of
from planner.model.variables import Variables
from planner.service.loops.inputs import BY_TASK


def coverage_of(tables: Tables, chosen: Variables) -> pulp.LpAffineExpression:
    """Importance-weighted mean of kept, 1 − Σ_c share_c · lost_c / losable_c."""
    share = tables.house.cares.share
    return total([pair for c in np.flatnonzero(share).tolist()
                  for pair in times(lost_of(tables, chosen, c), -float(share[c]))], 1.0)


def lost_of(tables: Tables, chosen: Variables, c: int) -> list[Pair]:
    """Terms whose sum is the part of comfort c that is lost, Σ_d w_d · lost_cd / losable_c."""
    cares, slots = tables.house.cares, tables.slots
    found: list[Pair] = []
    for day, weight in enumerate(cares.day_weight.tolist()):
        here = slots.days_of(day)[-1]
        lost = (undone(tables, chosen, c, here, counted=True) if cares.kind[c] == BY_TASK
                else _by_slots(tables, chosen, c, here))
        found += times(lost, weight / float(cares.losable[c]))
    return found


def _by_slots(tables: Tables, chosen: Variables, c: int, here: range) -> list[Pair]:
    found: list[Pair] = []
    for t in here:
        if (c, t) in chosen.lost:
            found.append((chosen.lost[c, t], 1.0))
        elif (c, t) in chosen.loss:
            found.append((chosen.loss[c, t], weight_of(tables, c, t)))
    last, day = tables.slots.of_day[here[-1]], int(tables.slots.day[here[-1]])
    if (c, day) in chosen.spoiled:
        cares = tables.house.cares
        more = max(0.0, float(cares.weight[c, last] - cares.unlimited[c, last]))
        found.append((chosen.spoiled[c, day], more))
    return found


def kept_in(tables: Tables, chosen: Variables) -> dict[int, float]:
    """How well the solver's point keeps each comfort that counts in the coverage."""
    return {c: 1.0 - value_of(lost_of(tables, chosen, c))
            for c in np.flatnonzero(tables.house.cares.share).tolist()}
