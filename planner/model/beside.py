"""Which loads never fit a generator: alone, or two of them, beside what is on for certain."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.arrays import Bools, Floats
from planner.service.house import KW_ROW
from planner.tolerances import LIMIT

if TYPE_CHECKING:
    from planner.model.tables import Tables


@dataclass(frozen=True)
class Beside:
    """What fits some generator beside the loads that can only be direct, with all that it wakes.

    With the soft starters that leave the most room.

    Attributes
    ----------
    fits : ndarray of bool, shape (n, N)
    apart : dict of (i, k), i < k, to ndarray of bool, shape (N,)
        Slots in which each of two loads fits, but not both; pairs of which there is no such slot
        are left out.
    """

    fits: Bools
    apart: dict[tuple[int, int], Bools]


def beside_of(tables: Tables) -> Beside:
    """Try each load, and each two, in every different situation."""
    certain = (tables.certain > 0.0) & tables.only_direct[:, None]
    seen, which = np.unique(np.vstack([tables.slots.day, certain]), axis=1, return_inverse=True)
    days, on = seen[0].astype(np.int64), seen[1:].astype(np.bool_)
    which = which.reshape(-1)
    count = tables.house.count
    fits = np.array([_fits(tables, days, on, (i,)) for i in range(count)]).reshape(count, -1)
    shed = [i for i in range(count) if not tables.only_direct[i]]
    apart = {}
    for i in shed:
        for k in shed:
            if i < k:
                never = fits[i] & fits[k] & ~_fits(tables, days, on, (i, k))
                if never.any():
                    apart[i, k] = never[which]
    return Beside(fits[:, which], apart)


def _fits(tables: Tables, days: np.ndarray, certain: Bools, loads: tuple[int, ...]) -> Bools:
    """Situations in which loads fit some generator together."""
    group = sorted({*loads, *np.flatnonzero(tables.house.closure[list(loads)].any(axis=0))})
    there = certain.copy()
    there[group] = True
    foes: Bools = np.any(tables.house.exclusive[group], axis=0)
    meet = ~(there & foes[:, np.newaxis]).any(axis=0)
    total = np.einsum("urn,nu->ru", tables.house.draw[days], there)
    held = [_holds(tables, g, there, total, tables.house.draw[days, KW_ROW, :].T)
            for g in range(len(tables.supplies))]
    found: Bools = meet & np.any(held, axis=0)
    return found


def _holds(tables: Tables, g: int, there: Bools, total: Floats, kw: Floats) -> Bools:
    """Situations in which a generator holds a sum of loads and starts each motor among them."""
    held: Bools = (total <= tables.caps[g][:, None] + LIMIT).all(axis=0)
    for m in np.flatnonzero(tables.house.starting_kva > 0.0).tolist():
        held &= ~there[m] | (total[KW_ROW] - kw[m] <= tables.most_room_kw[g, m] + LIMIT)
    return held
