"""The rule of the calculated load by code."""

from __future__ import annotations

import numpy as np
import pulp

from planner.arrays import Floats
from planner.model.linear import Pair, says_something, times, total
from planner.model.on import ROOM
from planner.model.tables import Tables
from planner.model.variables import Variables


def connected_loads_pass_the_calculation(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """What is always connected passes the code's calculation by itself, opened by hand or not.

    constant + Σ_i general_i · firm_i + climate ≤ 1000 · Σ_g derated_kw_g · generator_g, with
    firm_i = direct_i + hand_i and climate ≥ Σ_i group_i · firm_i for each of cooling and heating.
    Source: NEC 702.4(B)(2) (2011-2020), 702.4(A)(2) (2023), with the calculation of Article 220
    (120 in 2026) in the lower linear form of `planner.model.demand`.
    """
    form = tables.demand
    carried = [(bought, -1000.0 * tables.supplies[g].derated_kw)
               for g, bought in chosen.generator.items()]
    row = total([*_firm(chosen, form.general_va), (chosen.climate, 1.0), *carried],
                form.constant_va)
    problem += row <= ROOM, "calculated_load"
    for number, group in enumerate(form.groups):
        alternative = total(_firm(chosen, group))
        if says_something(alternative) or alternative.constant:
            problem += alternative - chosen.climate <= 0, f"climate_{number}"


def _firm(chosen: Variables, va: Floats) -> list[Pair]:
    return [pair for i in np.flatnonzero(va).tolist()
            for pair in times(chosen.firm(i), float(va[i]))]
