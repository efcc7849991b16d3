"""What the compiled search knows of a home, and the arrays that it works in.

The desk makes views of them once (`planner.compiled.view`): most questions are short.
"""

from __future__ import annotations

from typing import Final, NamedTuple

from planner.arrays import (
    BoolRows,
    Bools,
    FloatBlocks,
    FloatRows,
    Floats,
    IntRows,
    Ints,
    KeyRows,
    Keys,
)
from planner.service.loops.inputs import Cares, Wiring, Works

# places of `Space.at`
DEPTH: Final = 0  # how many members are placed
FRESH: Final = 1  # whether the prefix that is placed has not been gone on from
NODES: Final = 2  # prefixes that were looked at
MEMBERS: Final = 3  # how many loads the order has
GONE: Final = 4  # entries of `Space.gone_load`
REFUSED: Final = 5  # whether rule 3 or 4 ended any prefix
FOUND: Final = 6  # whether `Space.found` holds an order

# places of `Space.worth`
BAR: Final = 0  # what an order has to beat

# what a walk ends with
ENDED: Final = 0
PAUSED: Final = 1
STOPPED: Final = 2

TABLE: Final = 1 << 17


class Inputs(NamedTuple):
    """A home of n loads and C comforts on D days, N slots with the spell.

    Attributes
    ----------
    works, cares, wiring
        Of the service rule.
    must_run, single : (n,)
        `single`: it wakes nothing and excludes nothing.
    in_order : (n,)
        The loads in the order in which direct ones are played.
    preferred : (n,)
        The loads in the order in which they are tried where nothing else tells them apart.
    idle : (n,)
        It never calls, and no wish about the order concerns it.
    matters : (C, D)
        Whether the coverage or a promise looks at a comfort on a day.
    worth : (C, D)
        Coverage that a comfort's loss of 1 on a day takes.
    patterns, pattern_day : (U, n), (U,)
        Which loads can be on together by themselves: every pattern of each day once.
    whole : float
        Coverage without any loss.
    keys, load_keys : (n, N), (n,)
        Random marks that tell states apart.
    day_of : (N,)
        Design day of each slot.
    """

    works: Works
    cares: Cares
    wiring: Wiring
    must_run: Bools
    single: Bools
    in_order: Ints
    preferred: Ints
    idle: Bools
    matters: BoolRows
    worth: FloatRows
    patterns: BoolRows
    pattern_day: Ints
    whole: float
    keys: KeyRows
    load_keys: Keys
    day_of: Ints


class Asked(NamedTuple):
    """One question about orders.

    Attributes
    ----------
    how : (n,)
        `DIRECT`, `MODULE`, or `OFF` for all that is not played.
    counted : (n,)
        Whether it is sure to be connected, so that rules 3 and 4 may count it.
    watched : (n,)
        Whether it is sure to start unannounced, and that may be too much.
    before : (n, n)
        Which load has to stand before which, whatever is still decided.
    """

    how: Ints
    counted: Bools
    watched: Bools
    before: BoolRows


class Space(NamedTuple):
    """Room to work in; one row for each depth of the order where there is a first axis.

    `at` and `worth` hold single numbers; `member` the loads of the order, `waits` those not placed
    yet, `room` where these have room; `free` the slots in which all of them fit together. `kw` (as
    rule 3 weighs it) and `mean_kw` (N,) are what is on of the counted loads.
    `lost` (depth, C, D) is what the comforts lose at least, `most` (depth,) what is then covered at
    most. What a placing changed stands in `slot`, `filled` and all that begins with `was`; those of
    its slots that are not free in `tight`, with what is on in them and what may be in `tight_kw`
    and `limit_kw`; `stirred` (N,) are the slots in which more may be on since rule 3 was looked at;
    marks of room that went stand in `gone_load` and `gone_slot`. `seen` remembers states, `decided`
    (n,) whose start figures ever decided anything.
    """

    at: Ints
    worth: Floats
    member: Ints
    waits: Bools
    room: BoolRows
    free: Bools
    decided: Bools
    everywhere: Bools
    ran: Floats
    called: Bools
    spare: Floats
    helper: Ints
    changed: BoolRows
    kw: Floats
    mean_kw: Floats
    lost: FloatBlocks
    most: Floats
    path: Ints
    children: IntRows
    child_bound: FloatRows
    n_children: Ints
    next_child: Ints
    found: Ints
    mark: Keys
    stamp: Keys
    seen: Keys
    filled: Ints
    slot: IntRows
    tight: Ints
    tight_kw: Floats
    limit_kw: Floats
    stirred: Bools
    tried: Floats
    was_sums: FloatBlocks
    was_ceiling: FloatRows
    was_mean: FloatRows
    was_kw: FloatRows
    was_share: FloatBlocks
    was_given: FloatRows
    gone_first: Ints
    gone_load: Ints
    gone_slot: Ints
    sure_onset: IntRows
    sure_onsets: Ints
    onset: IntRows
    onsets: Ints
    touched: Bools
