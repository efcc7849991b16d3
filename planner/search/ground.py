"""One size while it is searched: what is decided, what it costs at least, what no order can do.

What is decided about the loads is a `Node`. Asked is whether any order can do with it, every load
that is not decided standing behind a module: under rules 1 and 2 of the service rule a direct load
covers no more than the same load as the first module, one that is off no more than as the last. An
order that fails so disproves everything that the node can still become.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.progress import OnProgress
from planner.search.crowding import Crowding
from planner.search.desk import Answer, Desk
from planner.search.known import Failure, Played, bits
from planner.search.loops.hoping import BROKEN
from planner.search.loops.inputs import NODES, Asked
from planner.search.options import heaviest_kw, useful_starters
from planner.search.problem import Problem
from planner.search.ways import (
    ASIDE,
    BIT,
    FIRM,
    OPEN_START,
    PRICE_DIGITS,
    Node,
    Prices,
    Settling,
)
from planner.service.choice import BY_HAND, DIRECT, MODULE, NO_STARTER, OFF, Choice
from planner.service.house import KW_ROW
from planner.service.loops.inputs import Power
from planner.service.supply import begins_kw
from planner.tolerances import CODE_VA, LIMIT, SAME_COVERAGE

ROUNDING_USD = 1e-5  # a bound is never above the price that it bounds, for rounding of floats
NO_BAR = -0.5  # any plan covers more; what is none is hoped to cover -1
LEAST_PROBE = 400
"""Prefixes of the search that asks whether any order can do, where it was cut short before."""


@dataclass
class Table:
    """What is known with one choice of soft starters (or with some open, at their gentlest)."""

    power: Power
    too_much: Bools
    failures: list[Failure] = field(default_factory=list)
    fits: dict[int, Bools | None] = field(default_factory=dict)


@dataclass
class Ground:
    """One size: open decisions, and what is known of them; `nodes` counts prefixes of orders."""

    problem: Problem
    desk: Desk
    tables: dict[tuple[int, ...], Table] = field(default_factory=dict)
    nodes: int = 0

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

    def root(self) -> Node | None:
        """The node in which nothing is decided that can be; None if there is no plan."""
        soft = tuple(NO_STARTER if len(mine) == 1 else OPEN_START for mine in self.starters)
        return self._node(self.prices.open_ways.copy(), soft, Node(self.prices.open_ways, soft),
                          NO_BAR)

    def node_of(self, choice: Choice) -> Node | None:
        """The leaf of a choice; None if what is connected contradicts itself or does not fit."""
        ways = np.array([BIT[how] for how in choice.connection], dtype=np.int64)
        node = Node(ways, choice.soft_start)
        able = self.settling.settle(ways) and self.fit(node) is not None
        return node if able else None

    def children(self, node: Node, bar: float) -> list[Node]:
        """Decide one more soft starter, else one more connection; only what may beat a bar."""
        for i in self.turn:
            if node.soft[i] == OPEN_START:
                found = [self._started(node, i, s, bar) for s in self.starters[i]]
                return [one for one in found if one]
        opened = node.opened
        for i in self.turn:
            if opened[i]:
                return [one for bit in BIT.values() if node.ways[i] & bit
                        and (one := self._connected(node, i, bit, bar))]
        return []

    def _started(self, node: Node, i: int, s: int, bar: float) -> Node | None:
        ways = node.ways.copy()
        if s != NO_STARTER:
            ways[i] &= ~ASIDE
        return self._node(ways, (*node.soft[:i], s, *node.soft[i + 1:]), node, bar)

    def _connected(self, node: Node, i: int, bit: int, bar: float) -> Node | None:
        ways = node.ways.copy()
        ways[i] = bit
        return self._node(ways, node.soft, node, bar)

    def _node(self, ways: Ints, soft: tuple[int, ...], parent: Node, bar: float) -> Node | None:
        """A node with all that follows from what is decided; None if nothing can come of it."""
        hope = parent.hope
        while True:
            if not self.settling.settle(ways):
                return None
            hope = min(hope, self._hope(ways))
            if hope <= bar + SAME_COVERAGE:
                return None
            fits = self.fit(Node(ways, soft))
            if fits is None:
                return None
            barred = ~fits & ((ways & FIRM) != 0)
            if not barred.any():
                break
            ways[barred] &= ~FIRM
        usd, rank = self.prices.least(ways, soft)
        if usd == float("inf"):
            return None
        opened = (ways & (ways - 1)) != 0
        if opened.any():
            may = opened & ((ways & FIRM) != 0)
            firm = ((ways & FIRM) != 0) & ~opened
            least = self.crowding.least(firm, may, self.prices.aside(ways, may))
            usd = max(parent.usd, usd + max(0.0, least - ROUNDING_USD))
            hope = min(hope, self._hope(ways) - self.crowding.least(
                firm, may, self._value(ways, may)))
            if hope <= bar + SAME_COVERAGE:
                return None
        return replace(parent, ways=ways, soft=soft, usd=round(usd, PRICE_DIGITS), rank=rank,
                       hope=hope)

    def _hope(self, ways: Ints) -> float:
        """Coverage that nothing beats, comfort by comfort; -1 if a promise cannot be kept."""
        how = _how(ways)
        covered = self.desk.inputs.whole
        for c, loads in self.looked_at:
            lost = self._lost(c, how, loads)
            if lost == BROKEN:
                return -1.0
            covered -= lost
        return covered

    def _value(self, ways: Ints, may: Bools) -> Floats:
        """Coverage that each load costs at least if it gives way and is not played, shape (n,).

        Where several of a comfort may give way, they share what the least of them costs.
        """
        how = _how(ways)
        value = np.zeros(len(ways))
        for c, loads in self.looked_at:
            mine = [int(i) for i in loads if may[i] and not ways[i] & BIT[MODULE]]
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
        found = self.desk.lost.get(key)
        if found is None:
            found = self.desk.lost[key] = self._lost_alone(c, how)
        return found

    def _lost_alone(self, c: int, how: Ints) -> float:
        n = len(how)
        none = np.zeros(n, dtype=np.bool_)
        asked = Asked(how=how, counted=none, watched=none,
                      before=np.zeros((n, n), dtype=np.bool_))
        any_power = self.table(tuple(0 for _ in how)).power
        return self.desk.lost_alone(c, asked, any_power)

    def table(self, soft: tuple[int, ...]) -> Table:
        """What is known with some soft starters."""
        found = self.tables.get(soft)
        if found is None:
            power = self._power(soft)
            found = self.tables[soft] = Table(power, self._too_much(power))
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
        key = bits(firm) << len(ways) | bits(asking)
        if key not in table.fits:
            table.fits[key] = self._fit(firm, asking, table.power)
        return table.fits[key]

    def _fit(self, firm: Bools, asking: Bools, power: Power) -> Bools | None:
        if not self._carries(firm.astype(np.float64)):
            return None
        fits = self.desk.which_fit(firm, asking, power)
        if fits is not None:
            for i in np.flatnonzero(asking & fits):
                more = firm.astype(np.float64)
                more[i] = 1.0
                fits[i] = self._carries(more)
        return fits

    def _carries(self, firm: Floats) -> bool:
        limit_va = 1000.0 * self.problem.supply.derated_kw + CODE_VA
        return any(form.lower_va(firm) <= limit_va for form in self.problem.demand)

    def asked(self, node: Node) -> Asked:
        """What is asked about orders: whatever is not decided stands behind a module."""
        house, blind = self.problem.house, self.problem.supply.blind
        ways, opened = node.ways, node.opened
        may_be_aside = (ways & ASIDE) != 0
        aside = (ways & ~ASIDE) == 0
        firm = ways == BIT[DIRECT]
        direct = firm & ~(self.ahead & opened).any(axis=1)
        how = np.where(aside, OFF, np.where(direct, DIRECT, MODULE))
        unsure = may_be_aside & ~aside
        counted = ~unsure
        if unsure.any():
            woken = self.needs[unsure].any(axis=0)
            while True:
                counted = ~(self.needs & woken).any(axis=1) & ~unsure
                more = woken | self.needs[~counted].any(axis=0)
                if (more == woken).all():
                    break
                woken = more
        before = house.before
        if before.any():
            may_be_first = (ways & BIT[DIRECT]) != 0
            before = (house.wished | (before & ~may_be_first[None, :])) & ~unsure[:, None]
        watched = (firm | (blind & ~may_be_aside)) & self.table(node.soft).too_much
        return Asked(how=how, counted=counted, before=before, watched=watched)

    def _played(self, asked: Asked) -> Played:
        aside, direct = asked.how == OFF, asked.how == DIRECT
        first, second = self.pair_rows
        holds = asked.before[first, second] & ~aside[first]  # what is not played stands last
        return Played(bits(direct), bits(aside), bits(asked.counted & ~aside),
                      bits(asked.watched & ~aside), bits(holds),
                      bits(direct[first] | aside[second]))

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

    def can_do(self, node: Node, bar: float, tick: OnProgress) -> Node | None:
        """The node with an order that does for it; None if none can, itself if it is not known."""
        table, asked = self.table(node.soft), self.asked(node)
        played = self._played(asked)
        if played == node.played:
            return node
        if any(one.disproves(played, bar) for one in table.failures):
            return None
        if OPEN_START in node.soft or self._is_only_first_or_off(node):
            _, most = self.desk.look(asked, table.power, 2.0, first=True, nodes=0)
            return None if most <= bar + SAME_COVERAGE else replace(
                node, hope=min(node.hope, most))
        return self._probed(node, asked, bar, tick)

    def _probed(self, node: Node, asked: Asked, bar: float, tick: OnProgress) -> Node | None:
        """`can_do` by searching the orders."""
        table, played = self.table(node.soft), self._played(asked)
        order = self._known_order(asked, node)
        if order and self.desk.follow(asked, table.power, order, bar) > bar + SAME_COVERAGE:
            return replace(node, order=order, played=played)
        found = self.search(asked, node.soft, bar, tick, first=True, nodes=node.probe)
        hope = min(node.hope, found.most)
        if found.order is not None:
            return replace(node, order=found.order, hope=hope, played=played)
        if found.bound <= bar + SAME_COVERAGE:
            table.failures.append(Failure(played, bar, found.refused))
            return None
        return replace(node, hope=hope, played=None,
                       probe=max(LEAST_PROBE, node.probe // 4))

    def _is_only_first_or_off(self, node: Node) -> bool:
        """Whether some load that is not decided stands behind no module: it is first or is off.

        An order in which it stands in between says nothing then; what is hoped for does.
        """
        return bool((node.opened & ((node.ways & BIT[MODULE]) == 0)).any())

    def _known_order(self, asked: Asked, node: Node) -> tuple[int, ...]:
        """The order known for a node, if it is one of what is now asked; else empty."""
        played = (asked.how == MODULE) & ~self.desk.inputs.idle
        order = tuple(i for i in node.order if played[i])
        if len(order) != int(played.sum()):
            return ()
        kept = not np.tril(asked.before[np.ix_(order, order)]).any()  # nobody stands too late
        return order if kept else ()

    def best(self, node: Node, bar: float, tick: OnProgress, nodes: int) -> Answer:
        """Search the best order of a leaf above a bar; the order that is known for it first."""
        asked, power = self.asked(node), self.table(node.soft).power
        order = self._known_order(asked, node)
        if order:
            known = self.desk.follow(asked, power, order, bar)
            if known > bar + SAME_COVERAGE:
                found = self.search(asked, node.soft, known, tick, first=False, nodes=nodes)
                return found if found.order is not None else replace(
                    found, order=order, coverage=known)
        return self.search(asked, node.soft, bar, tick, first=False, nodes=nodes)

    def choice(self, node: Node, order: tuple[int, ...]) -> Choice:
        """The choice of a leaf with an order; loads that never call stand at its end."""
        back = {bit: how for how, bit in BIT.items()}
        connection = tuple(back[int(way)] for way in node.ways)
        rest = [i for i, how in enumerate(connection) if how == MODULE and i not in order]
        soft = tuple(s if connection[i] in (DIRECT, MODULE) else NO_STARTER
                     for i, s in enumerate(node.soft))
        return Choice(connection, soft, (*order, *rest))




def _how(ways: Ints) -> Ints:
    """What is played: `OFF` what is left aside, `DIRECT`, and `MODULE` for all that is open."""
    found: Ints = np.where((ways & ~ASIDE) == 0, OFF, np.where(ways == BIT[DIRECT], DIRECT, MODULE))
    return found
