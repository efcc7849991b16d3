"""A blower or an air handler that runs when a thermostat that needs it calls."""

from __future__ import annotations

import numpy as np

from planner.arrays import FloatRows, Floats
from planner.compiled import compiled
from planner.simulation.columns import DRAW, KW, NEXT, WANT


@compiled
def step_follow(
    i: int, first: int, last: int, hot: FloatRows, parameters: FloatRows, size: Floats
) -> None:
    """Let follower i want what its leaders want; its events name the loads that it follows."""
    wants = 0.0
    for e in range(first, last):
        if hot[WANT, int(size[e])] > 0.0:
            wants = 1.0
    hot[WANT, i] = wants
    hot[DRAW, i] = parameters[i, KW] * wants
    hot[NEXT, i] = np.inf
