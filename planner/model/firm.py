"""Which loads can be on at once without a module: sets of slots, not slots, decide."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.facts.home import SLOTS_PER_DAY
from planner.service.choice import BY_HAND, DIRECT

if TYPE_CHECKING:
    from planner.model.tables import Tables


@dataclass(frozen=True)
class FirmSet:
    """Loads that can be on in the same slot of a day.

    `members` by themselves, `loads` with what these wake.
    """

    day: int
    members: frozenset[int]
    loads: tuple[int, ...]


def firm_sets_of(tables: Tables) -> tuple[FirmSet, ...]:
    """Give the sets of a day that are no part of another of that day: all others follow."""
    may = tables.allowed[:, DIRECT] | tables.allowed[:, BY_HAND]
    can = tables.house.works.can & may[:, None]
    closure = tables.house.closure
    found = []
    for day in range(tables.slots.days):
        here = can[:, day * SLOTS_PER_DAY:(day + 1) * SLOTS_PER_DAY]
        sets = {frozenset(np.flatnonzero(column).tolist()): None for column in here.T}
        for members in sets:
            if members and not any(members < other for other in sets):
                woken = closure[sorted(members)].any(axis=0) & may
                loads = members | set(np.flatnonzero(woken).tolist())
                found.append(FirmSet(day, members, tuple(sorted(loads))))
    return tuple(found)
