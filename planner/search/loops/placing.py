"""Placing one load next in the order, and taking it back. Compiled.

Everything that a placing changes is written down first, so that taking it back gives the same
floats.
"""

from __future__ import annotations

from planner.compiled import compiled
from planner.search.loops.hoping import BROKEN, least_loss, most_covered, surely_refused
from planner.search.loops.inputs import GONE, TABLE, Asked, Inputs, Space
from planner.search.loops.watching import is_in_bounds, list_onsets
from planner.service.loops.going import go
from planner.service.loops.inputs import KW_ROW, SLOTS, Power, State
from planner.service.loops.room import has_room
from planner.tolerances import LIMIT


@compiled
def put(i: int, depth: int, inputs: Inputs, asked: Asked, power: Power, state: State, space: Space
        ) -> bool:
    """Let load i run wherever it calls and has room; False if it must run and is refused.

    It is on then, in any case; `depth` is the row for what is written down.
    """
    wiring = inputs.wiring
    c = inputs.works.comfort[i]
    length = wiring.spell * SLOTS
    slots = space.ran.shape[0]
    if c >= 0:
        for t in range(slots):
            space.was_given[depth, t] = state.given[c, t]
        go(i, wiring.spell, space.room[i], inputs.works, state.given[c], state.called[i],
           space.ran, state.lost)
    else:
        go(i, wiring.spell, space.room[i], inputs.works, space.spare, state.called[i], space.ran,
           state.lost)
    space.mark[depth] = space.mark[depth - 1] ^ inputs.load_keys[i]
    if asked.watched[i]:
        list_onsets(i, length, state, space)
    for n in range(space.touched.shape[0]):
        space.touched[n] = False
    count = 0
    refused = False
    for t in range(slots):
        if space.ran[t] <= 0.0:
            refused = refused or state.called[i, t]
            continue
        space.slot[depth, count] = t
        space.touched[t // SLOTS] = True
        for r in range(wiring.rows):
            space.was_sums[depth, r, count] = state.sums[r, t]
        space.was_ceiling[depth, count] = state.ceiling[t]
        space.was_kw[depth, count] = space.kw[t]
        space.was_mean[depth, count] = space.mean_kw[t]
        day = t // length
        first = day * wiring.rows
        ran: float = space.ran[t]
        for a in range(wiring.needs.shape[1]):
            k = wiring.needs[i, a]
            if k < 0:
                break
            before: float = state.share[k, t]
            space.was_share[depth, a, count] = before
            kw: float = wiring.draw[first, k]
            if before <= 0.0:
                space.mark[depth] = space.mark[depth] ^ inputs.keys[k, t]
                for r in range(wiring.rows):
                    state.sums[r, t] += wiring.draw[first + r, k]
                state.ceiling[t] = min(state.ceiling[t], power.room_kw[k] + kw)
                if asked.counted[i]:
                    space.kw[t] += wiring.weighed[day, k]
            if ran > before:
                state.share[k, t] = ran
                if asked.counted[i]:
                    space.mean_kw[t] += kw * (ran - before)
        count += 1
    space.filled[depth] = count
    space.waits[i] = False
    return not (refused and inputs.must_run[i])


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
def narrow(i: int, depth: int, inputs: Inputs, power: Power, state: State, space: Space) -> bool:
    """Take from the loads that wait the slots where load i left no room; hope anew.

    False if a promise cannot be kept any more, or a load that must run will be refused.
    """
    wiring = inputs.wiring
    works = inputs.works
    length = wiring.spell * SLOTS
    comforts = inputs.matters.shape[0]
    days = inputs.matters.shape[1]
    space.gone_first[depth] = space.at[GONE]
    top = space.at[GONE]
    for c in range(comforts):
        for day in range(days):
            space.lost[depth, c, day] = space.lost[depth - 1, c, day]
            space.changed[c, day] = False
    own = works.comfort[i]
    if own >= 0:
        for day in range(days):
            space.changed[own, day] = inputs.matters[own, day]
    fine = True
    for n in range(space.member.shape[0]):
        b = space.member[n]
        if b < 0:
            break
        if not space.waits[b]:
            continue
        c = works.comfort[b]
        went = False
        for e in range(space.filled[depth]):
            t = space.slot[depth, e]
            if not space.room[b, t]:
                continue
            day = t // length
            if inputs.single[b] and state.share[b, t] <= 0.0:
                first = day * wiring.rows
                own_kw: float = wiring.draw[first, b]
                kw: float = state.sums[KW_ROW, t] + own_kw
                fits = (kw <= power.caps[KW_ROW] + LIMIT and kw <= state.ceiling[t] + LIMIT
                        and kw <= power.room_kw[b] + own_kw + LIMIT)
                for r in range(1, wiring.rows):
                    fits = fits and (state.sums[r, t] + wiring.draw[first + r, b]
                                     <= power.caps[r] + LIMIT)
            else:
                fits = has_room(b, t, day, wiring, power, state)
            if not fits:
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
    if not fine:
        return False
    return hope(depth, inputs, state, space)


@compiled
def hope(depth: int, inputs: Inputs, state: State, space: Space) -> bool:
    """Bring what the comforts lose at least up to date; False if a promise cannot be kept."""
    for c in range(inputs.matters.shape[0]):
        for day in range(inputs.matters.shape[1]):
            if space.changed[c, day]:
                lost: float = least_loss(c, day, inputs, state, space)
                if lost == BROKEN:
                    return False
                space.lost[depth, c, day] = lost
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
def place(i: int, depth: int, fresh: bool, inputs: Inputs, asked: Asked, power: Power,
          state: State, space: Space) -> float:
    """Put load i next; what no order that goes on beats, -1 if none is a plan.

    Also -1 if it has to be a `fresh` state and was seen before.
    """
    space.gone_first[depth] = space.at[GONE]
    if not put(i, depth, inputs, asked, power, state, space):
        return -1.0
    if fresh and not is_new(depth, space):
        return -1.0
    if not narrow(i, depth, inputs, power, state, space):
        return -1.0
    if not is_in_bounds(inputs, asked, power, state, space):
        return -1.0
    return most_covered(depth, inputs, space)
