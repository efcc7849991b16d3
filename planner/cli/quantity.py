"""Options that are quantities: text with a unit, as in a home file."""

from __future__ import annotations

import click

from planner.units import UnitError, magnitude, parse


class QuantityOption(click.ParamType[float]):
    """A quantity of one dimension, turned into a float in a unit.

    Parameters
    ----------
    dimension : str
        A key of `planner.units.DIMENSIONS`.
    unit : str
        Unit of the float; ``1`` for a plain share.
    least, most : float
        Limits in that unit, both allowed.
    """

    def __init__(self, dimension: str, unit: str, least: float, most: float = float("inf")) -> None:
        self.dimension = dimension
        self.unit = unit
        self.least = least
        self.most = most
        self.name = dimension

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Read the text; a float is passed on, as for a default."""
        if isinstance(value, float):
            return value
        try:
            found = magnitude(parse(value, self.dimension), self.unit)
        except UnitError as problem:
            self.fail(str(problem), param, ctx)
        if not self.least <= found <= self.most:
            self.fail(f'"{value}" is out of range.', param, ctx)
        return found
