"""Placing one load next in the order, and taking it back. Compiled.

Everything that a placing changes is written down first, so that taking it back gives the same
floats.
"""

from __future__ import annotations

from planner.compiled import compiled
from planner.search.loops.deciding import fits_beside
from planner.search.loops.hoping import BROKEN, least_loss, most_covered, surely_refused
from planner.search.loops.inputs import GONE, TABLE, Asked, Inputs, Space
from planner.search.loops.watching import is_in_bounds, list_onsets
from planner.service.loops.going import go
from planner.service.loops.inputs import KW_ROW, SLOTS, Power, State
from planner.tolerances import LIMIT, SAME_COVERAGE

ROUNDING = 1e-10
"""Of a coverage put together from differences: what is this far below a bar is below it."""


@compiled
def run(i: int, depth: int, inputs: Inputs, state: State, space: Space) -> bool:
    """Let load i run wherever it calls and has room, on paper; False if it must and is refused.

    Nothing of it is on yet, but its comfort has what it gives; the state is marked.
    """
    wiring = inputs.wiring
    c = inputs.works.comfort[i]
    slots = space.ran.shape[0]
    if c >= 0:
        for t in range(slots):
            space.was_given[depth, t] = state.given[c, t]
        go(i, wiring.spell, space.room[i], inputs.works, state.given[c], state.called[i],
           space.ran, state.lost)
    else:
        go(i, wiring.spell, space.room[i], inputs.works, space.spare, state.called[i], space.ran,
           state.lost)
    space.waits[i] = False
    space.mark[depth] = space.mark[depth - 1] ^ inputs.load_keys[i]
    count = 0
    refused = False
    for t in range(slots):
        if space.ran[t] > 0.0:
            space.slot[depth, count] = t
            count += 1
            for a in range(wiring.needs.shape[1]):
                k = wiring.needs[i, a]
                if k < 0:
                    break
                if state.share[k, t] <= 0.0:
                    space.mark[depth] = space.mark[depth] ^ inputs.keys[k, t]
        else:
            refused = refused or state.called[i, t]
    space.filled[depth] = count
    return not (refused and inputs.must_run[i])


@compiled
def put(i: int, depth: int, inputs: Inputs, asked: Asked, power: Power, state: State, space: Space
        ) -> int:
    """Turn load i on where it runs; how many of these slots are not free, which are listed.

    `depth` is the row for what is written down.
    """
    wiring = inputs.wiring
    rows = wiring.rows
    for n in range(space.touched.shape[0]):
        space.touched[n] = False
    tight = 0
    for e in range(space.filled[depth]):
        t = space.slot[depth, e]
        space.touched[t // SLOTS] = True
        space.stirred[t] = True
        for r in range(rows):
            space.was_sums[depth, r, e] = state.sums[r, t]
        space.was_ceiling[depth, e] = state.ceiling[t]
        space.was_kw[depth, e] = space.kw[t]
        space.was_mean[depth, e] = space.mean_kw[t]
        day = inputs.day_of[t]
        first = day * rows
        ran: float = space.ran[t]
        for a in range(wiring.needs.shape[1]):
            k = wiring.needs[i, a]
            if k < 0:
                break
            before: float = state.share[k, t]
            space.was_share[depth, a, e] = before
            kw: float = wiring.draw[first, k]
            if before <= 0.0:
                for r in range(rows):
                    state.sums[r, t] += wiring.draw[first + r, k]
                state.ceiling[t] = min(state.ceiling[t], power.room_kw[k] + kw)
                if asked.counted[i]:
                    space.kw[t] += wiring.weighed[day, k]
            if ran > before:
                state.share[k, t] = ran
                if asked.counted[i]:
                    space.mean_kw[t] += kw * (ran - before)
        if not space.free[t]:
            space.tight[tight] = t
            space.tight_kw[tight] = state.sums[KW_ROW, t]
            space.limit_kw[tight] = min(power.caps[KW_ROW], state.ceiling[t]) + LIMIT
            tight += 1
    return tight


@compiled
def take_back(i: int, depth: int, inputs: Inputs, state: State, space: Space) -> None:
    """Undo the placing of load i that was written down in a row, and what it left no room for."""
    wiring = inputs.wiring
    c = inputs.works.comfort[i]
    if c >= 0:
        for t in range(space.ran.shape[0]):
            state.given[c, t] = space.was_given[depth, t]
    for e in range(space.filled[depth]):
        t = space.slot[depth, e]
        for r in range(wiring.rows):
            state.sums[r, t] = space.was_sums[depth, r, e]
        state.ceiling[t] = space.was_ceiling[depth, e]
        space.kw[t] = space.was_kw[depth, e]
        space.mean_kw[t] = space.was_mean[depth, e]
        for a in range(wiring.needs.shape[1]):
            k = wiring.needs[i, a]
            if k < 0:
                break
            state.share[k, t] = space.was_share[depth, a, e]
    for e in range(space.gone_first[depth], space.at[GONE]):
        space.room[space.gone_load[e], space.gone_slot[e]] = True
    space.at[GONE] = space.gone_first[depth]
    space.waits[i] = True


@compiled
def narrow(tight: int, inputs: Inputs, power: Power, state: State, space: Space) -> bool:
    """Take from the loads that wait the slots in which too little room is left, of those listed.

    False if a load that must run will be refused.
    """
    works = inputs.works
    top = space.at[GONE]
    fine = True
    for n in range(space.member.shape[0]):
        b = space.member[n]
        if b < 0:
            break
        if not space.waits[b]:
            continue
        c = works.comfort[b]
        single = inputs.single[b]
        room_kw: float = power.room_kw[b]
        went = False
        for e in range(tight):
            t = space.tight[e]
            if not space.room[b, t]:
                continue
            day = inputs.day_of[t]
            if not fits_beside(b, t, e, day, single, room_kw, inputs, power, state, space):
                space.room[b, t] = False
                space.gone_load[top] = b
                space.gone_slot[top] = t
                top += 1
                went = True
                if c >= 0:
                    space.changed[c, day] = inputs.matters[c, day]
        if went and inputs.must_run[b]:
            fine = fine and not surely_refused(b, inputs, state, space)
    space.at[GONE] = top
    return fine


@compiled
def hope(depth: int, most: float, least: float, inputs: Inputs, state: State, space: Space
         ) -> bool:
    """Bring what changed comforts lose at least up to date.

    False if a promise cannot be kept, or what is left of `most` is not above `least`.
    """
    left: float = most
    for c in range(inputs.matters.shape[0]):
        for day in range(inputs.matters.shape[1]):
            if space.changed[c, day]:
                lost: float = least_loss(c, day, inputs, state, space)
                if lost == BROKEN:
                    return False
                left -= inputs.worth[c, day] * (lost - space.lost[depth, c, day])
                space.lost[depth, c, day] = lost
                space.changed[c, day] = False
                if left <= least:
                    return False
    return True


@compiled
def is_new(depth: int, space: Space) -> bool:
    """Whether the state at a depth was not seen before; it is from now on."""
    cell = space.mark[depth] % TABLE
    if space.seen[cell] == space.mark[depth]:
        return False
    space.seen[cell] = space.mark[depth]
    return True


@compiled
def place(i: int, depth: int, fresh: bool, bar: float, inputs: Inputs, asked: Asked, power: Power,
          state: State, space: Space) -> float:
    """Put load i next; what no order that goes on beats, -1 if none is a plan or beats the bar.

    Also -1 if it has to be a `fresh` state and was seen before.
    """
    space.gone_first[depth] = space.at[GONE]
    if not run(i, depth, inputs, state, space):
        space.filled[depth] = 0
        return -1.0
    if fresh and not is_new(depth, space):
        space.filled[depth] = 0
        return -1.0
    if asked.watched[i]:
        list_onsets(i, inputs.wiring.spell * SLOTS, state, space)
    own = inputs.works.comfort[i]
    for c in range(inputs.matters.shape[0]):
        for day in range(inputs.matters.shape[1]):
            space.lost[depth, c, day] = space.lost[depth - 1, c, day]
            space.changed[c, day] = c == own and inputs.matters[c, day]
    least: float = bar + SAME_COVERAGE - ROUNDING
    tight = put(i, depth, inputs, asked, power, state, space)
    fine = hope(depth, space.most[depth - 1], least, inputs, state, space)
    if fine:
        most: float = most_covered(depth, inputs, space)
        fine = (narrow(tight, inputs, power, state, space)
                and hope(depth, most, least, inputs, state, space)
                and is_in_bounds(i, inputs, asked, power, state, space))
    for e in range(space.filled[depth]):
        space.stirred[space.slot[depth, e]] = False
    if not fine:
        return -1.0
    covered: float = most_covered(depth, inputs, space)
    space.most[depth] = covered
    return covered
