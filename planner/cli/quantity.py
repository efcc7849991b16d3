"""Options that are quantities: text with a unit, as in a home file."""

from __future__ import annotations

import click

from planner.case.bounds import Bound
from planner.quoting import quoted
from planner.units import DIMENSIONS, UnitError, magnitude, parse


class QuantityOption(click.ParamType[float]):
    """A quantity of one dimension, turned into a float in a unit.

    Parameters
    ----------
    bound : Bound
        What it may be.
    unit : str
        Unit of the float; ``1`` for a plain share.
    """

    def __init__(self, bound: Bound, unit: str) -> None:
        self.bound = bound
        self.unit = unit
        self.name = bound.dimension

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Read the text; a float is passed on, as for a default."""
        if isinstance(value, float):
            return value
        try:
            found = parse(value, self.bound.dimension, bounded=False)
        except UnitError as problem:
            if self.bound.dimension == "share" and _number(value) > 100.0:  # no share either way
                self.fail(f"{quoted(value)} is out of range: from {self.bound.least} to "
                          f"{self.bound.most}.", param, ctx)
            self.fail(str(problem), param, ctx)
        if not self.bound.holds(magnitude(found, DIMENSIONS[self.bound.dimension].unit)):
            self.fail(f"{quoted(value)} is out of range: from {self.bound.least} to "
                      f"{self.bound.most}.", param, ctx)
        return magnitude(found, self.unit)


def _number(value: object) -> float:
    """Read a bare number; 0 for what is none."""
    try:
        return float(str(value))
    except ValueError:
        return 0.0


class NumberOption(click.ParamType[float]):
    """A bare number from the least to the most, both allowed; infinity and nan are none."""

    name = "number"

    def __init__(self, least: float, most: float) -> None:
        self.least = least
        self.most = most

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Read the number."""
        try:
            found = float(str(value))
        except ValueError:
            self.fail(f"{quoted(value)} is not a number.", param, ctx)
        if not self.least <= found <= self.most:
            self.fail(f"{quoted(str(value))} is out of range: from {self.least:g} to "
                      f"{self.most:g}.", param, ctx)
        return found
