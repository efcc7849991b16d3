"""How well a comfort is kept: its deviation, its losses, what its promise bounds. Compiled."""

from __future__ import annotations

from planner.arrays import BoolRows, FloatRows, Floats, IntRows
from planner.compiled import compiled
from planner.service.loops.inputs import (
    ADDED,
    BY_CLOCK,
    BY_LEVEL,
    BY_STRETCH,
    BY_TASK,
    MOST,
    MOST_MARKED,
    SLOTS,
    Cares,
    Works,
)
from planner.tolerances import LEVEL

EMPTY = 1e-6
"""A store is empty from so little before its end on, in its own unit."""


@compiled
def follow(c: int, spell: int, cares: Cares, given: Floats, level: Floats) -> None:
    """Give the deviation of comfort c after every slot, for what its loads have given.

    `given` and `level` (N,); every spell begins without deviation.
    """
    for day in range(cares.day_weight.shape[0]):
        behind: float = 0.0
        for k in range(spell):
            for s in range(SLOTS):
                t = (day * spell + k) * SLOTS + s
                need = cares.need[c, day * SLOTS + s]
                behind = max(0.0, cares.keep[c] * behind + need - given[t])
                behind = min(behind, cares.full[c])
                level[t] = behind


@compiled
def level_loss(c: int, p: int, level: float, cares: Cares) -> float:
    """Loss of comfort c at a deviation in slot p, 0 to 1."""
    low: float = cares.low[c, p]
    high: float = cares.high[c, p]
    if level <= low + LEVEL and high - low > EMPTY:
        return 0.0
    if level >= high - EMPTY:
        return 1.0
    if level <= low:
        return 0.0
    return (level - low) / (high - low)


@compiled
def lose(
    c: int, spell: int, cares: Cares, works: Works, level: Floats, share: FloatRows,
    hopes: BoolRows, lost: IntRows, loss: Floats, measured: Floats,
) -> None:
    """Give what comfort c loses on the judged days, and what its promise bounds.

    Parameters
    ----------
    c, spell : int
    level : (N,)
        Its deviation.
    share, hopes : (n, N)
        A load counts as on where its share is above 0 or `hopes` is marked.
    lost : (M, spell)
    loss : (T,)
        Filled: weighted loss of each slot; a stretch in the last slot of the day, a task in the
        last slot of its window.
    measured : (D,)
        Filled.
    """
    for p in range(loss.shape[0]):
        loss[p] = 0.0
    for day in range(measured.shape[0]):
        measured[day] = 0.0
    if cares.kind[c] == BY_LEVEL:
        _by_level(c, spell, cares, level, loss, measured)
    elif cares.kind[c] == BY_STRETCH:
        _by_stretch(c, spell, cares, level, loss, measured)
    elif cares.kind[c] == BY_CLOCK:
        _by_clock(c, spell, cares, works, share, hopes, loss)
    elif cares.kind[c] == BY_TASK:
        _by_task(c, spell, cares, works, lost, loss, measured)


@compiled
def _by_level(
    c: int, spell: int, cares: Cares, level: Floats, loss: Floats, measured: Floats
) -> None:
    for day in range(measured.shape[0]):
        for k in range(spell):
            added: float = 0.0
            for s in range(SLOTS):
                p = day * SLOTS + s
                here: float = level[(day * spell + k) * SLOTS + s]
                if cares.measure[c] == MOST or (
                        cares.measure[c] == MOST_MARKED and cares.amount[c, p] > 0.0):
                    measured[day] = max(measured[day], here)
                if cares.weight[c, p] > 0.0:
                    share: float = level_loss(c, p, here, cares)
                    added += share * cares.amount[c, p]
                    if k == spell - 1:
                        loss[p] = share * cares.weight[c, p]
            if cares.measure[c] == ADDED:
                measured[day] = max(measured[day], added)


@compiled
def _by_stretch(
    c: int, spell: int, cares: Cares, level: Floats, loss: Floats, measured: Floats
) -> None:
    for day in range(measured.shape[0]):
        running = 0
        bad = False
        for t in range(day * spell * SLOTS, (day + 1) * spell * SLOTS):
            if level[t] > cares.limit[c] + LEVEL:
                running += 1
                if running > cares.stretch[c]:
                    bad = True
            else:
                running = 0
        if bad:
            measured[day] = 1.0
            loss[day * SLOTS + SLOTS - 1] = cares.weight[c, day * SLOTS + SLOTS - 1]


@compiled
def _by_clock(
    c: int, spell: int, cares: Cares, works: Works, share: FloatRows, hopes: BoolRows, loss: Floats
) -> None:
    for p in range(loss.shape[0]):
        t = (p // SLOTS * spell + spell - 1) * SLOTS + p % SLOTS
        calling = 0
        dark = 0
        for a in range(cares.load_first[c], cares.load_first[c + 1]):
            i = cares.load[a]
            if works.can[i, p]:
                calling += 1
                if share[i, t] <= 0.0 and not hopes[i, t]:
                    dark += 1
        if dark > 0:
            loss[p] = dark / float(calling)


@compiled
def _by_task(
    c: int, spell: int, cares: Cares, works: Works, lost: IntRows, loss: Floats, measured: Floats
) -> None:
    for day in range(measured.shape[0]):
        for j in range(spell):
            here = 0
            for a in range(cares.load_first[c], cares.load_first[c + 1]):
                i = cares.load[a]
                for m in range(works.task_first[i], works.task_first[i + 1]):
                    if works.task_day[m] != day:
                        continue
                    closing = works.task_start[m] + works.task_length[m] + max(
                        works.task_wait[m], works.task_pauses[m]) - 1
                    k = j - closing // SLOTS
                    if k < 0 or lost[m, k] != 1:
                        continue
                    here += 1
                    if j == spell - 1 and not cares.task_unlimited[m]:
                        loss[day * SLOTS + closing % SLOTS] += 1.0
            measured[day] = max(measured[day], float(here))


@compiled
def kept_of(c: int, cares: Cares, loss: Floats, lost_by_day: Floats) -> float:
    """Share to which comfort c is kept; `lost_by_day` (D,) is filled."""
    lost: float = 0.0
    for day in range(lost_by_day.shape[0]):
        lost_by_day[day] = 0.0
        for s in range(SLOTS):
            more: float = loss[day * SLOTS + s] - cares.unlimited[c, day * SLOTS + s]
            if more > 0.0:
                lost_by_day[day] += more
        lost += cares.day_weight[day] * lost_by_day[day]
    if cares.losable[c] <= 0.0:
        return 1.0
    return 1.0 - lost / float(cares.losable[c])


@compiled
def is_promised(c: int, cares: Cares, measured: Floats) -> bool:
    """Whether the promise of comfort c is kept on every day."""
    kept = True
    for day in range(measured.shape[0]):
        kept = kept and measured[day] <= cares.bound[c, day] + EMPTY
    return kept
