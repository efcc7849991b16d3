"""Where a load has room beside what is on, compiled; and putting it there."""

from __future__ import annotations

from planner.arrays import Bools, Floats
from planner.compiled import compiled
from planner.service.loops.inputs import KW_ROW, NEVER_KW, SLOTS, Power, State, Wiring, Works
from planner.tolerances import LIMIT


@compiled
def clear_state(state: State) -> None:
    """Nothing is on yet, and no work is done."""
    for t in range(state.ceiling.shape[0]):
        state.ceiling[t] = NEVER_KW
        state.mean_kw[t] = 0.0
        for r in range(state.sums.shape[0]):
            state.sums[r, t] = 0.0
    for c in range(state.given.shape[0]):
        for t in range(state.given.shape[1]):
            state.given[c, t] = 0.0
    for i in range(state.share.shape[0]):
        for t in range(state.share.shape[1]):
            state.share[i, t] = 0.0
            state.called[i, t] = False
    for m in range(state.lost.shape[0]):
        for k in range(state.lost.shape[1]):
            state.lost[m, k] = 1


@compiled
def has_room(i: int, t: int, day: int, wiring: Wiring, power: Power, state: State) -> bool:
    """Whether load i, with what it wakes, has room in slot t beside all that is on."""
    if state.share[i, t] > 0.0:
        return True
    first = day * wiring.rows
    added_kw: float = 0.0
    ceiling: float = state.ceiling[t]
    for a in range(wiring.needs.shape[1]):
        k = wiring.needs[i, a]
        if k < 0:
            break
        if state.share[k, t] > 0.0:
            continue
        if not power.dip_ok[k]:
            return False
        for b in range(wiring.foes.shape[1]):
            foe = wiring.foes[k, b]
            if foe < 0:
                break
            if state.share[foe, t] > 0.0:
                return False
        added_kw += wiring.draw[first, k]
        ceiling = min(ceiling, power.room_kw[k] + wiring.draw[first, k])
    total_kw: float = state.sums[KW_ROW, t] + added_kw
    if total_kw > power.caps[KW_ROW] + LIMIT or total_kw > ceiling + LIMIT:
        return False
    for r in range(1, wiring.rows):
        added_a: float = 0.0
        for a in range(wiring.needs.shape[1]):
            k = wiring.needs[i, a]
            if k < 0:
                break
            if state.share[k, t] <= 0.0:
                added_a += wiring.draw[first + r, k]
        if state.sums[r, t] + added_a > power.caps[r] + LIMIT:
            return False
    return True


@compiled
def mark_room(
    i: int, works: Works, wiring: Wiring, power: Power, state: State, room: Bools
) -> None:
    """Mark the slots in which load i could be on and has room; `room` (N,) is filled."""
    days = works.can.shape[1] // SLOTS
    for day in range(days):
        for k in range(wiring.spell):
            for s in range(SLOTS):
                t = (day * wiring.spell + k) * SLOTS + s
                room[t] = works.can[i, day * SLOTS + s] and has_room(
                    i, t, day, wiring, power, state)


@compiled
def turn_on(
    i: int, t: int, day: int, share: float, wiring: Wiring, power: Power, state: State
) -> None:
    """Put load i on in slot t for a share of it, with what it wakes."""
    first = day * wiring.rows
    for a in range(wiring.needs.shape[1]):
        k = wiring.needs[i, a]
        if k < 0:
            break
        before: float = state.share[k, t]
        if before <= 0.0:
            for r in range(wiring.rows):
                state.sums[r, t] += wiring.draw[first + r, k]
            state.ceiling[t] = min(state.ceiling[t], power.room_kw[k] + wiring.draw[first, k])
        if share > before:
            state.mean_kw[t] += wiring.draw[first, k] * (share - before)
            state.share[k, t] = share


@compiled
def put(i: int, ran: Floats, wiring: Wiring, power: Power, state: State) -> None:
    """Put load i on wherever it ran; `ran` (N,) has the share of each slot."""
    length = wiring.spell * SLOTS
    for t in range(ran.shape[0]):
        if ran[t] > 0.0:
            turn_on(i, t, t // length, ran[t], wiring, power, state)
