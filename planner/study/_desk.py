"""Arrays for the compiled search to work in, laid out once and used again."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planner.service._kernel import SLOTS
from planner.study._facts import Facts

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.int64]
Keys = NDArray[np.uint64]

TABLE = 1 << 16


class Desk(NamedTuple):
    """Room for the search to work in: one row per depth of the order where there is a first axis.

    `fit` marks where each load has room; `worth_by_day` is what each remaining load would get next,
    by day. `taken` (load, slot) lists what the last turn put on. `seen` and `seen_worth` remember
    states.
    """

    sums: Floats
    top: Floats
    on: Bools
    fit: Bools
    worth_by_day: Floats
    taken: Ints
    seen: Keys
    seen_worth: Floats


def desk_for(facts: Facts) -> Desk:
    """Lay out the arrays for orders of any length."""
    n, slots = facts.calls.shape
    rows, days = facts.draw.shape[0], slots // SLOTS
    depths = n + 2
    return Desk(
        sums=np.zeros((depths, rows, slots)), top=np.zeros((depths, slots)),
        on=np.zeros((depths, n, slots), dtype=np.bool_),
        fit=np.zeros((depths, n, slots), dtype=np.bool_),
        worth_by_day=np.zeros((depths, n, days)),
        taken=np.zeros((n * slots, 2), dtype=np.int64),
        seen=np.zeros(TABLE, dtype=np.uint64), seen_worth=np.zeros(TABLE))
