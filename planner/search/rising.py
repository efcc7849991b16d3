"""All sizes in one queue by rising cost: the first plan that covers enough more is the next point.

A node is taken out when nothing cheaper is left. What has to be beaten only rises with the cost, so
a node that cannot beat it at its own least cost never will.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import count

from planner.progress import OnProgress, unheard
from planner.search.desk import Desk, desk_of
from planner.search.ground import NO_BAR, Ground
from planner.search.hard.seeding import relaxed_seeds, seed_of
from planner.search.limits import LEAST_GAIN, Stopped
from planner.search.points import Found, Open, Point
from planner.search.problem import Problem
from planner.search.ways import MODULES, Node, Rank
from planner.tolerances import SAME_COVERAGE, SAME_USD

SHORTER = 40  # times less patience, where a size is looked at by itself at the end
COUNTED = 10  # prefixes of orders that a node of the queue counts for, by its time
SEEDS_AFTER = 50_000
"""Prefixes after which a home is hard, so that a plan of each size is looked for at once."""
RELAXED_AFTER, MOST_RELAXED = 280_000, 12
"""Prefixes after which sizes that are open are bounded by the relaxed model, if they are so few."""
EVERY = 16  # nodes of the queue between two words about how far it is


@dataclass
class Rising(Found):
    """The search over some sizes.

    Attributes
    ----------
    nodes : int
        Prefixes of orders that were looked at.
    taken : int
        Nodes of the queue that were looked at.
    """

    nodes: int = 0
    taken: int = 0
    share: float = 0.0
    queue: list[tuple[float, float, float, Rank, int, Ground, Node]] = field(default_factory=list)
    number: Iterator[int] = field(default_factory=count)

    def run(self, problems: Sequence[Problem], tick: OnProgress) -> Iterator[Point]:
        """Give each point as it is found; a later one may take its place.

        Where patience ends before the queue does, every size is looked at shortly by itself; where
        the search is stopped, what is in the queue is left open.
        """
        stop = self.limits.stop
        if stop is not None:
            tick = stop.watched(tick)
        desk: Desk | None = None
        grounds = []
        for problem in problems:
            desk = desk if desk and desk.house is problem.house else desk_of(problem.house)
            if problem.menu.allowed.any(axis=1).all():
                grounds.append(Ground(problem, desk))
        for ground in grounds:
            self._push(ground, ground.before_root(self.limits.probe))
        if stop is not None and stop.seconds is not None and not self.points:
            yield from self._seeded(grounds, tick)
        elif self.limits.all_nodes >= 2 * SEEDS_AFTER:
            yield from self._hardly(grounds, tick)
        yield from self._rise(self.limits.all_nodes, tick)
        if self.opened and self.spent >= self.limits.all_nodes and not self.limits.is_stopped:
            roots = [(ground, root) for ground in grounds if (root := ground.root()) is not None]
            for ground, root in sorted(roots, key=lambda one: one[1].usd):
                self._push(ground, replace(root, probe=self.limits.probe // SHORTER))
                yield from self._rise(self.spent + self.limits.all_nodes // SHORTER, tick)

    def _hardly(self, grounds: Sequence[Ground], tick: OnProgress) -> Iterator[Point]:
        """Search until a home counts as hard, and take in plans that are found otherwise."""
        yield from self._rise(SEEDS_AFTER, tick, pauses=True)
        if self._needs_plans:
            yield from self._seeded(grounds, tick)
        yield from self._rise(RELAXED_AFTER, tick, pauses=True)
        if self._needs_plans:
            yield from self._relaxed(tick)

    @property
    def _needs_plans(self) -> bool:
        """Whether something is in the queue, and there may be no plan yet that is dearer."""
        return (bool(self.queue) and self.below_usd == float("inf")
                and not self.limits.is_stopped)

    def _seeded(self, grounds: Sequence[Ground], tick: OnProgress) -> Iterator[Point]:
        """Take in a plan of each size that is found at once."""
        try:
            for ground in grounds:
                point = self.take_in(ground, seed_of(ground, self.goal, tick))
                if point is not None:
                    yield point
        except Stopped:
            return

    def take_in(self, ground: Ground, leaf: Node | None) -> Point | None:
        """Take in a leaf with its order, if it is a point."""
        return self._point(ground, leaf, leaf.order) if leaf is not None else None

    def _relaxed(self, tick: OnProgress) -> Iterator[Point]:
        """Bound the sizes that are open by the relaxed model, and take in plans made of it."""
        grounds = list({id(one[-2]): one[-2] for one in sorted(self.queue)}.values())
        if len(grounds) > MOST_RELAXED:
            return
        try:
            for ground in grounds:
                for leaf in relaxed_seeds(ground, self.relaxed(ground.problem), tick):
                    point = self.take_in(ground, leaf)
                    if point is not None:
                        yield point
        except Stopped:
            return

    @property
    def spent(self) -> int:
        """Prefixes that were looked at, and the nodes of the queue by their time."""
        return self.nodes + COUNTED * self.taken

    def _rise(self, until: int, tick: OnProgress, *, pauses: bool = False) -> Iterator[Point]:
        """Take nodes out of the queue until it is empty, or until so much was spent.

        What is left then is open, unless it only pauses.
        """
        while self.queue and not (pauses and self.spent >= until):
            usd, _, _, _, _, ground, node = heapq.heappop(self.queue)
            if self._is_over(usd):
                self.queue.clear()
            elif self.limits.is_stopped:
                self._leave_open(ground, node)
            elif node.is_before_root:
                self._begin(ground, node)
            elif self.spent >= until:
                self._leave_open(ground, node)
            else:
                self.taken += 1
                try:
                    if self.taken % EVERY == 0:
                        self.share = max(self.share, self.taken / (self.taken + len(self.queue)))
                        tick(self.share)
                    point = self._look_at(ground, node, lambda _: tick(self.share))
                except Stopped:
                    self._leave_open(ground, node)
                    return
                if point is not None:
                    yield point

    def _leave_open(self, ground: Ground, node: Node) -> None:
        """Look no further: a node, and all that is in the queue, is not decided."""
        self.opened += [Open(node.usd, node.hope, ground.problem), *(
            Open(one[0], one[-1].hope, one[-2].problem) for one in self.queue)]
        self.queue.clear()

    def _begin(self, ground: Ground, node: Node) -> None:
        """Look at a size at last, once nothing cheaper is left."""
        root = ground.root()
        if root is not None:
            self._push(ground, replace(root, probe=node.probe))

    def _push(self, ground: Ground, node: Node) -> None:
        heapq.heappush(self.queue, (node.usd, node.rank[0], -node.hope, node.rank,
                                    -next(self.number), ground, node))

    def _is_over(self, usd: float) -> bool:
        """Whether nothing of this cost or more can be a point any more, or is asked for."""
        if usd >= self.below_usd:
            return True
        cheaper = [point for point in self.points if point.usd < usd - SAME_USD]
        return bool(cheaper) and (self.goal is not None or cheaper[-1].coverage + LEAST_GAIN
                                  > 1.0 + SAME_COVERAGE)

    def _look_at(self, ground: Ground, node: Node, tick: OnProgress) -> Point | None:
        bar = self.bar(node.usd, node.rank, ground.plainness(node) if node.is_leaf else None)
        if node.hope > ground.most:
            node = replace(node, hope=ground.most)
        if node.hope <= bar + SAME_COVERAGE:
            return None
        enough = self.enough(node.usd, bar)
        if node.hope <= enough + SAME_COVERAGE:
            self.opened.append(Open(node.usd, node.hope, ground.problem))
            return None
        usd = ground.usd(node, enough)
        if usd > node.usd + SAME_USD:
            if enough > bar:
                self.opened.append(Open(node.usd, enough, ground.problem))
            self._push(ground, replace(node, usd=usd))
            return None
        if node.is_leaf:
            return self._leaf(ground, node, bar, tick)
        before = ground.nodes
        able = ground.can_do(node, enough, tick)
        self.nodes += ground.nodes - before
        if enough > bar:
            self.opened.append(Open(node.usd, enough, ground.problem))
        if able is not None:
            for child in ground.children(able, max(enough, NO_BAR)):
                self._push(ground, child)
        return None

    def _leaf(self, ground: Ground, node: Node, bar: float, tick: OnProgress) -> Point | None:
        if not ground.problem.passes_code(ground.choice(node, ())):
            return None
        before, enough = ground.nodes, self.enough(node.usd, bar)
        try:
            found = ground.best(node, enough, tick, self.limits.nodes)
        except Stopped:
            return self._leaf_so_far(ground, node, bar)
        self.nodes += ground.nodes - before
        if found.bound > found.coverage + SAME_COVERAGE:
            self.opened.append(Open(node.usd, found.bound, ground.problem))
        elif found.order is None and enough > bar:
            self.opened.append(Open(node.usd, min(node.hope, enough), ground.problem))
        return self._point(ground, node, found.order)

    def _leaf_so_far(self, ground: Ground, node: Node, bar: float) -> Point | None:
        """What a search for the best order found before it was stopped, or was known before."""
        walked = ground.desk.answer(paused=True, most=1.0).order
        begun = ground.best(node, bar, unheard, 1)
        self._leave_open(ground, replace(node, hope=min(node.hope, begun.bound)))
        points = [self._point(ground, node, order) for order in (walked, begun.order)]
        return next((point for point in reversed(points) if point is not None), None)

    def _point(
        self, ground: Ground, node: Node, order: tuple[int, ...] | None
    ) -> Point | None:
        """Take an order of a leaf in as a point, if it is one by the replay."""
        if order is None or not all(node.ways[i] & MODULES for i in order):
            return None
        choice, plainness = ground.choice(node, order), ground.plainness(node)
        coverage = ground.problem.coverage(choice)
        if coverage is None or coverage <= self.bar(node.usd, node.rank, plainness):
            return None
        point = Point(node.usd, float(coverage), choice, ground.problem, node.rank, plainness)
        self.keep(point)
        return point
