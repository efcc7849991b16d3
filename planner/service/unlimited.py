"""What unlimited power keeps of every comfort, what it is without its loads, what a promise means.

Unlimited power serves every call in the order of the comfort; only what is never on together inside
a comfort still takes turns. All of it comes from the home alone, so it is the same for every plan.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from planner.arrays import Bools, Floats
from planner.compiled import view
from planner.facts.comfort import Comfort, ComfortKind, Promise
from planner.facts.home import SLOTS_PER_DAY, Home
from planner.service.loops.inputs import (
    MODULE,
    NEVER_KW,
    Cares,
    Power,
    State,
    Wiring,
    Works,
)
from planner.service.loops.losing import EMPTY, follow, lose
from planner.service.loops.playing import play_order
from planner.service.nature import HUGE, Nature
from planner.service.relations import padded
from planner.service.state import empty_state
from planner.service.stores import Store

LEAST_SLOTS = 4
"""Slots in which a comfort of slots can lose something, so that it counts (design, section 6)."""
BY_SLOT: frozenset[ComfortKind] = frozenset({"room", "running water", "clock"})
"""Comforts that lose something slot by slot; the others by draw, task, departure or day."""
ROOM_MARGIN_DEGF = 1.0
"""A promise of a room is never tighter than unlimited power and so much (design, section 6)."""


@dataclass(frozen=True)
class Lost:
    """Losses (C, T) and measures (C, D) of all comforts in one play."""

    loss: Floats
    measured: Floats


def with_unlimited(home: Home, nature: Nature, exclusive: Bools) -> Nature:
    """Complete what the comforts lose: with unlimited power, without their loads, promised."""
    works, cares = nature.works, nature.cares
    spell = home.spell_days
    played = _play(works, cares, spell, exclusive)
    cares = cares._replace(
        task_unlimited=np.array([(row == 1).any() for row in played.lost], dtype=np.bool_))
    full = losses_of(works, cares, spell, played)
    none = losses_of(works, cares, spell, empty_state(works, len(cares.kind), 1, spell))
    losable = np.maximum(0.0, none.loss - full.loss)
    shape = (len(cares.kind), len(home.days), SLOTS_PER_DAY)
    by_day = losable.reshape(shape).sum(axis=2)
    weighted = by_day @ cares.day_weight if len(cares.kind) else np.zeros(0)
    counts = (losable > EMPTY).reshape(shape).sum(axis=2)
    importance = np.array([
        float(one.importance) if _counts(home, one, row) else 0.0
        for one, row in zip(home.comforts, counts, strict=True)])
    total = importance.sum()
    bound = np.array([[_bound(one, levels[d], float(full.measured[c, d]))
                       for d in range(len(home.days))]
                      for c, (one, levels) in enumerate(zip(home.comforts, nature.levels,
                                                            strict=True))])
    return replace(nature, cares=cares._replace(
        unlimited=full.loss, losable=weighted,
        share=importance / total if total else importance,
        bound=bound.reshape(len(cares.kind), len(home.days))), unlimited=full.measured,
        losable_by_day=by_day, ran=_ran(played, spell))


def _ran(played: State, spell: int) -> Floats:
    """Largest share of a day of the spell that each load ran, shape (n, D)."""
    shares = played.share.reshape(len(played.share), -1, spell, SLOTS_PER_DAY)
    return np.asarray(shares.mean(axis=3).max(axis=2))


def losses_of(works: Works, cares: Cares, spell: int, state: State) -> Lost:
    """Give what all comforts lose in a state."""
    comforts, slots = len(cares.kind), works.can.shape[1]
    days = slots // SLOTS_PER_DAY
    hopes = np.zeros(state.called.shape, dtype=np.bool_)
    level = np.zeros(slots * spell)
    loss, measured = np.zeros((comforts, slots)), np.zeros((comforts, days))
    looked, at_work = view(cares), view(works)
    for c in range(comforts):
        follow(c, spell, looked, state.given[c], level)
        lose(c, spell, looked, at_work, level, state.share, hopes, state.lost, loss[c],
             measured[c])
    return Lost(loss, measured)


def levels_of(works: Works, cares: Cares, spell: int, state: State) -> Floats:
    """Give the deviation of every comfort after every slot, shape (C, N)."""
    levels = np.zeros((len(cares.kind), works.can.shape[1] * spell))
    for c in range(len(cares.kind)):
        follow(c, spell, cares, state.given[c], levels[c])
    return levels


def _play(works: Works, cares: Cares, spell: int, exclusive: Bools) -> State:
    loads, days = len(works.kind), works.can.shape[1] // SLOTS_PER_DAY
    same = works.comfort[:, None] == works.comfort[None, :]
    foes = exclusive & same & (works.comfort >= 0)[:, None]
    nothing = np.zeros((days, loads))
    wiring = Wiring(draw=nothing, weighed=nothing, rows=1, spell=spell,
                    needs=np.arange(loads, dtype=np.int64)[:, None],
                    foes=padded([list(np.flatnonzero(row)) for row in foes]))
    power = Power(
        caps=np.full(1, NEVER_KW), room_kw=np.full(loads, NEVER_KW), start_kw=np.zeros(loads),
        start_kva=np.zeros(loads), begins_kw=np.zeros((days, loads)),
        dip_ok=np.ones(loads, dtype=np.bool_), unannounced=np.zeros(loads, dtype=np.bool_),
        takeover_kva=NEVER_KW, pick_kva=NEVER_KW, pick_kw=NEVER_KW, average_kw=NEVER_KW,
        floor_kw=0.0, fuel_kw=np.full(days, NEVER_KW))
    state = empty_state(works, len(cares.kind), 1, spell)
    total = state.ceiling.shape[0]
    order = sorted(range(loads), key=lambda i: (works.comfort[i], works.rank[i]))
    play_order(np.array(order, dtype=np.int64), np.full(loads, MODULE, dtype=np.int64), works,
               wiring, power, state, np.zeros(total, dtype=np.bool_), np.zeros(total),
               np.zeros(total))
    return state


def _counts(home: Home, comfort: Comfort, slots: Floats) -> bool:
    """Whether a comfort is among those that coverage counts."""
    by_slot = comfort.kind in BY_SLOT
    may_lose = slots.size > 0 and int(slots.max()) >= (LEAST_SLOTS if by_slot else 1)
    selected = "selected-circuits" in home.transfer_kinds
    return comfort.importance > 0 and may_lose and any(
        selected or home.load(one).allowed - {"direct"} for one in comfort.loads)


def _bound(comfort: Comfort, level: Store, unlimited: float) -> float:
    """Largest measure of a comfort on a day that its promise allows."""
    asked = None if comfort.promise is None else _asked(comfort, comfort.promise, level)
    if asked is None:
        return HUGE
    return max(asked, unlimited + (ROOM_MARGIN_DEGF if comfort.kind == "room" else 0.0))


def _asked(comfort: Comfort, promise: Promise, level: Store) -> float | None:
    """Largest measure that a promise asks for; None where it asks for nothing."""
    if comfort.kind == "room":
        limit = promise.warmest_degf if level.cooling else promise.coldest_degf
        if limit is None or not level.loads:
            return None
        return limit - level.set_degf if level.cooling else level.set_degf - limit
    if comfort.kind == "hot water":
        return promise.cold_showers
    if comfort.kind == "car":
        return None if promise.miles is None else level.full - promise.miles
    if comfort.kind in ("meals", "task"):
        return 0.0 if promise.uncut else None
    return 0.0 if promise.safe else None


__all__ = ["Lost", "levels_of", "losses_of", "with_unlimited"]
