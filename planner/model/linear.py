"""Sums of terms that may be variables or constants."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeAlias

import pulp

Term: TypeAlias = "pulp.LpVariable | float"
Pair: TypeAlias = "tuple[Term, float]"


def total(pairs: Iterable[Pair], constant: float = 0.0) -> pulp.LpAffineExpression:
    """Add up terms times factors.

    Parameters
    ----------
    pairs : iterable of (term, factor)
        A term is a variable or a constant.
    constant : float
        What is added besides.
    """
    found: dict[pulp.LpVariable, float] = {}
    for term, factor in pairs:
        if isinstance(term, float):
            constant += term * factor
        elif factor:
            found[term] = found.get(term, 0.0) + factor
    return pulp.LpAffineExpression(found, constant)


def says_something(row: pulp.LpAffineExpression) -> bool:
    """Whether a sum holds a variable."""
    return bool(row.keys())


def times(pairs: Iterable[Pair], factor: float) -> list[Pair]:
    """Multiply terms."""
    return [(term, one * factor) for term, one in pairs]
