"""One size while it is searched: what is decided, what it costs at least, what no order can do.

What is decided about the loads is a `Node`. Asked is whether any order can do with it, every load
that is not decided standing behind a module: under rules 1 and 2 of the service rule a direct load
covers no more than the same load as the first module, one that is off no more than as the last. An
order that fails so disproves everything that the node can still become.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from planner.arrays import Ints
from planner.plan.code import direct_sheet
from planner.plan.keeping import split_at_least
from planner.progress import OnProgress
from planner.search.bounding import Bounds, Table, how_of
from planner.search.covering import Covering, Long
from planner.search.desk import Answer, nothing_above
from planner.search.known import Failure, Played, bits
from planner.search.loops.inputs import BAR, NODES, Asked
from planner.search.options import SENSING
from planner.search.ways import ASIDE, BIT, FIRM, MODULES, OPEN_START, PRICE_DIGITS, Node, choice_of
from planner.service.choice import BY_HAND, DIRECT, MODULE, NO_STARTER, OFF, Choice
from planner.tolerances import SAME_COVERAGE

ROUNDING_USD = 1e-5  # a bound is never above the price that it bounds, for rounding of floats
KINDS = (BIT[OFF], BIT[DIRECT], MODULES, BIT[BY_HAND])
"""Connections, whatever a module senses."""
NO_BAR = -0.5  # any plan covers more; what is none is hoped to cover -1
LEAST_PROBE = 400
"""Prefixes of the search that asks whether any order can do, where it was cut short before."""


@dataclass
class Ground(Bounds):
    """One size: open decisions, and what is known of them."""

    def root(self) -> Node | None:
        """The node in which nothing is decided that can be; None if there is no plan."""
        soft = tuple(NO_STARTER if len(mine) == 1 else OPEN_START for mine in self.starters)
        return self._node(self.prices.open_ways.copy(), soft, Node(self.prices.open_ways, soft),
                          NO_BAR)

    def before_root(self, probe: int) -> Node:
        """What stands in the queue for a size until it is looked at: no soft starters, a price."""
        menu = self.problem.menu
        usd = round(menu.base + menu.transfers[0].installed_usd, PRICE_DIGITS)
        return Node(np.zeros(0, dtype=np.int64), (), usd - ROUNDING_USD, probe=probe)

    def node_of(self, choice: Choice) -> Node | None:
        """The leaf of a choice; None if what is connected contradicts itself or does not fit."""
        ways = np.array([BIT[SENSING if i in choice.sensing else how]
                         for i, how in enumerate(choice.connection)], dtype=np.int64)
        node = Node(ways, choice.soft_start)
        able = self.settling.settle(ways) and self.fit(node) is not None
        return node if able else None

    def children(self, node: Node, bar: float) -> list[Node]:
        """Decide one more soft starter, else one more connection; only what may beat a bar.

        What a module senses comes last: it changes rule 3 alone.
        """
        for i in self.turn:
            if node.soft[i] == OPEN_START:
                found = [self._started(node, i, s, bar) for s in self.starters[i]]
                return [one for one in found if one]
        opened = node.opened
        for kinds in (KINDS, BIT.values()):
            for i in self.turn:
                mine = [node.ways[i] & kind for kind in kinds if node.ways[i] & kind]
                if opened[i] and len(mine) > 1:
                    return [one for bit in mine if (one := self._connected(node, i, bit, bar))]
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
            how = how_of(ways)
            hope_alone = self._hope(how)
            hope = min(hope, hope_alone)
            if hope <= bar + SAME_COVERAGE:
                return None
            fits = self.fit(Node(ways, soft))
            if fits is None:
                return None
            barred = ~fits & ((ways & FIRM) != 0)
            if not barred.any():
                break
            ways[barred] &= ~FIRM
        opened = (ways & (ways - 1)) != 0
        may = opened & ((ways & FIRM) != 0)
        aside = self.prices.aside(ways, may)
        usd_aside = 0.0
        losses = self._value(how, opened & ((ways & ASIDE) != 0))
        if opened.any():
            firm = ((ways & FIRM) != 0) & ~opened
            usd_aside = max(0.0, self.gives_way(ways, firm, may, aside) - ROUNDING_USD)
            values = self._value(how, may & ((ways & MODULES) == 0))
            hope = min(hope, hope_alone - self.gives_way(ways, firm, may, values))
            if hope <= bar + SAME_COVERAGE:
                return None
        paying = self.prices.paying(ways, soft, hope_alone, losses, aside, usd_aside)
        usd = max(parent.usd, round(self.prices.usd(paying, bar), PRICE_DIGITS))
        if usd == float("inf"):
            return None
        return Node(ways, soft, usd, self.prices.rank(ways), hope, parent.order, parent.played,
                    parent.probe, paying)

    def usd(self, node: Node, bar: float) -> float:
        """Least cost of what a node can become that beats a bar [USD]."""
        if node.paying is None or node.is_leaf:
            return node.usd
        return max(node.usd, round(self.prices.usd(node.paying, bar), PRICE_DIGITS))

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
        counted = self._counted(unsure)
        before = house.before
        if before.any():
            may_be_first = (ways & BIT[DIRECT]) != 0
            before = (house.wished | (before & ~may_be_first[None, :])) & ~unsure[:, None]
        unseen = blind & ~may_be_aside & ((ways & BIT[SENSING]) == 0)
        watched = (firm | unseen) & self.table(node.soft).too_much
        return Asked(how=how, counted=counted, before=before, watched=watched)

    def _played(self, asked: Asked) -> Played:
        aside, direct = asked.how == OFF, asked.how == DIRECT
        first, second = self.pair_rows
        if not first.size:
            return Played(bits(direct), bits(aside), bits(asked.counted & ~aside),
                          bits(asked.watched & ~aside), 0, 0)
        holds = asked.before[first, second] & ~aside[first]  # what is not played stands last
        return Played(bits(direct), bits(aside), bits(asked.counted & ~aside),
                      bits(asked.watched & ~aside), bits(holds),
                      bits(direct[first] | aside[second]))

    def search(
        self, asked: Asked, soft: tuple[int, ...], bar: float, tick: OnProgress, *, first: bool,
        nodes: int, gives_up: Callable[[float], bool] | None = None,
    ) -> Answer:
        """Search the orders of what is asked; where it pauses it may be given up."""
        power = self.table(soft).seen
        paused, most = self.desk.look(asked, power, bar, first=first, nodes=nodes)
        while paused:
            tick(0.0)
            if gives_up is not None and gives_up(float(self.desk.space.worth[BAR])):
                break
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
        if self._is_disproved(played, bar, table):
            return None
        if OPEN_START in node.soft or self._is_only_first_or_off(node):
            _, most = self.desk.look(asked, table.seen, 2.0, first=True, nodes=0)
            return None if most <= bar + SAME_COVERAGE else replace(
                node, hope=min(node.hope, most))
        return self._probed(node, asked, bar, tick)

    def _is_disproved(self, played: Played, bar: float, table: Table) -> bool:
        return any(one.disproves(played, bar, table.starts) for one in self.failures)

    def _probed(self, node: Node, asked: Asked, bar: float, tick: OnProgress) -> Node | None:
        """`can_do` by searching the orders."""
        table, played = self.table(node.soft), self._played(asked)
        order = self._known_order(asked, node)
        if order and self.desk.follow(asked, table.seen, order, bar) > bar + SAME_COVERAGE:
            return replace(node, order=order, played=played)
        found = self.search(asked, node.soft, bar, tick, first=True, nodes=node.probe,
                            gives_up=lambda now: self._is_covered(node, played, now, tick))
        if self._is_disproved(played, bar, table):
            return None
        hope = min(node.hope, found.most)
        if found.order is not None:
            return replace(node, order=found.order, hope=hope, played=played)
        if found.bound <= bar + SAME_COVERAGE:
            self.failures.append(Failure(played, bar, found.refused, table.starts, found.decided))
            return None
        return replace(node, hope=hope, played=None,
                       probe=max(LEAST_PROBE, node.probe // 4))

    def _is_covered(self, node: Node, played: Played, bar: float, tick: OnProgress) -> bool:
        """Go on with what disproves much more; whether that has disproved what was played."""
        table = self.table(node.soft)
        for long in self.covering.wide(node.soft):
            if long.would_disprove(played, bar, table.starts):
                self.nodes += long.go_on(bar, tick)
                if long.failure is not None:
                    self.failures.append(long.failure)
                return self._is_disproved(played, bar, table)
        return False

    @cached_property
    def covering(self) -> Covering:
        """What is asked with nothing decided but soft starters."""
        return Covering(self._undecided)

    def _undecided(self, soft: tuple[int, ...]) -> Long | None:
        root = self.root()
        if root is None:
            return None
        asked, table = self.asked(replace(root, soft=soft)), self.table(soft)
        return Long(self.desk.another(), asked, self._played(asked), table.seen, table.starts)

    def _is_only_first_or_off(self, node: Node) -> bool:
        """Whether some load that is not decided stands behind no module: it is first or is off.

        An order in which it stands in between says nothing then; what is hoped for does.
        """
        return bool((node.opened & ((node.ways & MODULES) == 0)).any())

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
        asked, table = self.asked(node), self.table(node.soft)
        power, played = table.seen, self._played(asked)
        if self._is_disproved(played, bar, table):
            return nothing_above(bar)
        order = self._known_order(asked, node)
        if order:
            known = self.desk.follow(asked, power, order, bar)
            if known > bar + SAME_COVERAGE:
                found = self._noted(self.search(
                    asked, node.soft, known, tick, first=False, nodes=nodes), played, table)
                return found if found.order is not None else replace(
                    found, order=order, coverage=known)
        return self._noted(self.search(
            asked, node.soft, bar, tick, first=False, nodes=nodes), played, table)

    def _noted(self, found: Answer, played: Played, table: Table) -> Answer:
        """Note what a search for the best order disproves: whatever covers more."""
        if found.bound <= found.coverage + SAME_COVERAGE:
            self.failures.append(Failure(played, found.bound, found.refused, table.starts,
                                         found.decided))
        return found

    def plainness(self, node: Node) -> tuple[int, float]:
        """How many loads a leaf leaves off, and its calculated load [VA], which settle ties."""
        sheet = direct_sheet(self.problem.menu, self.choice(node, ()))
        return int((node.ways == BIT[OFF]).sum()), round(sheet.total_va, PRICE_DIGITS)

    def choice(self, node: Node, order: tuple[int, ...]) -> Choice:
        """The choice of a leaf with an order, in the cheapest way to be off."""
        return split_at_least(self.problem.menu, choice_of(node, order))
