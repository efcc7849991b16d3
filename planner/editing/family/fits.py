"""Whether a size fits a kind, and how it is written there."""

from __future__ import annotations

from collections.abc import Sequence

from planner.case.library import kinds
from planner.editing.values import Value
from planner.physics.wire.branch import CONTINUOUS
from planner.physics.wire.conductor_tables import STANDARD_RATINGS_A

_TIMES = {("W", "kW"): 1e-3, ("kW", "W"): 1e3, ("Btu/h", "kBtu/h"): 1e-3,
          ("Btu/h", "ton"): 1.0 / 12_000.0, ("kBtu/h", "ton"): 1.0 / 12.0}


def size_for(kind: str, value: float, unit: str) -> tuple[str, Value] | None:
    """Write a size as a key of a load of a kind; None where it cannot be about it.

    Amperes of what does not come in amperes are its breaker if there is one of that rating
    (NEC 240.6(A)), else what it draws; of a charger they are its breaker if a breaker of 125 % of
    them does not exist (625.42).
    """
    if kind not in kinds():
        return None
    units = [option.unit for option in kinds()[kind].sizes]
    if unit == "A":
        return _amperes(kind, value, units)
    if unit in units:
        return "size", _written(value, unit)
    there = next((other for other in units if (unit, other) in _TIMES), None)
    if there is not None:
        return "size", _written(value * _TIMES[unit, there], there)
    return ("running", _written(value, unit)) if unit in ("kW", "W") and units else None


def _amperes(kind: str, value: float, units: Sequence[str]) -> tuple[str, Value]:
    is_breaker = value in STANDARD_RATINGS_A
    if kind == "vehicle charger":
        is_breaker = is_breaker and value * CONTINUOUS not in STANDARD_RATINGS_A
    if is_breaker and (kind == "vehicle charger" or "A" not in units):
        return "breaker", f"{value:g} A"
    return ("size" if "A" in units else "running"), f"{value:g} A"


def comes_in(kind: str, unit: str) -> bool:
    """Whether a kind is sized in a unit."""
    return kind in kinds() and any(option.unit == unit for option in kinds()[kind].sizes)


def _written(value: float, unit: str) -> str:
    return f"{value:.4g} {unit}" if value < 1000.0 else f"{value:.0f} {unit}"
