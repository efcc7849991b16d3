"""Where the compiled search works: a home's arrays, laid out once and used for every question."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.compiled import view
from planner.remembered import remembered
from planner.search.calculated import Calculated
from planner.search.loops import alone, walking
from planner.search.loops.inputs import (
    BAR,
    DEPTH,
    FOUND,
    FRESH,
    MEMBERS,
    NODES,
    PAUSED,
    REFUSED,
    TABLE,
    Asked,
    Inputs,
    Space,
)
from planner.service.house import HOUSES, House
from planner.service.loops.inputs import CLOCK, KW_ROW, SLOTS, STORE, WOKEN, Power, State
from planner.service.nature import HUGE
from planner.service.state import empty_state

SEED = 20_240
SLICE = 2_000
"""Prefixes after which a walk looks up, so that it can be told of and ended."""


@dataclass(frozen=True)
class Answer:
    """What a search over orders found.

    Attributes
    ----------
    order : tuple of int or None
        The best order that beats the bar (of all members, those that never call left out).
    coverage : float
        What it covers; the bar without one.
    bound : float
        What no order covers more than; the coverage, or the bar, if the search ended.
    nodes : int
        Prefixes that were looked at.
    refused : bool
        Whether rule 3 or 4 ended any prefix, so that fewer loads might do better.
    most : float
        What no order covers more than, as it was seen before any was tried.
    decided : ndarray of bool, shape (n,)
        Whose start figures refused anything that would have fitted otherwise.
    """

    order: tuple[int, ...] | None
    coverage: float
    bound: float
    nodes: int
    refused: bool
    most: float
    decided: Bools


def nothing_above(bar: float) -> Answer:
    """Answer without a search: no order beats a bar."""
    return Answer(None, bar, bar, 0, refused=False, most=bar,
                  decided=np.zeros(0, dtype=np.bool_))


@dataclass
class Memory:
    """What is remembered of a home, whatever the size: for all searches and questions about it.

    `lost`, `hopes` and `values` are what comforts cost at least, `sheets` the calculated load.
    """

    lost: dict[tuple[int, bytes], float] = field(default_factory=dict)
    hopes: dict[bytes, float] = field(default_factory=dict)
    values: dict[bytes, Floats] = field(default_factory=dict)
    sheets: dict[bool, Calculated] = field(default_factory=dict)


@dataclass
class Desk:
    """A home's arrays for the compiled search, and the room that it works in.

    `seen` is what the loops see of inputs, state and space. Not to be shared by two searches at a
    time.
    """

    house: House
    inputs: Inputs
    state: State
    space: Space
    marks: np.random.Generator
    live: Bools
    memory: Memory
    seen: tuple[Inputs, State, Space] = field(init=False)

    def __post_init__(self) -> None:
        """Make the views."""
        self.seen = view(self.inputs), view(self.state), view(self.space)

    def look(
        self, asked: Asked, power: Power, bar: float, *, first: bool, nodes: int
    ) -> tuple[bool, float]:
        """Begin a search, and walk a slice of it: whether it paused, and what no order beats."""
        self.space.stamp[0] = self.marks.integers(1, 2**63, dtype=np.uint64)
        inputs, state, space = self.seen
        ended, most = walking.look(bar, min(nodes, SLICE), first, inputs, asked, power, state,
                                   space)
        return ended == PAUSED, most

    def another(self) -> Desk:
        """Give another desk for the same home, for a search that goes on beside this one's."""
        state = _state(self.house, self.inputs)
        return Desk(self.house, self.inputs, state, _space(self.inputs, state), self.marks,
                    self.live, self.memory)

    def go_on(self, asked: Asked, power: Power, *, first: bool, nodes: int) -> bool:
        """Walk another slice; whether it paused."""
        inputs, state, space = self.seen
        return walking.walk(min(nodes, SLICE), first, inputs, asked, power, state, space) == PAUSED

    def answer(self, *, paused: bool, most: float) -> Answer:
        """Read what a walk found."""
        at, worth = self.space.at, self.space.worth
        found = bool(at[FOUND]) and most > -1.0
        bound = float(worth[BAR])
        if paused:
            bound = most if at[DEPTH] == 0 and at[FRESH] else walking.still_open(self.seen[2])
        order = tuple(self.space.found[: at[MEMBERS]].tolist()) if found else None
        return Answer(order, float(worth[BAR]), bound, int(at[NODES]), bool(at[REFUSED]),
                      most, self.space.decided.copy())

    def follow(self, asked: Asked, power: Power, order: tuple[int, ...], bar: float) -> float:
        """Play one order on what `look` began: its coverage, -1 if it is none above the bar."""
        members = [i for i in order if not self.inputs.idle[i]]
        if any(asked.before[i, k] for place, i in enumerate(members) for k in members[:place]):
            return -1.0
        inputs, state, space = self.seen
        walking.begin(inputs, asked, power, state, space)
        self.space.path[: len(members)] = members
        return float(walking.follow_order(bar, len(members), inputs, asked, power, state, space))

    def lost_alone(self, c: int, asked: Asked, power: Power) -> float:
        """Coverage that a comfort costs at least; below 0 if its promise cannot be kept."""
        inputs, state, space = self.seen
        return float(alone.lost_alone(c, inputs, asked, power, state, space))

    def calculated(self, *, whole_house: bool) -> Calculated:
        """The calculated load behind one kind of transfer equipment."""
        sheets = self.memory.sheets
        if whole_house not in sheets:
            sheets[whole_house] = Calculated(self.house.home, whole_house=whole_house)
        return sheets[whole_house]

    def which_fit(self, firm: Bools, asking: Bools, power: Power) -> Bools | None:
        """Which loads fit beside those that are firm; None if these do not fit by themselves."""
        fits = np.zeros(len(firm), dtype=np.bool_)
        able = alone.which_fit(firm, asking, self.seen[0], power, self.live, fits)
        return fits if able else None


def desk_of(house: House) -> Desk:
    """Lay out the arrays for a home."""
    inputs, memory = _known(house)
    state = _state(house, inputs)
    return Desk(house, inputs, state, _space(inputs, state), np.random.default_rng(SEED + 1),
                np.zeros(house.count, dtype=np.bool_), memory)


def _state(house: House, inputs: Inputs) -> State:
    return empty_state(inputs.works, len(house.home.comforts), house.wiring.rows, house.spell)


@remembered(HOUSES)
def _known(house: House) -> tuple[Inputs, Memory]:
    return inputs_of(house), Memory()


def inputs_of(house: House) -> Inputs:
    """Give what the search knows of a home whatever is chosen."""
    rng = np.random.default_rng(SEED)
    works, cares, wiring = house.works, house.cares, house.wiring
    n, slots = house.count, house.slots * house.spell
    share = cares.share
    losable = np.where(cares.losable > 0.0, cares.losable, 1.0)
    worth = np.where(cares.losable > 0.0, share / losable, 0.0)[:, None] * cares.day_weight[None, :]
    order = sorted(range(n), key=lambda i: (works.comfort[i], works.rank[i], i))
    patterns, pattern_day = _patterns(works.can, len(house.weights))
    return Inputs(
        works=works, cares=cares, wiring=wiring, must_run=house.must_run,
        single=((wiring.needs >= 0).sum(axis=1) == 1) & (wiring.foes < 0).all(axis=1),
        in_order=np.array(order, dtype=np.int64), preferred=_preferred(house),
        idle=np.asarray(~works.can.any(axis=1) & ~house.before.any(axis=1)
                        & ~house.before.any(axis=0)),
        matters=(share > 0.0)[:, None] | (cares.bound < HUGE / 2.0),
        worth=np.ascontiguousarray(worth), patterns=patterns, pattern_day=pattern_day,
        whole=float(share.sum()) if share.any() else 1.0,
        keys=rng.integers(1, 2**63, size=(n, slots), dtype=np.uint64),
        load_keys=rng.integers(1, 2**63, size=n, dtype=np.uint64),
        day_of=np.repeat(np.arange(len(house.weights)), slots // len(house.weights)))


def _patterns(can: Bools, days: int) -> tuple[Bools, Ints]:
    """Every pattern of loads that can be on together, (U, n), and its day; subsets left out."""
    rows, places = [], []
    for day, here in enumerate(np.split(can, days, axis=1)):
        found = np.unique(here.T, axis=0)
        inside: Bools = np.asarray((found[:, None, :] <= found[None, :, :]).all(axis=2))
        np.fill_diagonal(inside, val=False)
        found = found[~inside.any(axis=1)]
        rows.append(found)
        places += [day] * len(found)
    return np.ascontiguousarray(np.concatenate(rows)), np.array(places, dtype=np.int64)


def _preferred(house: House) -> Ints:
    """Must-run first, then what cannot catch up, what matters, what draws little."""
    works, loads = house.works, house.home.loads
    patience = {CLOCK: 0, STORE: 2, WOKEN: 3}

    def rank(i: int) -> tuple[bool, bool, int, int, float, int]:
        return (not house.must_run[i], loads[i].importance == 0,
                patience.get(int(works.kind[i]), 1), -loads[i].importance,
                float(house.draw[:, KW_ROW, i].max()), i)

    return np.array(sorted(range(house.count), key=rank), dtype=np.int64)


def _space(inputs: Inputs, state: State) -> Space:
    n, slots = state.share.shape
    rows, width = state.sums.shape[0], inputs.wiring.needs.shape[1]
    comforts, days = inputs.matters.shape
    deep = n + 2

    def floats(*shape: int) -> Floats:
        return np.zeros(shape)

    def ints(*shape: int) -> Ints:
        return np.zeros(shape, dtype=np.int64)

    def bools(*shape: int) -> Bools:
        return np.zeros(shape, dtype=np.bool_)

    return Space(
        at=ints(8), worth=floats(4), member=ints(n), waits=bools(n), room=bools(n, slots),
        free=bools(slots), decided=bools(n),
        everywhere=np.ones(slots, dtype=np.bool_), ran=floats(slots), called=bools(slots),
        spare=floats(slots), helper=ints(n), changed=bools(comforts, days), kw=floats(slots),
        mean_kw=floats(slots), lost=floats(deep, comforts, days), most=floats(deep),
        path=ints(deep),
        children=ints(deep, n), child_bound=floats(deep, n), n_children=ints(deep),
        next_child=ints(deep), found=ints(deep), mark=np.zeros(deep, dtype=np.uint64),
        stamp=np.zeros(1, dtype=np.uint64), seen=np.zeros(TABLE, dtype=np.uint64),
        filled=ints(deep), slot=ints(deep, slots), tight=ints(slots),
        tight_kw=floats(slots), stirred=bools(slots), tried=floats(slots),
        limit_kw=floats(slots), was_sums=floats(deep, rows, slots),
        was_ceiling=floats(deep, slots), was_mean=floats(deep, slots), was_kw=floats(deep, slots),
        was_share=floats(deep, width, slots),
        was_given=floats(deep, slots), gone_first=ints(deep), gone_load=ints(n * slots),
        gone_slot=ints(n * slots), sure_onset=ints(n, slots), sure_onsets=ints(n),
        onset=ints(n, slots), onsets=ints(n), touched=bools(slots // SLOTS))
