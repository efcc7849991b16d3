"""What is decided about the loads of one size, what follows from it, and what it costs at least."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.plan.keeping import saves_of, split
from planner.search.known import Played
from planner.search.limits import USUAL_LIMITS
from planner.search.options import SENSING, sensing_pays, way_usd, ways_of
from planner.search.paying import Paying
from planner.search.problem import Problem
from planner.service.choice import BY_HAND, DIRECT, MODULE, NO_STARTER, OFF, Choice
from planner.service.house import House

BIT = {OFF: 1, DIRECT: 2, MODULE: 4, BY_HAND: 8, SENSING: 16}
MODULES = BIT[MODULE] | BIT[SENSING]
ASIDE = BIT[OFF] | BIT[BY_HAND]  # connections in which a load is not played
FIRM = BIT[DIRECT] | BIT[BY_HAND]  # connections that count in rule 1 and by the code
OPEN_START = -1
PRICE_DIGITS = 6  # of a dollar: the order in which prices were added makes no difference

Rank = tuple[float, int, int, str, str]


@dataclass(frozen=True)
class Node:
    """What is decided: open connections of each load as bits, its soft starter or `OPEN_START`.

    `usd` is what it costs at least, `rank` how it would win a tie at best, `hope` a coverage that
    nothing it can become beats, `order` one that was found to do for what was `played`; `probe` is
    how long to look for one.
    """

    ways: Ints
    soft: tuple[int, ...]
    usd: float = 0.0
    rank: Rank = (0.0, 0, 0, "", "")
    hope: float = 1.0
    order: tuple[int, ...] = ()
    played: Played | None = None
    probe: int = field(default=USUAL_LIMITS.probe)
    paying: Paying | None = None

    @cached_property
    def opened(self) -> Bools:
        """Loads whose connection is not decided, shape (n,)."""
        found: Bools = (self.ways & (self.ways - 1)) != 0
        return found

    @property
    def is_before_root(self) -> bool:
        """Whether it only stands for a size that nobody has looked at."""
        return not self.rank[3]

    @property
    def is_leaf(self) -> bool:
        """Whether all is decided but the order."""
        return OPEN_START not in self.soft and not self.opened.any()


def choice_of(node: Node, order: tuple[int, ...]) -> Choice:
    """The choice of a leaf with an order, all off without modules; what never calls stands last."""
    back = {bit: how for how, bit in BIT.items()} | {BIT[SENSING]: MODULE}
    connection = tuple(back[int(way)] for way in node.ways)
    sensing = frozenset(np.flatnonzero(node.ways == BIT[SENSING]).tolist())
    rest = [i for i, how in enumerate(connection) if how == MODULE and i not in order]
    soft = tuple(s if connection[i] in (DIRECT, MODULE) else NO_STARTER
                 for i, s in enumerate(node.soft))
    return Choice(connection, soft, (*order, *rest), sensing)


class Settling:
    """What follows from decisions by what needs, excludes or precedes what."""

    def __init__(self, house: House) -> None:
        self.needs, self.before, self.foes = (
            [(int(i), int(k)) for i, k in np.argwhere(matrix)]
            for matrix in (house.closure, house.wished, house.exclusive))

    def settle(self, ways: Ints) -> bool:
        """Drop connections that contradict what is decided; False if a load is left without any."""
        if not self.needs and not self.before and not self.foes:
            return bool(ways.all())
        now = ways.tolist()
        while True:
            was = list(now)
            self._together(now)
            self._apart(now)
            if not all(now):
                return False
            if now == was:
                ways[:] = now
                return True

    def _apart(self, ways: list[int]) -> None:
        """Who stands before whom, who is never on with whom."""
        direct = BIT[DIRECT]
        for i, k in self.before:
            if ways[k] == direct:
                ways[i] &= ~MODULES
            if ways[i] and not ways[i] & ~MODULES:
                ways[k] &= ~direct
        for i, k in self.foes:
            if ways[i] == direct:
                ways[k] &= ~direct

    def _together(self, ways: list[int]) -> None:
        """What a load needs is connected as firmly."""
        direct = BIT[DIRECT]
        for i, k in self.needs:
            if ways[i] == direct:
                ways[k] &= direct
            if not ways[i] & ASIDE:
                ways[k] &= ~ASIDE
            if not ways[k] & ~ASIDE:
                ways[i] &= ASIDE
            if not ways[k] & direct:
                ways[i] &= ~direct


class Prices:
    """What decisions of one size cost at least."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.house = problem.house
        n, senses = self.house.count, sensing_pays(problem)
        self.saves = saves_of(problem.menu)
        self.may_save = bool(self.saves.any())
        prices = [{BIT[how]: way_usd(problem, i, how)
                   for how in (*ways_of(problem, i), *([SENSING] if senses[i] else []))}
                  for i in range(n)]
        self.open_ways: Ints = np.array([sum(mine) for mine in prices], dtype=np.int64)
        self.rows = np.arange(n)
        self.cheapest: Floats = np.array([
            [min((usd for bit, usd in mine.items() if way & bit), default=np.inf)
             for way in range(2 * BIT[SENSING])] for mine in prices])

    def aside(self, ways: Ints, may: Bools) -> Floats:
        """What each load that may be always connected costs more if it is not, shape (n,) [USD]."""
        found: Floats = np.where(
            may, self.cheapest[self.rows, ways & ~FIRM] - self.cheapest[self.rows, ways], 0.0)
        return np.minimum(found, 1e7)

    def saved_off(self, ways: Ints) -> tuple[float, ...]:
        """What each load that is surely off saves if its module stays open, most first [USD]."""
        if not self.may_save:
            return ()
        off = self.saves[ways == BIT[OFF]]
        return tuple(sorted(off[off > 0.0].tolist(), reverse=True))

    def rank(self, ways: Ints) -> Rank:
        """How plans with what is decided would win a tie at best."""
        menu = self.problem.menu
        modules = int(((ways & ~MODULES) == 0).sum())
        if not (ways & (ways - 1)).any():
            modules += split(menu, self.saved_off(ways), modules)[0]
        return (round(self.problem.supply.derated_kw, 9), modules,
                int((ways == BIT[BY_HAND]).sum()), menu.generator.id, menu.kind)

    def paying(
        self, ways: Ints, soft: tuple[int, ...], hope: float, losses: Floats, aside: Floats,
        more_usd: float = 0.0,
    ) -> Paying:
        """What plans cost that leave aside what the bar lets go.

        Parameters
        ----------
        ways, soft
            What is decided.
        hope : float
            Coverage that nothing beats.
        losses : ndarray of float, shape (n,)
            Coverage that each open load takes at least if it is left aside.
        aside : ndarray of float, shape (n,)
            What is counted elsewhere of its cost [USD].
        more_usd : float
            What that comes to together [USD].
        """
        menu = self.problem.menu
        connected = ways & ~ASIDE
        usd = self.cheapest[self.rows, ways]
        may = (connected != 0) & (connected != ways)
        more = np.where(may, np.maximum(
            self.cheapest[self.rows, connected] - usd - aside, 0.0), 0.0)
        total = more_usd + menu.base + float(usd.sum()) + float(more.sum()) + sum(
            float(menu.soft_cost[i, s]) for i, s in enumerate(soft) if s > NO_STARTER)
        saved_off = self.saved_off(ways)
        needs_module = (connected != 0) & ((connected & ~MODULES) == 0)
        poles = np.where((ways & ~BIT[OFF]) != 0, menu.poles, 0)
        places = np.flatnonzero(may)
        return Paying(
            hope, total + sum(saved_off), int(needs_module.sum()), int(poles.sum()),
            tuple(losses[places].tolist()),
            tuple(zip(more[places].tolist(), needs_module[places].tolist(),
                      np.where((ways & BIT[OFF]) != 0, poles, 0)[places].tolist(), strict=True)),
            saved_off)

    def usd(self, paying: Paying, bar: float) -> float:
        """Least cost of what beats a bar [USD]; infinite if the book cannot build it."""
        usd, modules, positions = paying.least(bar)
        menu = self.problem.menu
        return (usd + menu.transfer_usd(positions)
                + split(menu, paying.saved_off, modules)[1])
