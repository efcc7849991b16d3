"""A load that never calls on this design day."""

from __future__ import annotations

import numpy as np
from numba import njit
from numpy.typing import NDArray

from planner.simulate.columns import DRAW, NEXT, WANT


@njit(cache=True)
def step_idle(i: int, hot: NDArray[np.float64]) -> None:
    """Put load i to rest for good."""
    hot[WANT, i] = 0.0
    hot[DRAW, i] = 0.0
    hot[NEXT, i] = np.inf
