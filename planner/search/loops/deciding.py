"""Whether a load still fits beside what is on, and whose start figures said that it does not.

A search that no start figure of a motor decided is the same with any gentler start of it. Compiled.
"""

from __future__ import annotations

from planner.compiled import compiled
from planner.search.loops.inputs import Inputs, Space
from planner.service.loops.inputs import KW_ROW, SLOTS, Power, State
from planner.service.loops.room import has_room
from planner.tolerances import LIMIT


@compiled
def fits_beside(b: int, t: int, e: int, day: int, single: bool, room_kw: float, inputs: Inputs,
                power: Power, state: State, space: Space) -> bool:
    """Whether a load that waits has room in slot t, the e-th that is listed; notes who decided."""
    wiring = inputs.wiring
    if single and state.share[b, t] <= 0.0:
        first = day * wiring.rows
        own_kw: float = wiring.draw[first, b]
        kw: float = space.tight_kw[e] + own_kw
        if kw <= space.limit_kw[e] and kw <= room_kw + own_kw + LIMIT:
            for r in range(1, wiring.rows):
                if state.sums[r, t] + wiring.draw[first + r, b] > power.caps[r] + LIMIT:
                    return False
            return True
        note(b, t, day, inputs, power, state, space)
        return False
    if has_room(b, t, day, wiring, power, state):
        return True
    note(b, t, day, inputs, power, state, space)
    return False


@compiled
def note(b: int, t: int, day: int, inputs: Inputs, power: Power, state: State, space: Space
         ) -> None:
    """Note whose start figures leave load b no room in slot t, if neither a limit nor a foe does.

    Of several that do one is enough: with its figures as they are the load is refused all the same.
    """
    wiring = inputs.wiring
    first = day * wiring.rows
    for r in range(wiring.rows):
        total: float = state.sums[r, t]
        for a in range(wiring.needs.shape[1]):
            k = wiring.needs[b, a]
            if k < 0:
                break
            if state.share[k, t] <= 0.0:
                total += wiring.draw[first + r, k]
        if total > power.caps[r] + LIMIT:
            return
    total_kw: float = state.sums[KW_ROW, t]
    for a in range(wiring.needs.shape[1]):
        k = wiring.needs[b, a]
        if k < 0:
            break
        if state.share[k, t] <= 0.0:
            total_kw += wiring.draw[first, k]
            for m in range(wiring.foes.shape[1]):
                foe = wiring.foes[k, m]
                if foe < 0:
                    break
                if state.share[foe, t] > 0.0:
                    return
    found = -1
    for a in range(wiring.needs.shape[1]):
        k = wiring.needs[b, a]
        if k < 0:
            break
        if state.share[k, t] <= 0.0 and (not power.dip_ok[k] or total_kw > (
                power.room_kw[k] + wiring.draw[first, k] + LIMIT)):
            if space.decided[k]:
                return
            found = k
    for k in range(space.decided.shape[0]):
        if state.share[k, t] > 0.0 and total_kw > (
                power.room_kw[k] + wiring.draw[first, k] + LIMIT):
            if space.decided[k]:
                return
            found = k
    if found >= 0:
        space.decided[found] = True


@compiled
def note_at_first(b: int, inputs: Inputs, power: Power, state: State, space: Space) -> None:
    """Note who leaves load b no room in slots in which it could be on, before any order."""
    for t in range(space.ran.shape[0]):
        day = inputs.day_of[t]
        if inputs.works.can[b, day * SLOTS + t % SLOTS] and not space.room[b, t]:
            note(b, t, day, inputs, power, state, space)


@compiled
def mark_free(inputs: Inputs, power: Power, state: State, space: Space) -> None:
    """Mark the slots in which all loads that wait have room together, whatever is admitted."""
    wiring = inputs.wiring
    for t in range(space.ran.shape[0]):
        space.free[t] = True
        day = inputs.day_of[t]
        first = day * wiring.rows
        p = day * SLOTS + t % SLOTS
        ceiling: float = min(power.caps[KW_ROW], state.ceiling[t])
        for r in range(wiring.rows):
            total: float = state.sums[r, t]
            for n in range(space.member.shape[0]):
                b = space.member[n]
                if b < 0:
                    break
                if not inputs.works.can[b, p]:
                    continue
                if not space.room[b, t]:
                    space.free[t] = False
                    break
                for a in range(wiring.needs.shape[1]):
                    k = wiring.needs[b, a]
                    if k < 0:
                        break
                    total += wiring.draw[first + r, k]
                    ceiling = min(ceiling, power.room_kw[k] + wiring.draw[first, k])
                    if wiring.foes[k, 0] >= 0:
                        space.free[t] = False
            if total > power.caps[r] or (r == KW_ROW and total > ceiling):
                space.free[t] = False
            if not space.free[t]:
                break
