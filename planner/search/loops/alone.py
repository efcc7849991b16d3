"""What a comfort loses at least, and what fits together, whatever else is decided. Compiled."""

from __future__ import annotations

from planner.arrays import Bools
from planner.compiled import compiled
from planner.search.loops.hoping import BROKEN, least_loss
from planner.search.loops.inputs import Asked, Inputs, Space
from planner.search.loops.walking import clear, put_direct
from planner.service.loops.inputs import DIRECT, KW_ROW, MODULE, SLOTS, Power, State
from planner.tolerances import LIMIT


@compiled
def lost_alone(c: int, inputs: Inputs, asked: Asked, power: Power, state: State, space: Space
               ) -> float:
    """Coverage that comfort c costs at least if nothing else were connected; `BROKEN` or below 0.

    Its direct loads run whenever they call, those behind modules have room in every slot.
    """
    clear(inputs, asked, state, space)
    cares = inputs.cares
    for a in range(cares.load_first[c], cares.load_first[c + 1]):
        i = cares.load[a]
        if asked.how[i] == DIRECT:
            put_direct(i, inputs, asked, power, state, space)
        elif asked.how[i] == MODULE:
            space.waits[i] = True
            for t in range(space.ran.shape[0]):
                p = t // (inputs.wiring.spell * SLOTS) * SLOTS + t % SLOTS
                space.room[i, t] = inputs.works.can[i, p]
    total: float = 0.0
    for day in range(inputs.matters.shape[1]):
        if inputs.matters[c, day]:
            lost: float = least_loss(c, day, inputs, state, space)
            if lost == BROKEN:
                return BROKEN
            total += lost * inputs.worth[c, day]
    return total


@compiled
def firm_fits(firm: Bools, inputs: Inputs, power: Power, live: Bools) -> bool:
    """Rule 1 for loads that are always connected, in every pattern of those that can be on.

    `live` (n,) is scratch.
    """
    wiring = inputs.wiring
    n = firm.shape[0]
    for u in range(inputs.patterns.shape[0]):
        first = inputs.pattern_day[u] * wiring.rows
        for i in range(n):
            live[i] = False
        for i in range(n):
            if firm[i] and inputs.patterns[u, i]:
                for a in range(wiring.needs.shape[1]):
                    k = wiring.needs[i, a]
                    if k < 0:
                        break
                    live[k] = live[k] or firm[k]
        for r in range(wiring.rows):
            total: float = 0.0
            for i in range(n):
                if live[i]:
                    total += wiring.draw[first + r, i]
            if total > power.caps[r] + LIMIT:
                return False
        total_kw: float = 0.0
        all_kva: float = 0.0
        for i in range(n):
            if live[i]:
                total_kw += wiring.draw[first + KW_ROW, i]
                all_kva += power.start_kva[i]
        if all_kva > power.takeover_kva + LIMIT:
            return False
        for i in range(n):
            if live[i] and (not power.dip_ok[i] or total_kw - wiring.draw[first + KW_ROW, i]
                            > power.room_kw[i] + LIMIT):
                return False
    return True


@compiled
def which_fit(firm: Bools, asking: Bools, inputs: Inputs, power: Power, live: Bools, fits: Bools
              ) -> bool:
    """Whether what is firm fits together, and which of those asking fits beside it.

    `fits` (n,) is filled; `live` (n,) is scratch. What a load that asks needs comes with it.
    """
    if not firm_fits(firm, inputs, power, live):
        return False
    for i in range(firm.shape[0]):
        fits[i] = True
        if asking[i] and not firm[i]:
            firm[i] = True
            fits[i] = firm_fits(firm, inputs, power, live)
            firm[i] = False
    return True


