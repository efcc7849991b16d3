"""Playing an order: each load runs wherever it calls and has room beside those ahead. Compiled."""

from __future__ import annotations

from planner.arrays import Bools, Floats, Ints
from planner.compiled import compiled
from planner.service.loops.going import go
from planner.service.loops.inputs import MODULE, Power, State, Wiring, Works
from planner.service.loops.room import mark_room, put


@compiled
def play_order(
    order: Ints, connection: Ints, works: Works, wiring: Wiring, power: Power, state: State,
    room: Bools, ran: Floats, spare: Floats,
) -> None:
    """Let direct loads run whenever they call, modules where there is room; nothing is judged.

    Parameters
    ----------
    order : (placed,)
        Direct loads, then modules by priority.
    connection : (n,)
    works, wiring, power
    state : State
        In which nothing is on; filled.
    room, ran, spare : (N,)
        Scratch.
    """
    for place in range(order.shape[0]):
        i = order[place]
        if connection[i] == MODULE:
            mark_room(i, works, wiring, power, state, room)
        else:
            for t in range(room.shape[0]):
                room[t] = True
        c = works.comfort[i]
        if c >= 0:
            go(i, wiring.spell, room, works, state.given[c], state.called[i], ran, state.lost)
        else:
            go(i, wiring.spell, room, works, spare, state.called[i], ran, state.lost)
        put(i, ran, wiring, power, state)
