"""Light in the dark: it goes ahead of chores that matter less."""

from __future__ import annotations

import numpy as np

from planner.arrays import Bools
from planner.facts.home import SLOT_H, SLOTS_PER_DAY
from planner.service.house import House
from planner.study.portable.periods import Periods

LIGHTS = frozenset({"lighting and receptacles"})
"""Kinds of load that are light."""
DARK_FROM_H, DARK_TO_H = 17.0, 7.0
"""From dusk to dawn, all the year (common practice, no source) [h]."""
CHORES = frozenset({"task", "car"})
"""Kinds of comfort whose work may as well be done at another hour, unless it is promised."""


def lights_in_the_dark(house: House, periods: Periods) -> Bools:
    """Which loads are light that somebody wants in the dark of a period, shape (D, P, n)."""
    hours = np.arange(SLOTS_PER_DAY) * SLOT_H
    dark = (hours >= DARK_FROM_H) | (hours < DARK_TO_H)
    light = np.array([load.kind in LIGHTS for load in house.home.loads], dtype=np.bool_)
    wanted = house.works.can.reshape(house.count, -1, SLOTS_PER_DAY) & dark & light[:, None, None]
    return np.stack([wanted[:, :, periods.of_slot == p].any(axis=2).T
                     for p in range(periods.count)], axis=1)


def chores_below(house: House) -> Bools:
    """Which loads do chores that matter less than another load, shape (n, n): [other, chore]."""
    loads, comforts = house.home.loads, house.home.comforts
    chore = np.array([
        c >= 0 and comforts[c].kind in CHORES and comforts[c].promise is None
        for c in house.works.comfort], dtype=np.bool_)
    rank = np.array([load.rank for load in loads])
    return np.asarray((rank[None, :] < rank[:, None]) & chore[None, :])
