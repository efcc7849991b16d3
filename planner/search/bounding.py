"""What bounds the plans of one size before any order is tried; `planner.search.ground` asks."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.compiled import view
from planner.plan.code import WHOLE
from planner.search.calculated import Calculated, Rows
from planner.search.crowding import Crowding, gives_way
from planner.search.desk import Desk
from planner.search.known import Failure, Starts, bits
from planner.search.loops.hoping import BROKEN
from planner.search.loops.inputs import Asked
from planner.search.options import heaviest_kw, useful_starters
from planner.search.problem import Problem
from planner.search.ways import (
    ASIDE,
    BIT,
    FIRM,
    OPEN_START,
    Node,
    Prices,
    Settling,
)
from planner.service.choice import BY_HAND, DIRECT, MODULE, NO_STARTER, OFF
from planner.service.house import KW_ROW
from planner.service.loops.inputs import Power
from planner.service.supply import begins_kw
from planner.tolerances import CODE_VA, LIMIT

ROUNDING_USD = 1e-5  # a bound is never above the price that it bounds, for rounding of floats


@dataclass
class Table:
    """What is known with one choice of soft starters (or with some open, at their gentlest).

    `seen` is what the loops see of `power`.
    """

    power: Power
    seen: Power
    too_much: Bools
    fits: dict[tuple[int, int, bool], Bools | None] = field(default_factory=dict)

    @cached_property
    def starts(self) -> Starts:
        """The start figures alone; other load that never comes up is as good as any."""
        power = self.power
        any_load = power.room_kw >= power.caps[KW_ROW]
        return Starts(np.where(any_load, np.inf, power.room_kw), power.start_kw, power.start_kva)


@dataclass
class Bounds:
    """One size, and what bounds its plans: prices, powers, what comforts lose at least.

    `nodes` counts prefixes of orders; `most` is a coverage that none of its plans beats.
    """

    problem: Problem
    desk: Desk
    tables: dict[tuple[int, ...], Table] = field(default_factory=dict)
    nodes: int = 0
    failures: list[Failure] = field(default_factory=list)
    sure: dict[bytes, Bools] = field(default_factory=dict)
    most: float = 1.0

    @cached_property
    def starters(self) -> list[list[int]]:
        """Useful soft starters of each load."""
        return useful_starters(self.problem)

    @cached_property
    def prices(self) -> Prices:
        """What decisions cost."""
        return Prices(self.problem)

    @cached_property
    def crowding(self) -> Crowding:
        """What has to give way where not all can be always connected."""
        return Crowding(self.problem, self.desk)

    @cached_property
    def calculated(self) -> Calculated:
        """The calculated load of what is always connected."""
        return self.desk.calculated(whole_house=self.problem.menu.kind == WHOLE)

    @property
    def limit_va(self) -> float:
        """Largest calculated load [VA]."""
        return 1000.0 * self.problem.supply.derated_kw + CODE_VA

    @cached_property
    def settling(self) -> Settling:
        """What follows from decisions."""
        return Settling(self.problem.house)

    @cached_property
    def turn(self) -> list[int]:
        """Loads in the order in which they are decided: what may be shed, what draws most first."""
        kw = self.problem.house.draw[:, KW_ROW, :].max(axis=0)
        may_be_shed = self.problem.menu.allowed[:, MODULE]
        return sorted(range(len(kw)), key=lambda i: (not may_be_shed[i], -kw[i], i))

    @cached_property
    def needs(self) -> Bools:
        """What each load needs, itself too, shape (n, n)."""
        closure = self.problem.house.closure
        mine: Bools = closure | np.eye(len(closure), dtype=np.bool_)
        return mine

    @cached_property
    def pair_rows(self) -> tuple[Ints, Ints]:
        """Pairs of which the first stands before the second among the modules."""
        first, second = np.nonzero(self.problem.house.before)
        return first, second

    @cached_property
    def ahead(self) -> Bools:
        """``ahead[i, k]``: load k stands ahead of i in its comfort."""
        works = self.problem.house.works
        same = (works.comfort[:, None] == works.comfort[None, :]) & (works.comfort >= 0)[:, None]
        found: Bools = same & (works.rank[None, :] < works.rank[:, None])
        return found

    @cached_property
    def looked_at(self) -> list[tuple[int, Ints]]:
        """Comforts that the coverage or a promise looks at, with their loads."""
        cares = self.problem.house.cares
        return [(int(c), cares.load[cares.load_first[c]:cares.load_first[c + 1]])
                for c in np.flatnonzero(self.desk.inputs.matters.any(axis=1))]

    def _hope(self, how: Ints) -> float:
        """Coverage that nothing beats, comfort by comfort; -1 if a promise cannot be kept."""
        key = how.tobytes()
        found = self.desk.memory.hopes.get(key)
        if found is None:
            found = self.desk.memory.hopes[key] = self._covered(how)
        return found

    def _covered(self, how: Ints) -> float:
        covered = self.desk.inputs.whole
        for c, loads in self.looked_at:
            lost = self._lost(c, how, loads)
            if lost == BROKEN:
                return -1.0
            covered -= lost
        return covered

    def _value(self, how: Ints, may: Bools) -> Floats:
        """Coverage that each load takes at least if it is not played, of those that may be; (n,).

        Where several of a comfort may not be played, they share what the least of them takes.
        """
        key = how.tobytes() + may.tobytes()
        found = self.desk.memory.values.get(key)
        if found is None:
            found = self.desk.memory.values[key] = self._taken(how, may)
        return found

    def _taken(self, how: Ints, may: Bools) -> Floats:
        value = np.zeros(len(how))
        for c, loads in self.looked_at:
            mine = [int(i) for i in loads if may[i]]
            if not mine:
                continue
            lost = self._lost(c, how, loads)
            for i in mine:
                without = how.copy()
                without[i] = OFF
                less = self._lost(c, without, loads)
                value[i] = 2.0 if less == BROKEN else max(0.0, less - lost)
            value[mine] = min(value[mine]) / len(mine)
        return value

    def _lost(self, c: int, how: Ints, loads: Ints) -> float:
        """Coverage that a comfort costs at least; `BROKEN` if its promise cannot be kept."""
        key = (c, how[loads].tobytes())
        found = self.desk.memory.lost.get(key)
        if found is None:
            found = self.desk.memory.lost[key] = self._lost_alone(c, how)
        return found

    def _lost_alone(self, c: int, how: Ints) -> float:
        n = len(how)
        none = np.zeros(n, dtype=np.bool_)
        asked = Asked(how=how, counted=none, watched=none,
                      before=np.zeros((n, n), dtype=np.bool_))
        any_power = self.table(tuple(0 for _ in how)).seen
        return self.desk.lost_alone(c, asked, any_power)

    def _counted(self, unsure: Bools) -> Bools:
        """Loads sure to be connected that wake nothing which a load that is not may wake."""
        key = unsure.tobytes()
        counted = self.sure.get(key)
        if counted is None:
            woken = self.needs[unsure].any(axis=0)
            while True:
                counted = ~(self.needs & woken).any(axis=1) & ~unsure
                more = woken | self.needs[~counted].any(axis=0)
                if (more == woken).all():
                    break
                woken = more
            self.sure[key] = counted
        return counted

    def table(self, soft: tuple[int, ...]) -> Table:
        """What is known with some soft starters."""
        found = self.tables.get(soft)
        if found is None:
            power = self._power(soft)
            found = self.tables[soft] = Table(power, view(power), self._too_much(power))
        return found

    def _too_much(self, power: Power) -> Bools:
        """Loads whose start may be too much where nobody announced it."""
        supply = self.problem.supply
        start_kw = (power.begins_kw @ self.needs.T).max(axis=0)
        start_kva = self.needs @ power.start_kva
        found: Bools = ((start_kw + heaviest_kw(self.problem) > supply.pick_kw - LIMIT)
                        | (start_kva > supply.pick_kva - LIMIT))
        return found

    def _power(self, soft: tuple[int, ...]) -> Power:
        """Limits with the soft starters; where one is open, the gentlest of each figure."""
        house, supply = self.problem.house, self.problem.supply
        plain = supply.power(house, tuple(max(NO_STARTER, s) for s in soft))
        opened = [i for i, s in enumerate(soft) if s == OPEN_START]
        if not opened:
            return plain
        room, kw, kva = plain.room_kw.copy(), plain.start_kw.copy(), plain.start_kva.copy()
        for i in opened:
            mine = self.starters[i]
            room[i] = supply.room_kw[i, mine].max()
            kw[i], kva[i] = supply.start_kw[i, mine].min(), supply.start_kva[i, mine].min()
        return plain._replace(
            room_kw=room, start_kw=kw, start_kva=kva,
            begins_kw=begins_kw(house, house.draw[:, KW_ROW, :], kw),
            dip_ok=kva <= supply.startable_kva + LIMIT)

    def fit(self, node: Node) -> Bools | None:
        """Which loads fit beside those always connected, by rule 1 and the code; None: not these.

        It is looked at those that may still be so only; what is opened by hand counts until then.
        """
        ways = node.ways
        firm = (ways == BIT[DIRECT]) | (ways == BIT[BY_HAND])
        asking = node.opened & ((ways & FIRM) != 0)
        table = self.table(node.soft)
        key = bits(firm), bits(asking), not bool((ways == BIT[OFF]).any())
        if key not in table.fits:
            table.fits[key] = self._fit(node.ways, firm, asking, table.seen)
        return table.fits[key]

    def _fit(self, ways: Ints, firm: Bools, asking: Bools, power: Power) -> Bools | None:
        by_code = np.zeros(len(ways), dtype=np.bool_)
        for rows in self.sheets(ways, firm, asking):
            by_code |= (rows.constant_va[:, None] + rows.added_va <= self.limit_va).all(axis=0)
        if not by_code.any():
            return None
        fits = self.desk.which_fit(firm, asking, power)
        return None if fits is None else fits & (by_code | ~asking)

    def sheets(self, ways: Ints, firm: Bools, may: Bools) -> list[Rows]:
        """The calculated load by each method that may be permitted."""
        return self.calculated.methods(firm, may, entire=not bool((ways == BIT[OFF]).any()))

    def gives_way(self, ways: Ints, firm: Bools, may: Bools, price: Floats) -> float:
        """Give the least price of what must give way where not all can be always connected.

        Parameters
        ----------
        ways, firm, may
            What is decided; always connected by it; those that may still be.
        price : ndarray of float, shape (n,)
            What each costs if it gives way; at least 0.
        """
        if not price.any():
            return 0.0
        by_code = min(
            gives_way(rows.added_va, rows.constant_va + rows.added_va.sum(axis=1) - self.limit_va,
                      may, price)
            for rows in self.sheets(ways, firm, may))
        return max(by_code, self.crowding.least(firm, may, price))


def how_of(ways: Ints) -> Ints:
    """What is played: `OFF` what is left aside, `DIRECT`, and `MODULE` for all that is open."""
    found: Ints = np.where((ways & ~ASIDE) == 0, OFF, np.where(ways == BIT[DIRECT], DIRECT, MODULE))
    return found
