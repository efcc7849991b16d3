"""How close counts as equal: one tolerance for each thing that is compared, the same everywhere.

They only take up rounding of floats; none is a margin. The solver's own tolerance is its own
matter (`planner.model`).
"""

from __future__ import annotations

import math

LIMIT = 1e-9
"""A limit in kW, kVA or A is met up to this much beyond it."""

CODE_VA = 1e-6
"""A calculated load by code is carried up to this much beyond the rating [VA]."""

SAME_USD = 1e-6
"""Prices closer than this differ by rounding of floats only."""

DOLLAR = 0.5
"""Prices closer than this are the same dollar to a reader [USD]."""

LEVEL = 1e-9
"""A store calls up to this much before its threshold, in the unit of its comfort."""

SAME_COVERAGE = 1e-9
"""Coverages and services closer than this are the same."""


def meets(amount: float, limit: float) -> bool:
    """Whether a draw or a start keeps within a limit; both in kW, kVA or A."""
    return amount <= limit + LIMIT


def carries(derated_kw: float, calculated_va: float) -> bool:
    """Whether a generator carries a calculated load; by convention kVA are compared with the kW."""
    return calculated_va <= 1000.0 * derated_kw + CODE_VA


def reaches(coverage: float, goal: float) -> bool:
    """Whether a coverage or a service (0-1) reaches a goal."""
    return coverage >= goal - SAME_COVERAGE


def costs_at_most(usd: float, budget_usd: float) -> bool:
    """Whether a price keeps within a budget [USD]."""
    return usd <= budget_usd + SAME_USD


def same_dollar(change_usd: float) -> bool:
    """Whether a change of price is none to a reader [USD]."""
    return abs(change_usd) < DOLLAR


def floored(value: float, step: float) -> float:
    """Round down to a step, for a figure that works up to `value`."""
    return math.floor(value / step + 1e-6) * step


def ceiled(value: float, step: float) -> float:
    """Round up to a step, for a figure that works from `value` on."""
    return math.ceil(value / step - 1e-6) * step
