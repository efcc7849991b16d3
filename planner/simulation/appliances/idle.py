"""A load that never calls on this design day."""

from __future__ import annotations

import numpy as np

from planner.arrays import FloatRows
from planner.compiled import compiled
from planner.simulation.columns import DRAW, NEXT, WANT


@compiled
def step_idle(i: int, hot: FloatRows) -> None:
    """Put load i to rest for good."""
    hot[WANT, i] = 0.0
    hot[DRAW, i] = 0.0
    hot[NEXT, i] = np.inf
