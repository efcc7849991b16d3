"""The rules that refuse a plan: direct loads together, starts unannounced, average, fuel."""

from __future__ import annotations

from planner.arrays import Bools, Floats, Ints
from planner.compiled import compiled
from planner.service.loops.inputs import (
    BY_HAND,
    DIRECT,
    KW_ROW,
    MODULE,
    SLOTS,
    Power,
    State,
    Wiring,
    Works,
)
from planner.tolerances import LIMIT

# why it is refused
FITS, OVER_ROW, OVER_START, OVER_DIP, OVER_TAKEOVER, TOGETHER, OVER_PICK_UP, OVER_PICK_DIP, \
    OVER_AVERAGE = range(9)


@compiled
def mark_firm(
    connection: Ints, p: int, works: Works, wiring: Wiring, firm: Bools
) -> None:
    """Mark who can be on in slot p of a day among direct loads and those left to be opened by hand.

    What a direct load wakes is direct; what one left by hand wakes counts where it is itself direct
    or by hand. `firm` (n,) is filled.
    """
    n = connection.shape[0]
    for i in range(n):
        firm[i] = False
    for i in range(n):
        if not (connection[i] == DIRECT or connection[i] == BY_HAND) or not works.can[i, p]:
            continue
        for a in range(wiring.needs.shape[1]):
            k = wiring.needs[i, a]
            if k < 0:
                break
            if connection[k] == DIRECT or connection[k] == BY_HAND:
                firm[k] = True


@compiled
def direct_fits(
    connection: Ints, works: Works, wiring: Wiring, power: Power, firm: Bools
) -> tuple[int, int, int]:
    """Rule 1: all that can be on without a module fits together in every slot.

    Returns (reason, slot of the design days, row or load). `firm` (n,) is scratch.
    """
    n = connection.shape[0]
    for p in range(works.can.shape[1]):
        if p % SLOTS > 0 and _are_the_same(connection, p, works):
            continue
        first = p // SLOTS * wiring.rows
        mark_firm(connection, p, works, wiring, firm)
        for r in range(wiring.rows):
            total: float = 0.0
            for i in range(n):
                if firm[i]:
                    total += wiring.draw[first + r, i]
            if total > power.caps[r] + LIMIT:
                return OVER_ROW, p, r
        total_kw: float = 0.0
        all_kva: float = 0.0
        for i in range(n):
            if firm[i]:
                total_kw += wiring.draw[first + KW_ROW, i]
                all_kva += power.start_kva[i]
        for i in range(n):
            if not firm[i]:
                continue
            if not power.dip_ok[i]:
                return OVER_DIP, p, i
            if total_kw - wiring.draw[first + KW_ROW, i] > power.room_kw[i] + LIMIT:
                return OVER_START, p, i
        if all_kva > power.takeover_kva + LIMIT:
            return OVER_TAKEOVER, p, 0
    for i in range(n):
        if connection[i] == DIRECT:
            for b in range(wiring.foes.shape[1]):
                foe = wiring.foes[i, b]
                if foe >= 0 and connection[foe] == DIRECT:
                    return TOGETHER, 0, i
    return FITS, -1, -1


@compiled
def _are_the_same(connection: Ints, p: int, works: Works) -> bool:
    """Whether what can be on without a module is the same in slot p as in the slot before."""
    for i in range(connection.shape[0]):
        if (connection[i] == DIRECT or connection[i] == BY_HAND) and (
                works.can[i, p] != works.can[i, p - 1]):
            return False
    return True


@compiled
def firm_kw(connection: Ints, p: int, works: Works, wiring: Wiring, firm: Bools, row: int) -> float:
    """What can be on without a module in slot p adds to a row; `firm` (n,) is scratch."""
    mark_firm(connection, p, works, wiring, firm)
    total: float = 0.0
    for i in range(connection.shape[0]):
        if firm[i]:
            total += wiring.draw[p // SLOTS * wiring.rows + row, i]
    return total


@compiled
def starts_unannounced(i: int, connection: Ints, power: Power) -> bool:
    """Whether load i may start before anything was shed for it."""
    silent: bool = power.unannounced[i]
    how: int = connection[i]
    return how == DIRECT or (how == MODULE and silent)


@compiled
def weigh(wiring: Wiring, state: State, total: Floats) -> None:
    """Give what is on in every slot, electronics weighed; `total` (N,) is filled."""
    length = wiring.spell * SLOTS
    for t in range(total.shape[0]):
        total[t] = 0.0
    for i in range(state.share.shape[0]):
        for day in range(total.shape[0] // length):
            weighed: float = wiring.weighed[day, i]
            for t in range(day * length, (day + 1) * length):
                if state.share[i, t] > 0.0:
                    total[t] += weighed


@compiled
def pick_up_kw(
    i: int, t: int, day: int, wiring: Wiring, power: Power, state: State, total: Floats
) -> float:
    """What is on, now or a slot before, and the start of load i with what it requires [kW]."""
    now: float = total[t]
    before: float = 0.0
    earlier = t % (wiring.spell * SLOTS) > 0
    if earlier:
        before = total[t - 1]
    start: float = 0.0
    for a in range(wiring.needs.shape[1]):
        k = wiring.needs[i, a]
        if k < 0:
            break
        start += power.begins_kw[day, k]
        if state.share[k, t] > 0.0:
            now -= wiring.weighed[day, k]
        if earlier and state.share[k, t - 1] > 0.0:
            before -= wiring.weighed[day, k]
    return max(now, before) + start


@compiled
def pick_up_of(
    i: int, wiring: Wiring, power: Power, state: State, total: Floats
) -> tuple[int, int, float]:
    """Rule 3 for a load that may start unannounced: (reason, slot of N, kW or kVA).

    `total` (N,) is what is on, as `weigh` gives it.
    """
    dip_kva: float = 0.0
    for a in range(wiring.needs.shape[1]):
        k = wiring.needs[i, a]
        if k < 0:
            break
        dip_kva += power.start_kva[k]
    length = wiring.spell * SLOTS
    for t in range(state.ceiling.shape[0]):
        if not state.called[i, t]:
            continue
        if t % length > 0 and state.called[i, t - 1]:
            continue
        if dip_kva > power.pick_kva + LIMIT:
            return OVER_PICK_DIP, t, dip_kva
        picked: float = pick_up_kw(i, t, t // length, wiring, power, state, total)
        if picked > power.pick_kw + LIMIT:
            return OVER_PICK_UP, t, picked
    return FITS, -1, 0.0


@compiled
def day_mean_kw(begin: int, power: Power, state: State) -> float:
    """Mean power over the 96 slots from `begin` on, each counted as at least the floor [kW]."""
    total: float = 0.0
    for t in range(begin, begin + SLOTS):
        total += max(state.mean_kw[t], power.floor_kw)
    return total / SLOTS


@compiled
def day_fuel_kw(begin: int, state: State) -> float:
    """Mean power over the 96 slots from `begin` on [kW]."""
    total: float = 0.0
    for t in range(begin, begin + SLOTS):
        total += state.mean_kw[t]
    return total / SLOTS


@compiled
def over_fuel(wiring: Wiring, power: Power, state: State) -> int:
    """Rule 5: first slot of a day for whose mean the site has not the fuel; -1 if none."""
    for begin in range(0, state.mean_kw.shape[0], SLOTS):
        if day_fuel_kw(begin, state) > power.fuel_kw[begin // (SLOTS * wiring.spell)] + LIMIT:
            return begin
    return -1


@compiled
def over_average(power: Power, state: State) -> int:
    """Rule 4: first slot of a day whose mean is above what is permitted over 24 h; -1 if none."""
    for begin in range(0, state.mean_kw.shape[0], SLOTS):
        if day_mean_kw(begin, power, state) > power.average_kw + LIMIT:
            return begin
    return -1
