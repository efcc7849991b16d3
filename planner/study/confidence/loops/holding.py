"""Whether a plan holds in one of many houses, compiled."""

from __future__ import annotations

from typing import NamedTuple

from planner.arrays import BoolRows, Bools, FloatRows, Floats, Ints
from planner.compiled import compiled
from planner.service.loops.inputs import (
    SLOTS,
    STORE,
    Cares,
    Power,
    State,
    Wiring,
    Works,
)
from planner.service.loops.losing import follow, is_promised, lose
from planner.service.loops.playing import play_order
from planner.service.loops.room import clear_state
from planner.service.loops.rules import (
    FITS,
    direct_fits,
    over_average,
    over_fuel,
    pick_up_of,
    starts_unannounced,
    weigh,
)


class Drawn(NamedTuple):
    """What differs between houses, of every load and every comfort in F forms.

    Arrays of `planner.service.loops.inputs` with the form as a further axis in front, which is
    folded into the first one: row ``form * n + i`` is that of load i.

    Attributes
    ----------
    load_group, comfort_group : (n,), (C,)
        Which place in the forms of a house says in which form a load or a comfort is.
    can, gain, threshold, need : (F · n, T)
    keep, full : (F, n)
    comfort_keep, comfort_full, limit : (F, C)
    comfort_need, weight, low, high, amount : (F · C, T)
    bound : (F · C, D)
        With what a promise may be missed by.
    draw : (F · D · R, n)
    weighed, begins_kw : (F · D, n)
    start_kw, start_kva : (F, n)
    dip_ok : (F, n)
    """

    load_group: Ints
    comfort_group: Ints
    can: BoolRows
    gain: FloatRows
    threshold: FloatRows
    need: FloatRows
    keep: FloatRows
    full: FloatRows
    comfort_keep: FloatRows
    comfort_full: FloatRows
    limit: FloatRows
    comfort_need: FloatRows
    weight: FloatRows
    low: FloatRows
    high: FloatRows
    amount: FloatRows
    bound: FloatRows
    draw: FloatRows
    weighed: FloatRows
    begins_kw: FloatRows
    start_kw: FloatRows
    start_kva: FloatRows
    dip_ok: BoolRows


class Scratch(NamedTuple):
    """What one house is played in; all of it is overwritten."""

    firm: Bools  # (n,)
    room: Bools  # (N,)
    hopes: BoolRows  # (n, N), empty
    ran: Floats  # (N,)
    spare: Floats  # (N,)
    total: Floats  # (N,)
    level: Floats  # (N,)
    loss: Floats  # (T,)
    measured: Floats  # (D,)


@compiled
def holds(
    forms: Ints, connection: Ints, order: Ints, drawn: Drawn, works: Works, cares: Cares,
    wiring: Wiring, power: Power, whole: Power, state: State, scratch: Scratch,
) -> bool:
    """Whether a plan holds in a house: nothing refuses it and every promise is kept.

    Parameters
    ----------
    forms : (groups,)
        Form of each group of the house.
    connection : (n,)
    order : (placed,)
        Direct loads, then modules by priority.
    drawn : Drawn
    works, cares, wiring, power, state, scratch
        Filled; `power.room_kw` is that of the house already.
    whole : Power
        The same without what is kept back, for what is always connected.
    """
    _furnish(forms, drawn, works, cares, wiring, power)
    reason, _, _ = direct_fits(connection, works, wiring, whole, scratch.firm)
    if reason != FITS:
        return False
    clear_state(state)
    play_order(order, connection, works, wiring, power, state, scratch.room, scratch.ran,
               scratch.spare)
    weigh(wiring, state, scratch.total)
    for a in range(order.shape[0]):
        if starts_unannounced(order[a], connection, power):
            why, _, _ = pick_up_of(order[a], wiring, power, state, scratch.total)
            if why != FITS:
                return False
    if over_average(power, state) >= 0 or over_fuel(wiring, power, state) >= 0:
        return False
    for c in range(cares.kind.shape[0]):
        follow(c, wiring.spell, cares, state.given[c], scratch.level)
        lose(c, wiring.spell, cares, works, scratch.level, state.share, scratch.hopes, state.lost,
             scratch.loss, scratch.measured)
        if not is_promised(c, cares, scratch.measured):
            return False
    return True


@compiled
def _furnish(
    forms: Ints, drawn: Drawn, works: Works, cares: Cares, wiring: Wiring, power: Power
) -> None:
    """Write the house that these forms make."""
    n = works.kind.shape[0]
    days = cares.day_weight.shape[0]
    for i in range(n):
        form = forms[drawn.load_group[i]]
        power.start_kw[i] = drawn.start_kw[form, i]
        power.start_kva[i] = drawn.start_kva[form, i]
        power.dip_ok[i] = drawn.dip_ok[form, i]
        for day in range(days):
            wiring.weighed[day, i] = drawn.weighed[form * days + day, i]
            power.begins_kw[day, i] = drawn.begins_kw[form * days + day, i]
            for r in range(wiring.rows):
                row = day * wiring.rows + r
                wiring.draw[row, i] = drawn.draw[form * days * wiring.rows + row, i]
        if works.kind[i] == STORE:
            works.keep[i] = drawn.keep[form, i]
            works.full[i] = drawn.full[form, i]
            for p in range(days * SLOTS):
                works.can[i, p] = drawn.can[form * n + i, p]
                works.gain[i, p] = drawn.gain[form * n + i, p]
                works.threshold[i, p] = drawn.threshold[form * n + i, p]
                works.need[i, p] = drawn.need[form * n + i, p]
    comforts = cares.kind.shape[0]
    for c in range(comforts):
        form = forms[drawn.comfort_group[c]]
        cares.keep[c] = drawn.comfort_keep[form, c]
        cares.full[c] = drawn.comfort_full[form, c]
        cares.limit[c] = drawn.limit[form, c]
        for day in range(days):
            cares.bound[c, day] = drawn.bound[form * comforts + c, day]
        for p in range(days * SLOTS):
            cares.need[c, p] = drawn.comfort_need[form * comforts + c, p]
            cares.weight[c, p] = drawn.weight[form * comforts + c, p]
            cares.low[c, p] = drawn.low[form * comforts + c, p]
            cares.high[c, p] = drawn.high[form * comforts + c, p]
            cares.amount[c, p] = drawn.amount[form * comforts + c, p]
