"""The rule of the calculated load by code."""

from __future__ import annotations

import numpy as np
import pulp

from planner.model.rules.power import ROOM
from planner.model.tables import Tables
from planner.model.variables import Variables


def direct_loads_pass_the_calculation(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables
) -> None:
    """The always-connected loads pass the code's calculation by themselves.

    constant + Σ_i general_i · direct_i + climate ≤ 1000 · Σ_g derated_kw_g · generator_g, with
    climate ≥ Σ_i group_i · direct_i for each of cooling and heating. Source: NEC 702.4(B)(2)
    (2011-2020), 702.4(A)(2) (2023), with the calculation of Article 220 (120 in 2026) in the lower
    linear form of `planner.model.demand`.
    """
    form = tables.demand
    general = pulp.lpSum(float(form.general_va[i]) * chosen.direct[i]
                         for i in np.flatnonzero(form.general_va).tolist())
    carried = pulp.lpSum(1000.0 * supply.derated_kw * chosen.generator[g]
                         for g, supply in enumerate(tables.supplies))
    problem += general + chosen.climate + form.constant_va - carried <= ROOM, "calculated_load"
    for number, group in enumerate(form.groups):
        alternative = pulp.lpSum(float(group[i]) * chosen.direct[i]
                                 for i in np.flatnonzero(group).tolist())
        if alternative.keys() or alternative.constant:
            problem += alternative - chosen.climate <= 0, f"climate_{number}"
