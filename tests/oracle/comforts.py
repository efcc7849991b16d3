"""How well a comfort is kept: its losses, and how much of it can be lost.

Settled here:

- a window closes in the last slot in which its work could be done: it is judged on that day;
- every slot with a part in a tank's pattern is one draw;
- a departure is judged by what the battery has in the last slot at home;
- a comfort counts if something can be lost in at least 4 slots, or in one draw, task, departure or
  day, however little of each;
- a pit that has overflowed has done so until the end of the spell.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.physics.comfort import farthest_livable_degf
from tests.oracle.slot_by_slot import DONE
from tests.oracle.wants import DAY

HAIR = 1e-9
BARELY_NOTED_DEGF, TANK_HOT_SHARE, WARM_SLOTS = 3.0, 0.7, 8
LEAST_SLOTS = 4


@dataclass(frozen=True)
class Lived:
    """What a comfort went through in a spell of one design day.

    loss, weight
        Loss of every event (slot, draw, task, departure, day), (m,), and what it counts.
    day
        Day of the spell of each event, from 0.
    """

    loss: np.ndarray
    weight: np.ndarray
    day: np.ndarray

    def on(self, k):
        """Only what happened on day k."""
        here = self.day == k
        return Lived(self.loss[here], self.weight[here], self.day[here])


def lived(comfort, wants, deviation, called, ran, state):
    """Turn a spell into losses.

    `wants` by load id; `deviation` (T,) behind the last connected load; `called`, `ran` and `state`
    by load id as the plain rule gives them.
    """
    slots = len(deviation)
    mine = [load_id for load_id in comfort.loads if wants[load_id] is not None]
    everything = np.arange(slots)
    if not mine:
        return Lived(np.zeros(0), np.zeros(0), np.zeros(0, dtype=int))
    if comfort.kind in {"meals", "task"}:
        return _tasks(mine, wants, state, slots)
    if comfort.kind == "clock":
        calling = sum(called[load_id].astype(float) for load_id in mine)
        dark = sum((called[load_id] & ~ran[load_id]).astype(float) for load_id in mine)
        at = everything[calling > 0]
        return Lived(dark[at] / calling[at], np.ones(len(at)), at // DAY)
    one = wants[mine[0]]
    if comfort.kind == "room":
        farthest = farthest_livable_degf(one.set_degf, cooling=one.cools)
        loss = (deviation - BARELY_NOTED_DEGF) / (farthest - BARELY_NOTED_DEGF)
        return Lived(np.clip(loss, 0.0, 1.0), np.ones(slots), everything // DAY)
    if comfort.kind == "hot water":
        at = everything[one.draws > 0.0]
        empty = (deviation[at] / one.cap - TANK_HOT_SHARE) / (1.0 - TANK_HOT_SHARE)
        return Lived(np.clip(empty, 0.0, 1.0), one.draws[at], at // DAY)
    if comfort.kind == "car":
        at = np.array([slot for slot, _ in one.leaves], dtype=int)
        wanted = np.array([miles for _, miles in one.leaves])
        short = np.maximum(0.0, wanted - (one.cap - deviation[at])) / np.where(wanted, wanted, 1.0)
        return Lived(short, np.ones(len(at)), at // DAY)
    if comfort.kind == "running water":
        at = everything[one.need > 0.0]
        return Lived((deviation[at] >= one.cap - HAIR).astype(float), np.ones(len(at)), at // DAY)
    days = np.arange(slots // DAY)
    if comfort.kind == "pit":
        full = (deviation >= one.cap - HAIR).reshape(-1, DAY).any(axis=1)
        full = np.logical_or.accumulate(full)
        return Lived(full.astype(float), np.ones(len(days)), days)
    return Lived(_spoilt(deviation, one.begins), np.ones(len(days)), days)


def _tasks(mine, wants, state, slots):
    loss, day = [], []
    for load_id in mine:
        for (start, length, wait, pauses), end in zip(wants[load_id].windows, state[load_id],
                                                      strict=False):
            closes = start + length + max(wait, pauses) - 1
            if closes < slots:
                loss.append(float(end != DONE))
                day.append(closes // DAY)
    return Lived(np.array(loss), np.ones(len(loss)), np.array(day, dtype=int))


def _spoilt(deviation, begins):
    """Whether food has been too warm for too long on end at any time up to the end of each day."""
    spoilt, warm, lost = [], 0, False
    for t, degf in enumerate(deviation):
        warm = warm + 1 if degf > begins + HAIR else 0
        lost = lost or warm > WARM_SLOTS
        if t % DAY == DAY - 1:
            spoilt.append(float(lost))
    return np.array(spoilt)


def can_be_lost(comfort, worst, best):
    """Whether so much can be lost on the judged day that it counts: slots, or one of the others."""
    least = LEAST_SLOTS if comfort.kind in {"room", "running water", "clock"} else 1
    return int((worst.loss > best.loss + 1e-6).sum()) >= least


def lost_of(got, best):
    """What was lost beyond what unlimited power loses, weighted."""
    return float((got.weight * np.maximum(0.0, got.loss - best.loss)).sum())
