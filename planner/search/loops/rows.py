"""Copying and clearing rows of the workspace, slot by slot, compiled.

One array assigned to another would do the same, but takes over a second more to compile each time.
"""

from __future__ import annotations

from numba import njit

from planner.arrays import Bools, Floats
from planner.search.loops.workspace import Workspace


@njit(cache=True)
def copy_state(depth: int, to: int, space: Workspace) -> None:
    """Copy the state of one depth to another."""
    for t in range(space.top.shape[1]):
        space.top[to, t] = space.top[depth, t]
        for r in range(space.sums.shape[1]):
            space.sums[to, r, t] = space.sums[depth, r, t]
        for i in range(space.on.shape[1]):
            space.on[to, i, t] = space.on[depth, i, t]


@njit(cache=True)
def clear_state(sums: Floats, top: Floats, on: Bools) -> None:
    """Make a state in which nothing is on."""
    for t in range(top.shape[0]):
        top[t] = 0.0
        for r in range(sums.shape[0]):
            sums[r, t] = 0.0
        for i in range(on.shape[0]):
            on[i, t] = False
