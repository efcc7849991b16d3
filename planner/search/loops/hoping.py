"""What a comfort loses at least, whatever order the loads that wait come in. Compiled.

Every load of it that is not placed runs in each slot in which it has room beside what is, at its
full gain; a task is done if any start leads to its end. Room only shrinks along the order, so no
order does better. With all its loads placed this is what the replay finds.
"""

from __future__ import annotations

from planner.compiled import compiled
from planner.search.loops.inputs import Inputs, Space
from planner.service.loops.going import could_be_done, go
from planner.service.loops.inputs import (
    ADDED,
    BY_CLOCK,
    BY_LEVEL,
    BY_STRETCH,
    CLOCK,
    MOST,
    MOST_MARKED,
    SLOTS,
    STORE,
    State,
)
from planner.service.loops.losing import EMPTY, level_loss
from planner.tolerances import LEVEL

BROKEN = -1.0


@compiled
def least_loss(c: int, day: int, inputs: Inputs, state: State, space: Space) -> float:
    """Give what comfort c loses on a day at least; `BROKEN` if its promise cannot be kept."""
    kind = inputs.cares.kind[c]
    if kind == BY_LEVEL:
        return _by_level(c, day, inputs, state, space)
    if kind == BY_STRETCH:
        return _by_stretch(c, day, inputs, state, space)
    if kind == BY_CLOCK:
        return _by_clock(c, day, inputs, state, space)
    return _by_task(c, day, inputs, state, space)


@compiled
def _helpers(c: int, inputs: Inputs, space: Space) -> int:
    """List the loads of a comfort that are not placed yet; how many there are."""
    count = 0
    for a in range(inputs.cares.load_first[c], inputs.cares.load_first[c + 1]):
        i = inputs.cares.load[a]
        if space.waits[i]:
            space.helper[count] = i
            count += 1
    return count


@compiled
def _given(c: int, p: int, t: int, count: int, inputs: Inputs, state: State, space: Space
           ) -> float:
    """What the loads of a comfort give in a slot at most."""
    give: float = state.given[c, t]
    for b in range(count):
        i = space.helper[b]
        if space.room[i, t]:
            give += inputs.works.gain[i, p]
    return give


@compiled
def _by_level(c: int, day: int, inputs: Inputs, state: State, space: Space) -> float:
    cares = inputs.cares
    count = _helpers(c, inputs, space)
    spell = inputs.wiring.spell
    measure = cares.measure[c]
    keep: float = cares.keep[c]
    full: float = cares.full[c]
    most: float = cares.bound[c, day] + EMPTY
    behind: float = 0.0
    lost: float = 0.0
    for k in range(spell):
        added: float = 0.0
        for s in range(SLOTS):
            p = day * SLOTS + s
            t = (day * spell + k) * SLOTS + s
            need: float = cares.need[c, p]
            behind = max(0.0, keep * behind + need - _given(c, p, t, count, inputs, state, space))
            behind = min(behind, full)
            if behind > most and (measure == MOST or (
                    measure == MOST_MARKED and cares.amount[c, p] > 0.0)):
                return BROKEN
            if cares.weight[c, p] > 0.0 and (k == spell - 1 or measure == ADDED):
                share: float = level_loss(c, p, behind, cares)
                added += share * cares.amount[c, p]
                if k == spell - 1:
                    lost += max(0.0, share * cares.weight[c, p] - cares.unlimited[c, p])
        if measure == ADDED and added > most:
            return BROKEN
    return lost


@compiled
def _by_stretch(c: int, day: int, inputs: Inputs, state: State, space: Space) -> float:
    cares = inputs.cares
    count = _helpers(c, inputs, space)
    spell = inputs.wiring.spell
    keep: float = cares.keep[c]
    full: float = cares.full[c]
    behind: float = 0.0
    running = 0
    for k in range(spell):
        for s in range(SLOTS):
            p = day * SLOTS + s
            t = (day * spell + k) * SLOTS + s
            need: float = cares.need[c, p]
            behind = max(0.0, keep * behind + need - _given(c, p, t, count, inputs, state, space))
            behind = min(behind, full)
            running = running + 1 if behind > cares.limit[c] + LEVEL else 0
            if running > cares.stretch[c]:
                last = day * SLOTS + SLOTS - 1
                if cares.bound[c, day] + EMPTY < 1.0:
                    return BROKEN
                lost: float = max(0.0, cares.weight[c, last] - cares.unlimited[c, last])
                return lost
    return 0.0


@compiled
def _by_clock(c: int, day: int, inputs: Inputs, state: State, space: Space) -> float:
    cares = inputs.cares
    spell = inputs.wiring.spell
    lost: float = 0.0
    for s in range(SLOTS):
        p = day * SLOTS + s
        t = (day * spell + spell - 1) * SLOTS + s
        calling = 0
        dark = 0
        for a in range(cares.load_first[c], cares.load_first[c + 1]):
            i = cares.load[a]
            if inputs.works.can[i, p]:
                calling += 1
                if state.share[i, t] <= 0.0 and not (space.waits[i] and space.room[i, t]):
                    dark += 1
        if dark > 0:
            lost += max(0.0, dark / float(calling) - cares.unlimited[c, p])
    return lost


@compiled
def _by_task(c: int, day: int, inputs: Inputs, state: State, space: Space) -> float:
    cares = inputs.cares
    works = inputs.works
    spell = inputs.wiring.spell
    lost: float = 0.0
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
                if k < 0:
                    continue
                if space.waits[i]:
                    if could_be_done(m, k, spell, space.room[i], works):
                        continue
                elif state.lost[m, k] != 1:
                    continue
                here += 1
                if j == spell - 1 and not cares.task_unlimited[m]:
                    lost += 1.0
        if here > cares.bound[c, day] + EMPTY:
            return BROKEN
    return lost


@compiled
def most_covered(depth: int, inputs: Inputs, space: Space) -> float:
    """Coverage that is left after what the comforts lose at least at a depth."""
    covered: float = inputs.whole
    for c in range(inputs.matters.shape[0]):
        for day in range(inputs.matters.shape[1]):
            covered -= inputs.worth[c, day] * space.lost[depth, c, day]
    return covered


@compiled
def surely_refused(i: int, inputs: Inputs, state: State, space: Space) -> bool:
    """Whether a load that is not placed is refused somewhere, whatever still comes before it.

    Up to its first refusal it would have to run in every slot in which it calls; less room only
    brings one sooner. What a store calls for hangs on the loads ahead of it in its comfort, so
    these must be placed.
    """
    works = inputs.works
    c = works.comfort[i]
    spell = inputs.wiring.spell
    if works.kind[i] == STORE:
        if c < 0:
            return False
        for a in range(inputs.cares.load_first[c], inputs.cares.load_first[c + 1]):
            k = inputs.cares.load[a]
            if k != i and space.waits[k]:
                return False
        for t in range(space.spare.shape[0]):
            space.spare[t] = state.given[c, t]
    if works.kind[i] == CLOCK:
        for t in range(space.spare.shape[0]):
            if works.can[i, t // (spell * SLOTS) * SLOTS + t % SLOTS] and not space.room[i, t]:
                return True
        return False
    go(i, spell, space.room[i], works, space.spare, space.called, space.tried, state.lost)
    refused = False
    for t in range(space.spare.shape[0]):
        refused = refused or (space.called[t] and space.tried[t] <= 0.0)
    return refused
