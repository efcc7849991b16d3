"""Tasks on the days of a spell: pieces of work, and where each may begin so that it is done."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.facts.home import SLOTS_PER_DAY
from planner.model.slots import Slots
from planner.service.house import House
from planner.service.loops.going import DAY_BEGINS, DAY_ENDS
from planner.service.loops.inputs import BY_TASK


@dataclass(frozen=True)
class Piece:
    """A task of a load on one day of a spell, in planned slots.

    Attributes
    ----------
    load, comfort, day : int
    first, length, pauses, deadline : int
        First slot, slots of work, pauses that it stands, the slot after its last one.
    starts : tuple of int
        Slots in which it may begin.
    closing : int
        Last slot of its window; the day of this slot judges it.
    known : bool
        Whether its whole window is planned; what began before is taken as done.
    excused : bool
        Whether it is lost with unlimited power too, so that its loss is not counted.
    """

    load: int
    comfort: int
    day: int
    first: int
    length: int
    pauses: int
    deadline: int
    starts: tuple[int, ...]
    closing: int
    known: bool
    excused: bool


def pieces_of(house: House, slots: Slots) -> tuple[Piece, ...]:
    """Give the tasks that close on a planned day, by load, day and start."""
    works, found = house.works, []
    for i in range(house.count):
        c = int(works.comfort[i])
        if c < 0 or house.cares.kind[c] != BY_TASK:
            continue
        for m in range(works.task_first[i], works.task_first[i + 1]):
            found += [piece for k in range(house.spell)
                      if (piece := _piece(house, slots, i, m, k)) is not None]
    return tuple(found)


def _piece(house: House, slots: Slots, i: int, m: int, k: int) -> Piece | None:
    works = house.works
    day, pauses = int(works.task_day[m]), int(works.task_pauses[m])
    length, wait = int(works.task_length[m]), int(works.task_wait[m])
    begin = day * house.spell * SLOTS_PER_DAY
    first = begin + k * SLOTS_PER_DAY + int(works.task_start[m])
    deadline = first + length + max(wait, pauses)
    if deadline > begin + house.spell * SLOTS_PER_DAY or slots.planned(deadline - 1) < 0:
        return None
    shift = slots.planned(deadline - 1) + 1 - deadline
    hours = np.arange(first, first + wait + 1)
    if works.button[i]:
        somebody_up = (hours % SLOTS_PER_DAY >= DAY_BEGINS) & (hours % SLOTS_PER_DAY < DAY_ENDS)
        hours = hours[(hours == first) | somebody_up]
    return Piece(
        load=i, comfort=int(works.comfort[i]), day=day, first=first + shift, length=length,
        pauses=pauses, deadline=deadline + shift,
        starts=tuple(int(hour) + shift for hour in hours), closing=deadline - 1 + shift,
        known=slots.planned(first) >= 0, excused=bool(house.cares.task_unlimited[m]))
