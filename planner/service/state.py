"""Empty states for the loops, and scratch."""

from __future__ import annotations

import numpy as np

from planner.service.loops.inputs import NEVER_KW, State, Works


def empty_state(works: Works, comforts: int, rows: int, spell: int) -> State:
    """Give the state in which nothing is on yet.

    Parameters
    ----------
    works : Works
        Of the loads.
    comforts, rows, spell : int
        How many comforts, rows of limits, and days of the spell.
    """
    loads, slots = len(works.kind), works.can.shape[1] * spell
    return State(
        sums=np.zeros((rows, slots)), ceiling=np.full(slots, NEVER_KW),
        share=np.zeros((loads, slots)), mean_kw=np.zeros(slots),
        called=np.zeros((loads, slots), dtype=np.bool_), given=np.zeros((comforts, slots)),
        lost=np.full((len(works.task_start), spell), 1, dtype=np.int64))
