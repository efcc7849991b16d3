"""An order by mending: what comes short moves ahead of what it came short by. Compiled.

It proves nothing; it finds an order soon where many loads take turns.
"""

from __future__ import annotations

from planner.compiled import compiled
from planner.search.loops.inputs import BAR, FOUND, MEMBERS, SHORT, Asked, Inputs, Space
from planner.search.loops.placing import place, take_back
from planner.search.loops.walking import may_follow
from planner.service.loops.inputs import Power, State
from planner.tolerances import SAME_COVERAGE


@compiled
def most_urgent(asked: Asked, space: Space) -> int:
    """The most urgent load that may come next."""
    found = -1
    for n in range(space.at[MEMBERS]):
        i = space.member[n]
        if space.waits[i] and (found < 0 or space.urgent[i] > space.urgent[found]) and may_follow(
                i, asked, space):
            found = i
    return found


@compiled
def hurry(i: int, urgency: float, asked: Asked, space: Space) -> None:
    """Make a load so urgent, and what has to stand before it a little more."""
    space.urgent[i] = max(space.urgent[i], urgency)
    for n in range(space.at[MEMBERS]):
        k = space.member[n]
        if k != i and asked.before[k, i]:
            space.urgent[k] = max(space.urgent[k], urgency + 1.0 / 1024.0)


@compiled
def blame(depth: int, inputs: Inputs, asked: Asked, space: Space) -> None:
    """Move what came short ahead of the load that was placed last, or that one farther ahead."""
    last = space.path[depth]
    c = space.at[SHORT]
    helped = False
    if c >= 0:
        for a in range(inputs.cares.load_first[c], inputs.cares.load_first[c + 1]):
            i = inputs.cares.load[a]
            if space.waits[i]:
                hurry(i, space.urgent[last] + 1.0, asked, space)
                helped = True
    if not helped:
        hurry(last, space.urgent[space.path[depth // 2]] + 1.0, asked, space)


@compiled
def mend(tries: int, inputs: Inputs, asked: Asked, power: Power, state: State, space: Space
         ) -> None:
    """Look for an order that beats the bar; `Space.found` has it if there is one.

    `begin` must have been called.
    """
    members = space.at[MEMBERS]
    for n in range(members):
        space.urgent[space.member[n]] = float(members - n)
    for _ in range(tries):
        depth = 0
        most: float = -1.0
        while depth < members:
            i = most_urgent(asked, space)
            space.path[depth] = i
            most = place(i, depth + 1, False, space.worth[BAR], inputs, asked, power, state, space)
            if most <= space.worth[BAR] + SAME_COVERAGE:
                break
            depth += 1
        if depth == members:
            space.worth[BAR] = most
            space.at[FOUND] = 1
            for n in range(members):
                space.found[n] = space.path[n]
        else:
            blame(depth, inputs, asked, space)
            depth += 1
        while depth > 0:
            take_back(space.path[depth - 1], depth, inputs, state, space)
            depth -= 1
        if space.at[FOUND] == 1:
            return
