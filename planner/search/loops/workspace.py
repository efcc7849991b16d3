"""Arrays for the compiled search to work in, laid out once and used again."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planner.arrays import Bools, Floats, Ints, Keys
from planner.search.loops.inputs import Inputs
from planner.service.loops import SLOTS

TABLE = 1 << 16


class Workspace(NamedTuple):
    """Room for the search to work in: one row per depth of the order where there is a first axis.

    `fit` marks where each load has room; `worth_by_day` is what each remaining load would get next,
    by day. `taken` (load, slot) lists what the last turn put on. `seen` and `seen_worth` remember
    states. `ended` (1,) is set from another thread when nobody wants the answer any more.
    """

    sums: Floats
    top: Floats
    on: Bools
    fit: Bools
    worth_by_day: Floats
    taken: Ints
    seen: Keys
    seen_worth: Floats
    ended: Bools


def workspace_for(inputs: Inputs, ended: Bools) -> Workspace:
    """Lay out the arrays for orders of any length; `ended` (1,) is shared, not copied."""
    n, slots = inputs.calls.shape
    rows, days = inputs.draw.shape[0], slots // SLOTS
    depths = n + 2
    return Workspace(
        sums=np.zeros((depths, rows, slots)), top=np.zeros((depths, slots)),
        on=np.zeros((depths, n, slots), dtype=np.bool_),
        fit=np.zeros((depths, n, slots), dtype=np.bool_),
        worth_by_day=np.zeros((depths, n, days)),
        taken=np.zeros((n * slots, 2), dtype=np.int64),
        seen=np.zeros(TABLE, dtype=np.uint64), seen_worth=np.zeros(TABLE), ended=ended)
