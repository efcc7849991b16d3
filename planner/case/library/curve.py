"""Straight lines between points: the one way the library goes from a size to a value."""

from __future__ import annotations

from itertools import pairwise

Points = tuple[tuple[float, float], ...]


def interpolate(points: Points, x: float) -> float:
    """Value at `x` on straight lines between points of rising x.

    Raises
    ------
    ValueError
        `x` lies outside the points.
    """
    for (x0, y0), (x1, y1) in pairwise(points):
        if x0 - 1e-9 <= x <= x1 + 1e-9:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    raise ValueError(f"{x:g} lies outside {points[0][0]:g} to {points[-1][0]:g}")
