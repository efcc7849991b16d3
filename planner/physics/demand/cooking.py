"""Demand of household cooking appliances by Table 220.55 and its notes."""

from __future__ import annotations

from collections.abc import Sequence
from math import floor

from planner.physics.demand.tables import (
    cooking_demand_kw,
    middle_cooking_share,
    small_cooking_share,
)

SMALLEST_KW, MIDDLE_KW, LARGE_KW, AVERAGE_KW, LARGEST_KW = 1.75, 3.5, 8.75, 12.0, 27.0
"""Ends of the columns of NEC Table 220.55 (2017 to 2023), and of its Notes 1 and 2 [kW]."""


def cooking_demand_va(units_kw: Sequence[float]) -> float:
    """Give the demand of cooking appliances, each by its nameplate [VA].

    Parameters
    ----------
    units_kw : sequence of float, shape (n,)
        Nameplate of each appliance, not negative [kW]; kVA counts as kW here.

    Notes
    -----
    The lower of two permitted ways. Column C over all appliances above 1¾ kW, with Notes 1 and 2
    (average rating with 12 kW as the least, 5 % more per kW or major fraction above 12). Or Note 3:
    Columns A and B on the nameplates from 1¾ to 8¾ kW, Column C on the larger ones. Outside the
    table (up to 1¾ kW, above 27 kW) the nameplate counts.

    References
    ----------
    NEC Table 220.55 with Notes 1 to 3 (2017 to 2023; 120.55 in 2026); Annex D, D2(b) and D6.
    """
    outside = [kw for kw in units_kw if not SMALLEST_KW < kw <= LARGEST_KW]
    inside = [kw for kw in units_kw if SMALLEST_KW < kw <= LARGEST_KW]
    small = [kw for kw in inside if kw < MIDDLE_KW]
    middle = [kw for kw in inside if MIDDLE_KW <= kw <= LARGE_KW]
    large = [kw for kw in inside if kw > LARGE_KW]
    by_columns = _column_c_kw(large)
    if small:
        by_columns += sum(small) * small_cooking_share(len(small))
    if middle:
        by_columns += sum(middle) * middle_cooking_share(len(middle))
    return 1000.0 * (min(_column_c_kw(inside), by_columns) + sum(outside))


def _column_c_kw(units_kw: Sequence[float]) -> float:
    if not units_kw:
        return 0.0
    average_kw = sum(max(AVERAGE_KW, kw) for kw in units_kw) / len(units_kw)
    steps = floor(average_kw - AVERAGE_KW + 0.5 + 1e-9)  # a major fraction counts as a whole kW
    return cooking_demand_kw(len(units_kw)) * (1.0 + 0.05 * steps)
