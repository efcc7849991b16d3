"""The rule of the average over 24 h."""

from __future__ import annotations

import numpy as np
import pulp

from planner.model.linear import Pair, times, total
from planner.model.on import ROOM, for_a_share
from planner.model.tables import Tables
from planner.model.variables import Variables, short
from planner.physics.engine import LEAST_SHARE


def day_stays_within_the_average(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """On no day of a spell is more drawn on average than the maker permits.

    mean_t ≥ Σ_i kw_i · share_it; mean_t ≥ 0.3 · Σ_g derated_g · generator_g, which is also what
    every slot counts that can draw no more than that;
    Σ_t mean_t ≤ 96 · Σ_g average_g · generator_g over the slots of a day. What others wake runs for
    the largest of their shares: stirred_kt ≥ share_it for i = k and every i that needs k. Source:
    ISO 8528-1 (edition not noted, as commonly quoted).
    """
    ids = tables.house.ids
    for (k, t), stirred in chosen.stirred.items():
        for i in [k, *np.flatnonzero(tables.house.closure[:, k]).tolist()]:
            share = for_a_share(tables, chosen, i, t)
            if share:
                row = total([(stirred, 1.0), *times(share, -1.0)]) >= 0
                problem += row, f"stirs_{short(ids[i])}_{short(ids[k])}_{t}"
    for t, mean in chosen.mean.items():
        row = total([(mean, 1.0), *times(_drawn(tables, chosen, t), -1.0)])
        problem += row >= 0, f"mean_{t}"
        problem += total([(mean, 1.0), *_floor(tables, chosen, -1.0)]) >= 0, f"least_{t}"
    for day in range(tables.slots.days):
        for here in tables.slots.days_of(day):
            above = [(chosen.mean[t], 1.0) for t in here if t in chosen.mean]
            if above:
                permitted = [(bought, -len(here) * tables.supplies[g].average_kw)
                             for g, bought in chosen.generator.items()]
                quiet = _floor(tables, chosen, float(len(here) - len(above)))
                row = total([*above, *quiet, *permitted])
                problem += row <= len(here) * ROOM, f"average_{here.start}"


def _floor(tables: Tables, chosen: Variables, factor: float) -> list[Pair]:
    """Terms whose sum is so many times the least that a slot counts [kW]."""
    return [(bought, factor * LEAST_SHARE * tables.supplies[g].derated_kw)
            for g, bought in chosen.generator.items()]


def _drawn(tables: Tables, chosen: Variables, t: int) -> list[Pair]:
    """Terms whose sum is the mean power of slot t [kW]."""
    found: list[Pair] = []
    for i in np.flatnonzero(tables.possible[:, t]).tolist():
        share = ([(chosen.stirred[i, t], 1.0)] if (i, t) in chosen.stirred
                 else for_a_share(tables, chosen, i, t))
        found += times(share, float(tables.kw[i, t]))
    return found
