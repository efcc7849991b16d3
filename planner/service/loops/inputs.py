"""What the loops know of a home and of a generator, whatever is chosen."""

from __future__ import annotations

from typing import Final, NamedTuple

from planner.arrays import BoolRows, Bools, FloatRows, Floats, IntRows, Ints

SLOTS: Final = 96

# connections
OFF: Final = 0
DIRECT: Final = 1
MODULE: Final = 2
BY_HAND: Final = 3

# how a load works
WOKEN: Final = 0
CLOCK: Final = 1
STORE: Final = 2
TASK: Final = 3

# how a comfort loses: by its clock, by a deviation between two levels, by a stretch beyond a limit,
# by its tasks
BY_CLOCK: Final = 0
BY_LEVEL: Final = 1
BY_STRETCH: Final = 2
BY_TASK: Final = 3

# what of a comfort a promise bounds on a day
MOST: Final = 0  # the largest deviation of the spell
MOST_MARKED: Final = 1  # the largest deviation in marked slots of the spell
ADDED: Final = 2  # the sum of losses times an amount, on the worst day of the spell
BAD: Final = 3  # whether it was ever lost
TASKS: Final = 4  # tasks lost on the worst day of the spell

# rows of what adds up: kW, amperes on each leg; then the amperes of panels
KW_ROW: Final = 0
L1_ROW: Final = 1
L2_ROW: Final = 2

NEVER_KW: Final = 1e9
"""Other load on which a load that is no motor may start: any [kW]."""


class Works(NamedTuple):
    """How n loads work, over T slots of the design days; M tasks.

    Attributes
    ----------
    kind, comfort, rank : (n,)
        `WOKEN` and so on; its comfort, -1 for none; its place in the order of that comfort.
    can : (n, T)
        Slots in which it can be on: it calls by the clock; it could help a need of the day; from
        the start of a task to the end of its wait.
    gain, threshold, need : (n, T)
        Of a store, in the unit of its comfort: what a slot of running gives; the deviation from
        which on it calls; what the day takes.
    keep, full : (n,)
        Share of a deviation that remains by itself in a slot; largest deviation.
    button : (n,)
        Somebody has to start it.
    task_first : (n + 1,)
        Tasks of load i are ``task_first[i]:task_first[i + 1]``.
    task_day, task_start, task_length, task_wait, task_pauses : (M,)
        Design day, first slot of the day, slots.
    """

    kind: Ints
    comfort: Ints
    rank: Ints
    can: BoolRows
    gain: FloatRows
    threshold: FloatRows
    need: FloatRows
    keep: Floats
    full: Floats
    button: Bools
    task_first: Ints
    task_day: Ints
    task_start: Ints
    task_length: Ints
    task_wait: Ints
    task_pauses: Ints


class Cares(NamedTuple):
    """What C comforts lose, over T slots of D design days.

    Attributes
    ----------
    kind, measure : (C,)
        `BY_CLOCK` and so on; `MOST` and so on.
    load_first : (C + 1,)
    load : (number of loads with a comfort,)
        Loads of comfort c, in its order, are ``load[load_first[c]:load_first[c + 1]]``.
    keep, full : (C,)
    need : (C, T)
    weight, low, high : (C, T)
        A slot counts with its weight; no loss up to the deviation `low`, all from `high` on.
    limit, stretch : (C,)
        Lost once the deviation has been above the limit for more slots on end.
    amount : (C, T)
        What a loss in a slot means in the unit of the measure; above 0 marks the slots of
        `MOST_MARKED`.
    unlimited : (C, T)
        Loss of each slot with unlimited power; of a stretch in the last slot of the day.
    task_unlimited : (M,)
        Whether a task is lost even then.
    bound : (C, D)
        Largest measure that its promise allows; huge without one.
    day_weight : (D,)
    losable, share : (C,)
        Weighted loss that it can have; its part of the coverage.
    """

    kind: Ints
    measure: Ints
    load_first: Ints
    load: Ints
    keep: Floats
    full: Floats
    need: FloatRows
    weight: FloatRows
    low: FloatRows
    high: FloatRows
    limit: Floats
    stretch: Ints
    amount: FloatRows
    unlimited: FloatRows
    task_unlimited: Bools
    bound: FloatRows
    day_weight: Floats
    losable: Floats
    share: Floats


class Wiring(NamedTuple):
    """What the loads draw, and what needs or excludes what.

    Attributes
    ----------
    draw : (D · R, n)
        Row r of day d is ``draw[d * rows + r]``: kW, then amperes.
    weighed : (D, n)
        What each counts at a start that nobody announced [kW]: electronics more than they draw.
    rows, spell : int
    needs, foes : (n, m)
        `needs` lists each load itself and what it wakes, `foes` what is never on with it; padded
        with -1.
    """

    draw: FloatRows
    weighed: FloatRows
    rows: int
    spell: int
    needs: IntRows
    foes: IntRows


class Power(NamedTuple):
    """What a generator gives, with the soft starters that are chosen.

    Attributes
    ----------
    caps : (R,)
        Limit of each row.
    room_kw : (n,)
        Other load on which each motor may be started; `NEVER_KW` for what is no motor.
    start_kw, start_kva : (n,)
        What a start takes, at least what it runs with; 0 kVA for what is no motor.
    begins_kw : (n,)
        What it takes in its first second (pick-up); of a motor its start.
    dip_ok : (n,)
        Whether its start keeps within the allowed dip.
    unannounced : (n,)
        Behind a module that does not sense its call.
    takeover_kva, pick_kva, pick_kw : float
        All direct motors at once; one start that nobody announced: its kVA, and all that is on.
    average_kw, floor_kw : float
        Permitted over 24 h; what each slot counts at least.
    fuel_kw : (D,)
        Average over 24 h for which the fuel of the site comes fast enough and lasts; huge where
        nothing limits it.
    """

    caps: Floats
    room_kw: Floats
    start_kw: Floats
    start_kva: Floats
    begins_kw: FloatRows
    dip_ok: Bools
    unannounced: Bools
    takeover_kva: float
    pick_kva: float
    pick_kw: float
    average_kw: float
    floor_kw: float
    fuel_kw: Floats


class State(NamedTuple):
    """A partly placed order, over N slots.

    Attributes
    ----------
    sums : (R, N)
        What is on, by row.
    ceiling : (N,)
        Largest total at which every motor that is on may start [kW].
    share : (n, N)
        Share of the slot that a load runs; 0: it is off.
    mean_kw : (N,)
        Power with these shares.
    called : (n, N)
    given : (C, N)
        What stores have given to their comfort so far.
    lost : (M, spell)
        Whether a task that began on a day of the spell is lost; 2 before it is known.
    """

    sums: FloatRows
    ceiling: Floats
    share: FloatRows
    mean_kw: Floats
    called: BoolRows
    given: FloatRows
    lost: IntRows
