"""Walking through the priority orders of some loads, exactly. Compiled.

Depth first over prefixes; those that go on from one by the most they might still cover. Left out
is what cannot beat the bar, and what the same loads with the same slots have led to before: what
is on in every slot, and which loads are placed, decide all that follows.
"""

from __future__ import annotations

from typing import Final

from planner.compiled import compiled
from planner.search.loops.deciding import mark_free, note_at_first
from planner.search.loops.hoping import most_covered, surely_refused
from planner.search.loops.inputs import (
    BAR,
    DEPTH,
    ENDED,
    FOUND,
    FRESH,
    GONE,
    MEMBERS,
    NODES,
    PAUSED,
    REFUSED,
    STOPPED,
    Asked,
    Inputs,
    Space,
)
from planner.search.loops.placing import hope, place, take_back
from planner.search.loops.watching import is_in_bounds, list_onsets, list_sure_onsets
from planner.service.loops.going import go
from planner.service.loops.inputs import (
    DIRECT,
    MODULE,
    SLOTS,
    Power,
    State,
)
from planner.service.loops.room import clear_state, mark_room, turn_on
from planner.tolerances import SAME_COVERAGE

NOTHING: Final = -2.0  # a bar that everything beats


@compiled
def clear(inputs: Inputs, asked: Asked, state: State, space: Space) -> None:
    """Nothing is on, nothing is placed; every module load waits."""
    clear_state(state)
    for t in range(state.ceiling.shape[0]):
        space.kw[t] = 0.0
        space.mean_kw[t] = 0.0
        space.everywhere[t] = True
    members = 0
    for n in range(inputs.preferred.shape[0]):
        i = inputs.preferred[n]
        space.member[n] = -1
        space.waits[i] = asked.how[i] == MODULE and not inputs.idle[i]
        space.decided[i] = False
        if space.waits[i]:
            space.member[members] = i
            members += 1
    space.at[MEMBERS] = members
    space.at[DEPTH] = 0
    space.at[FRESH] = 1
    space.at[NODES] = 0
    space.at[GONE] = 0
    space.at[REFUSED] = 0
    space.at[FOUND] = 0
    space.mark[0] = space.stamp[0]


@compiled
def put_direct(i: int, inputs: Inputs, asked: Asked, power: Power, state: State, space: Space
                ) -> None:
    """Let a direct load run whenever it calls."""
    wiring = inputs.wiring
    c = inputs.works.comfort[i]
    length = wiring.spell * SLOTS
    if c >= 0:
        go(i, wiring.spell, space.everywhere, inputs.works, state.given[c], state.called[i],
           space.ran, state.lost)
    else:
        go(i, wiring.spell, space.everywhere, inputs.works, space.spare, state.called[i],
           space.ran, state.lost)
    for t in range(space.ran.shape[0]):
        if space.ran[t] > 0.0:
            day = t // length
            for a in range(wiring.needs.shape[1]):
                k = wiring.needs[i, a]
                if k < 0:
                    break
                before: float = state.share[k, t]
                kw: float = wiring.draw[day * wiring.rows, k]
                if asked.counted[i]:
                    if before <= 0.0:
                        space.kw[t] += wiring.weighed[day, k]
                    if space.ran[t] > before:
                        space.mean_kw[t] += kw * (space.ran[t] - before)
            turn_on(i, t, day, space.ran[t], wiring, power, state)
    if asked.watched[i]:
        list_onsets(i, length, state, space)


@compiled
def begin(inputs: Inputs, asked: Asked, power: Power, state: State, space: Space) -> float:
    """Play the direct loads, mark the room of all others; what no order beats, -1 if none is one.

    All of a row of the space is as before any order.
    """
    clear(inputs, asked, state, space)
    for n in range(inputs.in_order.shape[0]):
        i = inputs.in_order[n]
        if asked.how[i] == DIRECT:
            put_direct(i, inputs, asked, power, state, space)
    for n in range(space.at[MEMBERS]):
        i = space.member[n]
        mark_room(i, inputs.works, inputs.wiring, power, state, space.room[i])
        if asked.watched[i]:
            list_sure_onsets(i, inputs, space)
    for day in range(space.touched.shape[0]):
        space.touched[day] = True
    for c in range(inputs.matters.shape[0]):
        for day in range(inputs.matters.shape[1]):
            space.changed[c, day] = inputs.matters[c, day]
            space.lost[0, c, day] = 0.0
    for t in range(space.stirred.shape[0]):
        space.stirred[t] = True
    bounded = is_in_bounds(-1, inputs, asked, power, state, space)
    for t in range(space.stirred.shape[0]):
        space.stirred[t] = False
    if not bounded:
        return -1.0
    for n in range(space.at[MEMBERS]):
        i = space.member[n]
        if inputs.must_run[i] and surely_refused(i, inputs, state, space):
            return -1.0
    if not hope(0, 2.0, -2.0, inputs, state, space):
        return -1.0
    covered: float = most_covered(0, inputs, space)
    space.most[0] = covered
    return covered


@compiled
def _may_follow(i: int, asked: Asked, space: Space) -> bool:
    """Whether nothing that still waits has to stand before load i."""
    for n in range(space.at[MEMBERS]):
        k = space.member[n]
        if k != i and space.waits[k] and asked.before[k, i]:
            return False
    return True


@compiled
def _spread(depth: int, inputs: Inputs, asked: Asked, power: Power, state: State, space: Space
            ) -> None:
    """Try every load next, and list those worth going on with, the most hopeful first."""
    count = 0
    for n in range(space.at[MEMBERS]):
        i = space.member[n]
        if not space.waits[i] or not _may_follow(i, asked, space):
            continue
        space.at[NODES] += 1
        most: float = place(i, depth + 1, True, space.worth[BAR], inputs, asked, power, state,
                            space)
        take_back(i, depth + 1, inputs, state, space)
        if most <= space.worth[BAR] + SAME_COVERAGE:
            continue
        spot = count
        while spot > 0 and space.child_bound[depth, spot - 1] < most - SAME_COVERAGE:
            space.child_bound[depth, spot] = space.child_bound[depth, spot - 1]
            space.children[depth, spot] = space.children[depth, spot - 1]
            spot -= 1
        space.child_bound[depth, spot] = most
        space.children[depth, spot] = i
        count += 1
    space.n_children[depth] = count
    space.next_child[depth] = 0


@compiled
def walk(budget: int, first: bool, inputs: Inputs, asked: Asked, power: Power, state: State,
         space: Space) -> int:
    """Go on through the orders.

    Parameters
    ----------
    budget : int
        Nodes after which it pauses; called again, it goes on where it was.
    first : bool
        Stop at the first order that beats the bar; else the bar rises with each.

    Returns
    -------
    int
        `ENDED` if no order is left that beats the bar, `PAUSED`, or `STOPPED` at the first.
    """
    members = space.at[MEMBERS]
    stop = space.at[NODES] + budget
    if members == 0:
        space.worth[BAR] = most_covered(0, inputs, space)
        space.at[FOUND] = 1
        return STOPPED if first else ENDED
    while space.at[DEPTH] >= 0:
        depth = space.at[DEPTH]
        if space.at[FRESH] == 1:
            if space.at[NODES] >= stop:
                return PAUSED
            _spread(depth, inputs, asked, power, state, space)
            space.at[FRESH] = 0
        if space.next_child[depth] >= space.n_children[depth]:
            space.at[DEPTH] = depth - 1
            if depth > 0:
                take_back(space.path[depth - 1], depth, inputs, state, space)
            continue
        spot = space.next_child[depth]
        space.next_child[depth] = spot + 1
        if space.child_bound[depth, spot] <= space.worth[BAR] + SAME_COVERAGE:
            continue
        i = space.children[depth, spot]
        space.path[depth] = i
        place(i, depth + 1, False, NOTHING, inputs, asked, power, state, space)
        if depth + 1 == members:
            space.worth[BAR] = most_covered(depth + 1, inputs, space)
            space.at[FOUND] = 1
            for n in range(members):
                space.found[n] = space.path[n]
            take_back(i, depth + 1, inputs, state, space)
            if first:
                return STOPPED
            continue
        space.at[DEPTH] = depth + 1
        space.at[FRESH] = 1
    return ENDED


@compiled
def still_open(space: Space) -> float:
    """What an order that a walk has not come to might reach; the bar if none is left."""
    most: float = space.worth[BAR]
    if space.at[DEPTH] < 0:
        return most
    for depth in range(space.at[DEPTH] + 1 - space.at[FRESH]):
        for spot in range(space.next_child[depth], space.n_children[depth]):
            most = max(most, space.child_bound[depth, spot])
    if space.at[FRESH] == 1 and space.at[DEPTH] > 0:
        depth = space.at[DEPTH] - 1
        most = max(most, space.child_bound[depth, space.next_child[depth] - 1])
    return most


@compiled
def look(bar: float, budget: int, first: bool, inputs: Inputs, asked: Asked, power: Power,
         state: State, space: Space) -> tuple[int, float]:
    """Begin, and walk if anything may beat the bar: what it ended with, and what no order beats.

    A walk that pauses is gone on with by `walk`.
    """
    most: float = begin(inputs, asked, power, state, space)
    space.worth[BAR] = bar
    if most <= bar + SAME_COVERAGE or budget == 0:
        for i in range(space.decided.shape[0]):
            space.decided[i] = True  # it is not looked at whose start figures it was
        return ENDED if most <= bar + SAME_COVERAGE else PAUSED, most
    mark_free(inputs, power, state, space)
    for n in range(space.at[MEMBERS]):
        note_at_first(space.member[n], inputs, power, state, space)
    return walk(budget, first, inputs, asked, power, state, space), most


@compiled
def follow_order(bar: float, order_length: int, inputs: Inputs, asked: Asked, power: Power,
                 state: State, space: Space) -> float:
    """Play one order, that in `Space.path`; its coverage, -1 if it is no plan or not above the bar.

    `begin` must have been called.
    """
    mark_free(inputs, power, state, space)
    most: float = most_covered(0, inputs, space)
    for n in range(order_length):
        i = space.path[n]
        most = place(i, n + 1, False, bar, inputs, asked, power, state, space)
        if most <= bar + SAME_COVERAGE:
            return -1.0
    return most


