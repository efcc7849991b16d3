"""What each load does by itself, with power at all times: how a direct load runs.

A direct load sees no room, and of its comfort only what the loads ahead of it give. Where none of
these helps on a day, what it does is known before anything is chosen.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.home import SLOTS_PER_DAY
from planner.service.house import STORE, House
from planner.service.loops.going import go


@dataclass(frozen=True)
class Alone:
    """Over all N slots of the replay.

    Attributes
    ----------
    called : ndarray of bool, shape (n, N)
    ran : ndarray of float, shape (n, N)
        Share of each slot that it runs.
    leads : ndarray of bool, shape (n, D)
        Whether no load ahead of it in its comfort helps on a day, so that a direct one does just
        this.
    """

    called: Bools
    ran: Floats
    leads: Bools


def alone(house: House) -> Alone:
    """Let every load run as if it were the only one, wherever it calls."""
    works, slots = house.works, house.slots * house.spell
    called = np.zeros((house.count, slots), dtype=np.bool_)
    ran = np.zeros((house.count, slots))
    room = np.ones(slots, dtype=np.bool_)
    lost = np.zeros((len(works.task_start), house.spell), dtype=np.int64)
    for i in range(house.count):
        go(i, house.spell, room, works, np.zeros(slots), called[i], ran[i], lost)
    return Alone(called, ran, _leads(house))


def _leads(house: House) -> Bools:
    works = house.works
    gains = works.gain.reshape(house.count, -1, SLOTS_PER_DAY)
    helps: Bools = np.max(gains, axis=2) > 0.0
    leads = np.ones_like(helps)
    for i in np.flatnonzero(works.kind == STORE):
        ahead = (works.comfort == works.comfort[i]) & (works.rank < works.rank[i])
        leads[i] = ~np.any(helps[ahead], axis=0)
    return leads
