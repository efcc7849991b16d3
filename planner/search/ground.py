"""One size while it is searched: what is decided, what it costs at least, what no order can do.

What is decided about the loads is a `Node`. Asked is whether any order can do with it, every load
that is not decided standing behind a module: under rules 1 and 2 of the service rule a direct load
covers no more than the same load as the first module, one that is off no more than as the last. An
order that fails so disproves everything that the node can still become.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import NamedTuple

import numpy as np

from planner.arrays import Floats
from planner.progress import OnProgress
from planner.search.desk import Answer, Desk
from planner.search.loops.inputs import NODES, Asked
from planner.search.options import useful_starters, way_usd, ways_of
from planner.search.problem import Problem
from planner.service.choice import BY_HAND, DIRECT, MODULE, NO_STARTER, OFF, Choice
from planner.service.house import KW_ROW
from planner.service.loops import rules
from planner.service.loops.inputs import Power
from planner.service.supply import begins_kw
from planner.tolerances import CODE_VA, LIMIT, SAME_COVERAGE

BIT = {OFF: 1, DIRECT: 2, MODULE: 4, BY_HAND: 8}
ASIDE = BIT[OFF] | BIT[BY_HAND]  # connections in which a load is not played
OPEN_START = -1
PRICE_DIGITS = 6  # of a dollar: the order in which prices were added makes no difference

Rank = tuple[float, int, int, str, str]


@dataclass(frozen=True, slots=True)
class Node:
    """What is decided: open connections of each load as bits, its soft starter or `OPEN_START`.

    `usd` is what it costs at least, `rank` how it would win a tie at best, `hope` a coverage that
    nothing it can become beats, `order` one that was found to do for it.
    """

    ways: tuple[int, ...]
    soft: tuple[int, ...]
    usd: float
    rank: Rank
    hope: float = 1.0
    order: tuple[int, ...] = ()


class Played(NamedTuple):
    """What is asked about orders, as bits of loads, to compare questions.

    Always connected, not played, counted by rule 4, watched by rule 3; `loose`: nothing has to
    stand behind it, though a wish says so.
    """

    direct: int
    aside: int
    counted: int
    watched: int
    loose: int


@dataclass(frozen=True)
class Failure:
    """A question to which no order was the answer, with the bar and whether rules 3 or 4 refused."""

    played: Played
    bar: float
    refused: bool

    def disproves(self, other: Played, bar: float) -> bool:
        """Whether no order does for another question either.

        It has more direct and more unplayed loads, as high a bar, and no wish less. Where rule 3 or
        4 ended an order, what is not played might have been too much: then it must be the same.
        """
        mine = self.played
        if (bar < self.bar or other.direct & mine.direct != mine.direct
                or other.aside & mine.aside != mine.aside or other.loose & ~mine.loose):
            return False
        return not self.refused or (
            other.aside == mine.aside and other.counted & mine.counted == mine.counted
            and other.watched & mine.watched == mine.watched)


@dataclass
class Table:
    """What is known with one choice of soft starters (or with some open, at their gentlest)."""

    power: Power
    failures: list[Failure] = field(default_factory=list)
    fits: dict[tuple[int, int], bool] = field(default_factory=dict)


@dataclass
class Ground:
    """One size: its open decisions, and what is known of them."""

    problem: Problem
    desk: Desk
    tables: dict[tuple[int, ...], Table] = field(default_factory=dict)
    nodes: int = 0

    @cached_property
    def starters(self) -> list[list[int]]:
        """Useful soft starters of each load."""
        return [useful_starters(self.problem, i) for i in range(self.problem.house.count)]

    @cached_property
    def usd(self) -> list[dict[int, float]]:
        """Price of each open connection of each load, by its bit."""
        return [{BIT[how]: way_usd(self.problem, i, how) for how in ways_of(self.problem, i)}
                for i in range(self.problem.house.count)]

    @cached_property
    def turn(self) -> list[int]:
        """Loads in the order in which they are decided: those that draw most first."""
        kw = self.problem.house.draw[:, KW_ROW, :].max(axis=0)
        return sorted(range(len(kw)), key=lambda i: (-kw[i], i))

    @cached_property
    def pairs(self) -> tuple[list[tuple[int, int]], list[tuple[int, int]], list[tuple[int, int]]]:
        """Pairs of places: i needs k; i stands before k; i and k are never on together."""
        house = self.problem.house
        return (_pairs(house.closure), _pairs(house.before), _pairs(house.exclusive))

    @cached_property
    def ahead(self) -> list[int]:
        """Loads ahead of each in its comfort, as bits."""
        works = self.problem.house.works
        n = len(works.kind)
        return [sum(1 << k for k in range(n) if works.comfort[k] == works.comfort[i] >= 0
                    and works.rank[k] < works.rank[i]) for i in range(n)]

    def root(self) -> Node | None:
        """The node in which nothing is decided that can be; None if there is no plan."""
        ways = [sum(mine) for mine in self.usd]
        soft = tuple(NO_STARTER if len(mine) == 1 else OPEN_START for mine in self.starters)
        return self._node(ways, soft, 1.0, ())

    def node_of(self, choice: Choice) -> Node | None:
        """The leaf of a choice; None if what is connected contradicts itself."""
        return self._node([BIT[how] for how in choice.connection], choice.soft_start, 1.0, (),
                          priced=False)

    def children(self, node: Node) -> list[Node]:
        """Decide one more soft starter, else one more connection; a leaf has none."""
        for i in self.turn:
            if node.soft[i] == OPEN_START:
                return self._with_starters(node, i)
        for i in self.turn:
            if node.ways[i] & (node.ways[i] - 1):
                return self._with_connections(node, i)
        return []

    def _with_starters(self, node: Node, i: int) -> list[Node]:
        found = []
        for s in self.starters[i]:
            ways = list(node.ways)
            if s != NO_STARTER:
                ways[i] &= ~ASIDE
            soft = (*node.soft[:i], s, *node.soft[i + 1:])
            found.append(self._node(ways, soft, node.hope, node.order))
        return [one for one in found if one is not None]

    def _with_connections(self, node: Node, i: int) -> list[Node]:
        found = []
        for bit in BIT.values():
            if node.ways[i] & bit:
                ways = list(node.ways)
                ways[i] = bit
                found.append(self._node(ways, node.soft, node.hope, node.order))
        return [one for one in found if one is not None]

    def _node(
        self, ways: list[int], soft: tuple[int, ...], hope: float, order: tuple[int, ...], *,
        priced: bool = True,
    ) -> Node | None:
        """A node with all that follows from what is decided; None if nothing can come of it."""
        if not self._settle(ways):
            return None
        if not priced:
            return Node(tuple(ways), soft, 0.0, (0.0, 0, 0, "", ""), hope, order)
        menu = self.problem.menu
        modules = sum(way == BIT[MODULE] for way in ways)
        positions = int(sum(menu.poles[i] for i, way in enumerate(ways) if not way & BIT[OFF]))
        usd = menu.base + menu.equipment_usd(modules, positions)
        usd += sum(min(price for bit, price in mine.items() if way & bit)
                   for mine, way in zip(self.usd, ways, strict=True))
        usd += sum(float(menu.soft_cost[i, s]) for i, s in enumerate(soft) if s > NO_STARTER)
        if usd == float("inf"):
            return None
        hands = sum(way == BIT[BY_HAND] for way in ways)
        rank = (round(self.problem.supply.derated_kw, 9), modules, hands, menu.generator.id,
                menu.kind)
        return Node(tuple(ways), soft, round(usd, PRICE_DIGITS), rank, hope, order)

    def _settle(self, ways: list[int]) -> bool:
        """Drop connections that contradict what is decided; False if a load is left without any."""
        off, direct, module = BIT[OFF], BIT[DIRECT], BIT[MODULE]
        needs, before, foes = self.pairs
        changed = True
        while changed:
            was = list(ways)
            for i, k in needs:
                if ways[i] == direct:
                    ways[k] &= direct
                if not ways[i] & ASIDE:
                    ways[k] &= ~ASIDE
                if not ways[k] & ~ASIDE:
                    ways[i] &= ASIDE
                if not ways[k] & direct:
                    ways[i] &= ~direct
            for i, k in before:
                if ways[k] == direct:
                    ways[i] &= ~module
                if ways[i] == module:
                    ways[k] &= ~direct
            for i, k in foes:
                if ways[i] == direct:
                    ways[k] &= ~direct
            changed = ways != was
            if not all(ways):
                return False
        return all(ways) and off > 0

    def table(self, soft: tuple[int, ...]) -> Table:
        """What is known with some soft starters."""
        found = self.tables.get(soft)
        if found is None:
            found = self.tables[soft] = Table(self._power(soft))
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

    def fits(self, node: Node) -> bool:
        """Whether what is decided to be always connected fits together, by rule 1 and the code."""
        direct = _bits(way == BIT[DIRECT] for way in node.ways)
        hands = _bits(way == BIT[BY_HAND] for way in node.ways)
        table = self.table(node.soft)
        known = table.fits.get((direct, hands))
        if known is None:
            known = any(
                not fits and direct & d == d and (direct | hands) & (d | h) == d | h
                for (d, h), fits in table.fits.items())
            known = not known and self._carries(direct | hands) and self._fits(
                node, table.power)
            table.fits[direct, hands] = known
        return known

    def _carries(self, firm: int) -> bool:
        vector: Floats = np.array([firm >> i & 1 for i in range(self.problem.house.count)],
                                  dtype=np.float64)
        limit_va = 1000.0 * self.problem.supply.derated_kw + CODE_VA
        return any(form.lower_va(vector) <= limit_va for form in self.problem.demand)

    def _fits(self, node: Node, power: Power) -> bool:
        house = self.problem.house
        connection = np.array([DIRECT if way == BIT[DIRECT] else BY_HAND if way == BIT[BY_HAND]
                               else MODULE for way in node.ways], dtype=np.int64)
        firm = np.zeros(house.count, dtype=np.bool_)
        reason, _, _ = rules.direct_fits(connection, house.works, house.wiring, power, firm)
        return bool(reason == rules.FITS)

    def asked(self, node: Node) -> Asked:
        """What is asked about orders: whatever is not decided stands behind a module."""
        house, supply = self.problem.house, self.problem.supply
        n = house.count
        how = np.full(n, MODULE, dtype=np.int64)
        sure, loose = np.ones(n, dtype=np.bool_), np.zeros(n, dtype=np.bool_)
        opened = _bits(bool(way & (way - 1)) for way in node.ways)
        unsure: set[int] = set()
        for i, way in enumerate(node.ways):
            if not way & ~ASIDE:
                how[i] = OFF
            elif way == BIT[DIRECT] and not opened & self.ahead[i]:
                how[i] = DIRECT
            elif way & ASIDE:
                loose[i] = True
                unsure.add(i)
        for i in self._with_shared_needs(unsure):
            sure[i] = False
        firm = np.array([way == BIT[DIRECT] or (supply.blind[i] and not way & ASIDE)
                         for i, way in enumerate(node.ways)])
        return Asked(how=how, counted=sure, loose=loose,
                     watched=firm & self._too_much(node.soft))

    def _with_shared_needs(self, unsure: set[int]) -> set[int]:
        """Add the loads that need what an unsure one needs: what that wakes is not counted."""
        needs = [{i, *np.flatnonzero(row).tolist()}
                 for i, row in enumerate(self.problem.house.closure)]
        found, count = set(unsure), -1
        while count != len(found):
            count = len(found)
            woken = set().union(*(needs[i] for i in found)) if found else set()
            found |= {i for i, mine in enumerate(needs) if mine & woken}
        return found

    def _too_much(self, soft: tuple[int, ...]) -> np.ndarray:
        """Loads whose start may be too much where nobody announced it."""
        house, supply, power = self.problem.house, self.problem.supply, self.table(soft).power
        found = np.zeros(house.count, dtype=np.bool_)
        for i in range(house.count):
            parts = [i, *np.flatnonzero(house.closure[i])]
            found[i] = (power.begins_kw[:, parts].sum(axis=1).max()
                        + supply.capacity_kw * house.weight.max() > supply.pick_kw - LIMIT
                        or power.start_kva[parts].sum() > supply.pick_kva - LIMIT)
        return found

    def search(
        self, asked: Asked, soft: tuple[int, ...], bar: float, tick: OnProgress, *, first: bool,
        nodes: int,
    ) -> Answer:
        """Search the orders of what is asked."""
        power = self.table(soft).power
        paused, most = self.desk.look(asked, power, bar, first=first, nodes=nodes)
        left = nodes
        while paused:
            tick(0.0)
            left = nodes - int(self.desk.space.at[NODES])
            if left <= 0:
                break
            paused = self.desk.go_on(asked, power, first=first, nodes=left)
        found = self.desk.answer(paused=paused, most=most)
        self.nodes += found.nodes
        return found

    def can_do(self, node: Node, bar: float, tick: OnProgress, nodes: int) -> Node | None:
        """The node with an order that does for it; None if none can, itself if it is not known."""
        table, asked = self.table(node.soft), self.asked(node)
        played = self._played(asked)
        if any(one.disproves(played, bar) for one in table.failures):
            return None
        if OPEN_START in node.soft:
            _, most = self.desk.look(asked, table.power, 2.0, first=True, nodes=0)
            hope = min(node.hope, most)
            return None if most <= bar + SAME_COVERAGE else replace(node, hope=hope)
        found = self.search(asked, node.soft, bar, tick, first=True, nodes=nodes)
        if found.order is not None:
            return replace(node, order=found.order, hope=min(node.hope, found.most))
        if found.bound <= bar + SAME_COVERAGE:
            table.failures.append(Failure(played, bar, found.refused))
            return None
        return replace(node, hope=min(node.hope, found.most))

    def _played(self, asked: Asked) -> Played:
        followed = self.problem.house.before.any(axis=1)
        aside = asked.how == OFF
        return Played(_bits(asked.how == DIRECT), _bits(aside), _bits(asked.counted & ~aside),
                      _bits(asked.watched & ~aside), _bits((asked.loose | aside) & followed))

    def best(
        self, node: Node, bar: float, tick: OnProgress, nodes: int
    ) -> Answer:
        """Search the best order of a leaf above a bar; the order that is known for it first."""
        asked, power = self.asked(node), self.table(node.soft).power
        played = asked.how == MODULE
        order = tuple(i for i in node.order if played[i])
        if len(order) == int((played & ~self.desk.inputs.idle).sum()):
            known = self.desk.follow(asked, power, order, bar)
            if known > bar + SAME_COVERAGE:
                found = self.search(asked, node.soft, known, tick, first=False, nodes=nodes)
                return found if found.order is not None else replace(
                    found, order=order, coverage=known)
        return self.search(asked, node.soft, bar, tick, first=False, nodes=nodes)

    def choice(self, node: Node, order: tuple[int, ...]) -> Choice:
        """The choice of a leaf with an order; loads that never call stand at its end."""
        back = {bit: how for how, bit in BIT.items()}
        connection = tuple(back[way] for way in node.ways)
        rest = [i for i, how in enumerate(connection) if how == MODULE and i not in order]
        soft = tuple(s if connection[i] in (DIRECT, MODULE) else NO_STARTER
                     for i, s in enumerate(node.soft))
        return Choice(connection, soft, (*order, *rest))


def _bits(marks: Iterable[object]) -> int:
    return sum(1 << i for i, mark in enumerate(marks) if mark)


def _pairs(matrix: np.ndarray) -> list[tuple[int, int]]:
    return [(int(i), int(k)) for i, k in np.argwhere(matrix)]
