"""Which loads can be on in which slots, and on which days that could be too much on average."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.arrays import Bools
from planner.model.levels import Level
from planner.physics.engine import LEAST_SHARE
from planner.service.choice import DIRECT, MODULE
from planner.service.nature import HUGE
from planner.tolerances import LEVEL

if TYPE_CHECKING:
    from planner.model.tables import Tables


def turns_of(tables: Tables) -> Bools:
    """Slots in which it matters that a load is on of which that is not known, shape (n, N).

    Behind a module; or direct behind an earlier stage of its comfort, which may be off. What a
    load does in other slots is asked by nothing: the truth without it is still within all limits.
    """
    works = tables.house.works
    useful = np.zeros((tables.house.count, tables.slots.count), dtype=np.bool_)
    for c, t in tables.dark:
        for i in tables.loads_of(c):
            useful[i, t] = works.can[i, tables.slots.of_day[t]]
    for piece in tables.pieces:
        if piece.known:
            useful[piece.load, piece.first:piece.deadline] = True
    for c, level in tables.levels.items():
        for i in tables.loads_of(c):
            useful[i] = level.matters & _may_call(tables, i, level)
    useful |= tables.owed
    later = ~tables.alone.leads[:, tables.slots.day] & tables.allowed[:, DIRECT][:, None]
    found: Bools = useful & (tables.allowed[:, MODULE][:, None] | later) & tables.beside.fits
    return found


def _may_call(tables: Tables, i: int, level: Level) -> Bools:
    """Slots in which a store can call at all: where its loads never ran, it would."""
    works, slots = tables.house.works, tables.slots
    before = np.concatenate([[0.0], level.worst[:-1]])
    for day in range(slots.days):
        before[slots.spell_of(day).start] = HUGE if slots.last < slots.spell else 0.0
    behind = works.keep[i] * before + level.need
    calls: Bools = (works.can[i, slots.of_day] & (behind > 0.0)
                    & (behind >= works.threshold[i, slots.of_day] - LEVEL))
    return calls


def owed_of(tables: Tables) -> Bools:
    """Slots in which must-run loads run wherever they are connected, as far as that is known."""
    leads = tables.alone.leads[:, tables.slots.day]
    found: Bools = (tables.house.must_run[:, None] & leads
                    & tables.alone.called[:, tables.slots.replayed])
    return found


def awake_of(tables: Tables) -> Bools:
    """Slots in which a load that others wake may be on for itself or for them, shape (n, N)."""
    found = np.zeros((tables.house.count, tables.slots.count), dtype=np.bool_)
    for k in tables.woken.tolist():
        asking = [k, *np.flatnonzero(tables.house.closure[:, k]).tolist()]
        found[k] = (tables.certain[asking] > 0.0).any(axis=0) | tables.turns[asking].any(axis=0)
    return found


def heavy_of(tables: Tables) -> Bools:
    """Slots that can be above the floor on days whose average could be too much, shape (N,)."""
    power = (tables.kw * tables.possible).sum(axis=0)
    found = np.zeros(tables.slots.count, dtype=np.bool_)
    floors = [LEAST_SHARE * one.derated_kw for one in tables.supplies]
    for day in range(tables.slots.days):
        for here in tables.slots.days_of(day):
            most = [np.clip(power[here], floor, max(floor, one.capacity_kw)).mean()
                    > one.average_kw for floor, one in zip(floors, tables.supplies, strict=True)]
            found[here] = any(most) & (power[here] > min(floors))
    return found
