"""What the compiled search knows of one home on one generator, whatever is chosen."""

from __future__ import annotations

from typing import NamedTuple

from planner.arrays import Bools, Floats, Ints, Keys


class Inputs(NamedTuple):
    """Arrays of n loads, R rows, T slots, D days, k kinds of soft starter (0: none).

    Attributes
    ----------
    value : (n,)
        Coverage of a served call of weight 1.
    called : (n,)
        Calls, weighted by day.
    must_run, before : (n,), (n, n)
        `before[i, k]`: i never stands after k.
    day_weight : (D,)
    keys, member_keys : (n, T), (n,)
        Random keys for recognising equal states.
    calls, wanted, wait_slots : (n, T), (n, T), (n,)
        `wanted`: slots in which a call could be served.
    draw, caps : (R, n), (R,)
        Row 0 in kW.
    start_kw, start_kva : (n, k), (n, k)
    short_time_kw, startable_kva : float
    needs, foes : (n, m), (n, m)
        Padded with -1; `needs` lists the load itself too.
    single : (n,)
        Loads that wake nothing and exclude nothing.
    """

    value: Floats
    called: Floats
    must_run: Bools
    before: Bools
    day_weight: Floats
    keys: Keys
    member_keys: Keys
    calls: Bools
    wanted: Bools
    wait_slots: Ints
    draw: Floats
    caps: Floats
    start_kw: Floats
    start_kva: Floats
    short_time_kw: float
    startable_kva: float
    needs: Ints
    single: Bools
    foes: Ints
