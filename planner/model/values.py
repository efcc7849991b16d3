"""The value of a term in the solver's point."""

from __future__ import annotations

from collections.abc import Iterable

from planner.model.linear import Pair


def value(term: object) -> float:
    """Value of a variable, or a constant itself; 0 where the solver gave none."""
    if isinstance(term, float):
        return term
    return float(getattr(term, "varValue", 0.0) or 0.0)


def value_of(pairs: Iterable[Pair]) -> float:
    """Value of a sum of terms times factors."""
    return float(sum(factor * value(term) for term, factor in pairs))
