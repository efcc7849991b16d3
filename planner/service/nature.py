"""How the loads of a home work and what its comforts lose, as arrays for the loops."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from planner.arrays import Floats, Ints
from planner.facts.comfort import Comfort, ComfortKind
from planner.facts.home import SLOTS_PER_DAY, Home, Load
from planner.physics.comfort import COMFORT_DEGF
from planner.service.loops.inputs import (
    ADDED,
    BAD,
    BY_CLOCK,
    BY_LEVEL,
    BY_STRETCH,
    BY_TASK,
    CLOCK,
    MOST,
    MOST_MARKED,
    STORE,
    TASK,
    TASKS,
    WOKEN,
    Cares,
    Works,
)
from planner.service.stores import BACK_UP_BEHIND_DEGF, SAFE_SLOTS, Store, nothing, store_of
from planner.service.tasks import tasks_of
from planner.service.use import cached_calls, use_on
from planner.wiring.rooms import BACK_UP

HUGE = 1e9
"""A bound that nothing reaches: without a promise."""

STORES: frozenset[ComfortKind] = frozenset(
    {"room", "hot water", "car", "food", "running water", "pit"})
KINDS: dict[ComfortKind, tuple[int, int]] = {
    "room": (BY_LEVEL, MOST), "hot water": (BY_LEVEL, ADDED), "car": (BY_LEVEL, MOST_MARKED),
    "running water": (BY_LEVEL, ADDED), "food": (BY_STRETCH, BAD), "pit": (BY_STRETCH, BAD),
    "clock": (BY_CLOCK, MOST), "meals": (BY_TASK, TASKS), "task": (BY_TASK, TASKS),
}
"""How a comfort loses, and what of it a promise bounds."""


@dataclass(frozen=True)
class Nature:
    """A home's loads and comforts over its design days; `cares` without what depends on play.

    `levels[c][d]` is the store of comfort c on design day d; `unlimited` (C, D) the measure that
    unlimited power keeps, `losable_by_day` (C, D) what a comfort can lose, `ran` (n, D) the largest
    share of a day that a load runs with unlimited power.
    """

    works: Works
    cares: Cares
    levels: tuple[tuple[Store, ...], ...]
    unlimited: Floats = field(default_factory=lambda: np.zeros((0, 0)))
    losable_by_day: Floats = field(default_factory=lambda: np.zeros((0, 0)))
    ran: Floats = field(default_factory=lambda: np.zeros((0, 0)))


def nature_of(home: Home) -> Nature:
    """Turn natures and comforts into arrays."""
    days, n, comforts = len(home.days), len(home.loads), home.comforts
    place = {load.id: i for i, load in enumerate(home.loads)}
    total = days * SLOTS_PER_DAY
    levels = tuple(tuple(store_of(home, one, day) if one.kind in STORES else nothing()
                         for day in home.days) for one in comforts)
    works = Works(
        kind=np.zeros(n, dtype=np.int64), comfort=np.full(n, -1, dtype=np.int64),
        rank=np.zeros(n, dtype=np.int64), can=np.zeros((n, total), dtype=np.bool_),
        gain=np.zeros((n, total)), threshold=np.full((n, total), HUGE), need=np.zeros((n, total)),
        keep=np.ones(n), full=np.full(n, HUGE),
        button=np.array([load.restarts == "start button" for load in home.loads], dtype=np.bool_),
        **_tasks(home))
    for c, comfort in enumerate(comforts):
        for rank, load_id in enumerate(comfort.loads):
            works.comfort[place[load_id]], works.rank[place[load_id]] = c, rank
        _write_levels(home, works, comfort, levels[c], place)
    for i, load in enumerate(home.loads):
        works.kind[i] = _kind(load)
        if works.kind[i] == CLOCK:
            works.can[i] = np.concatenate(
                [cached_calls(use_on(load, day), day) for day in home.days])
        elif works.kind[i] == TASK:
            for m in range(works.task_first[i], works.task_first[i + 1]):
                last = works.task_start[m] + works.task_length[m] + max(
                    works.task_wait[m], works.task_pauses[m])
                slots = np.arange(works.task_start[m], last) % SLOTS_PER_DAY
                works.can[i, works.task_day[m] * SLOTS_PER_DAY + slots] = True
    return Nature(works, _cares(home, works, levels), levels)


def _kind(load: Load) -> int:
    if load.nature == "woken":
        return WOKEN
    if load.nature == "clock":
        return CLOCK
    if load.nature == "task":
        return TASK
    return STORE


def _tasks(home: Home) -> dict[str, Ints]:
    """Tasks of all loads, load by load and day by day."""
    first, rows = [0], []
    for load in home.loads:
        if load.nature == "task":
            rows += [(d, *task) for d, day in enumerate(home.days) for task in tasks_of(load, day)]
        first.append(len(rows))
    columns = np.array(rows, dtype=np.int64).reshape(len(rows), 5).T.copy()
    names = ("task_day", "task_start", "task_length", "task_wait", "task_pauses")
    return {"task_first": np.array(first, dtype=np.int64),
            **{name: np.ascontiguousarray(column)
               for name, column in zip(names, columns, strict=True)}}


def _write_levels(
    home: Home, works: Works, comfort: Comfort, levels: tuple[Store, ...], place: dict[str, int]
) -> None:
    for d, level in enumerate(levels):
        here = slice(d * SLOTS_PER_DAY, (d + 1) * SLOTS_PER_DAY)
        for load_id, gain in zip(level.loads, level.gains, strict=True):
            i = place[load_id]
            works.gain[i, here], works.need[i, here] = gain, level.need
            works.keep[i], works.full[i] = level.keep, level.full
            usual = BACK_UP_BEHIND_DEGF if home.loads[i].kind == BACK_UP else 0.0
            behind = home.loads[i].behind_degf
            least = np.minimum(0.5 * gain, 0.5 * _begins(comfort, level))
            works.threshold[i, here] = np.maximum(usual if behind is None else behind, least)
            works.can[i, here] = (gain > 0.0) & bool((level.need > 0.0).any())


def _begins(comfort: Comfort, level: Store) -> float:
    """Deviation at which loss begins, the least of the day."""
    if comfort.kind == "room":
        return COMFORT_DEGF
    return float(level.low.min()) if level.low.size else 0.0


def _cares(home: Home, works: Works, levels: tuple[tuple[Store, ...], ...]) -> Cares:
    comforts, days = home.comforts, len(home.days)
    place = {load.id: i for i, load in enumerate(home.loads)}
    count, total = len(comforts), days * SLOTS_PER_DAY

    def rows(name: str) -> np.ndarray:
        found = [np.concatenate([getattr(day, name) for day in one]) for one in levels]
        return np.array(found, dtype=np.float64).reshape(count, total)

    weights = np.array([day.weight for day in home.days], dtype=np.float64)
    low = rows("low")
    return Cares(
        kind=np.array([KINDS[one.kind][0] for one in comforts], dtype=np.int64),
        measure=np.array([KINDS[one.kind][1] for one in comforts], dtype=np.int64),
        load_first=np.concatenate([[0], np.cumsum([len(one.loads) for one in comforts])]).astype(
            np.int64),
        load=np.array([place[load_id] for one in comforts for load_id in one.loads],
                      dtype=np.int64),
        keep=np.array([_of(one, "keep", 1.0) for one in levels], dtype=np.float64),
        full=np.array([_of(one, "full", HUGE) for one in levels], dtype=np.float64),
        need=rows("need"), weight=rows("weight"), low=low, high=rows("high"),
        limit=np.array([_limit(one) for one in levels], dtype=np.float64),
        stretch=np.array([SAFE_SLOTS if one.kind == "food" else 0 for one in comforts],
                         dtype=np.int64),
        amount=rows("amount"),
        unlimited=np.zeros((count, total)),
        task_unlimited=np.zeros(len(works.task_start), dtype=np.bool_),
        bound=np.full((count, days), HUGE), day_weight=weights / weights.sum(),
        losable=np.zeros(count), share=np.zeros(count))


def _limit(days: tuple[Store, ...]) -> float:
    """Deviation beyond which a stretch counts; the same on all days."""
    return next((float(day.low[0]) for day in days if day.loads), HUGE)


def _of(days: tuple[Store, ...], name: str, otherwise: float) -> float:
    """Give what is the same on all days on which the store is in use."""
    return next((float(getattr(day, name)) for day in days if day.loads), otherwise)
