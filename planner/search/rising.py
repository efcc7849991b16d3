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
from planner.search.limits import LEAST_GAIN, SearchLimits, Stopped
from planner.search.problem import Problem
from planner.search.seeding import seed_of
from planner.search.still_open import Steps, lower_of, most_at, most_below, steps_of
from planner.search.ways import MODULES, Node, Rank
from planner.service.choice import Choice
from planner.tolerances import SAME_COVERAGE, SAME_USD, reaches

SHORTER = 40  # times less patience, where a size is looked at by itself at the end
COUNTED = 10  # prefixes of orders that a node of the queue counts for, by its time
SEEDS_AFTER = 50_000
"""Prefixes after which a home is hard, so that a plan of each size is looked for at once."""
Plainness = tuple[int, float]  # of a plan: loads left off, calculated load [VA]
EVERY = 16  # nodes of the queue between two words about how far it is


@dataclass(frozen=True)
class Point:
    """A choice that the search found, with its cost [USD] and its coverage (0-1)."""

    usd: float
    coverage: float
    choice: Choice
    problem: Problem
    rank: Rank
    plainness: Plainness = (0, 0.0)


@dataclass
class Rising:
    """The search over some sizes.

    Attributes
    ----------
    limits : SearchLimits
    goal : float or None
        Coverage that is looked for; None for the whole frontier.
    below_usd : float
        Plans are looked for that cost less [USD].
    points : list of Point
        The frontier so far, by rising cost.
    opened : list of (float, float)
        What was not decided: cost from which on [USD], and coverage that it might reach.
    earlier : tuple of (float, float) or None
        What searches before this one, for the same, left open; None if there were none.
    nodes : int
        Prefixes of orders that were looked at.
    taken : int
        Nodes of the queue that were looked at.
    """

    limits: SearchLimits
    goal: float | None = None
    below_usd: float = float("inf")
    points: list[Point] = field(default_factory=list)
    opened: list[tuple[float, float]] = field(default_factory=list)
    earlier: Steps | None = None
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
        elif self.limits.all_nodes > SEEDS_AFTER:
            yield from self._rise(SEEDS_AFTER, tick, pauses=True)
            if self.queue and self.below_usd == float("inf") and not self.limits.is_stopped:
                yield from self._seeded(grounds, tick)
        yield from self._rise(self.limits.all_nodes, tick)
        if self.opened and self.spent >= self.limits.all_nodes and not self.limits.is_stopped:
            roots = [(ground, root) for ground in grounds if (root := ground.root()) is not None]
            for ground, root in sorted(roots, key=lambda one: one[1].usd):
                self._push(ground, replace(root, probe=self.limits.probe // SHORTER))
                yield from self._rise(self.spent + self.limits.all_nodes // SHORTER, tick)

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

    def may_be_better(self, point: Point) -> bool:
        """Whether more for no more money is open, or as much as is looked for, for less."""
        left = self.still_open
        if self.goal is None:
            return most_at(left, point.usd) > point.coverage + SAME_COVERAGE
        return reaches(most_below(left, point.usd), self.goal)

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
                self._leave_open(node)
            elif node.is_before_root:
                self._begin(ground, node)
            elif self.spent >= until:
                self._leave_open(node)
            else:
                self.taken += 1
                try:
                    if self.taken % EVERY == 0:
                        self.share = max(self.share, self.taken / (self.taken + len(self.queue)))
                        tick(self.share)
                    point = self._look_at(ground, node, lambda _: tick(self.share))
                except Stopped:
                    self._leave_open(node)
                    return
                if point is not None:
                    yield point

    def _leave_open(self, node: Node) -> None:
        """Look no further: a node, and all that is in the queue, is not decided."""
        self.opened += [(node.usd, node.hope), *((one[0], one[-1].hope) for one in self.queue)]
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

    def bar(self, usd: float, rank: Rank, plainness: Plainness | None = None) -> float:
        """Coverage that a plan of this cost has to beat to be a point, or to win a tie.

        A plan that is there already wins a tie of rank by leaving less off, and counting less.
        """
        bar = -1.0 if self.goal is None else self.goal - 2.0 * SAME_COVERAGE
        for point in self.points:
            if point.usd < usd - SAME_USD:
                bar = max(bar, point.coverage + LEAST_GAIN - 2.0 * SAME_COVERAGE)
            elif point.usd < usd + SAME_USD:
                wins = rank < point.rank or (
                    rank == point.rank and plainness is not None and plainness < point.plainness)
                bar = max(bar, point.coverage - (2.0 * SAME_COVERAGE if wins else 0.0))
        return bar

    def enough(self, usd: float, bar: float) -> float:
        """Coverage that has to be beaten by what is looked at: the bar, or more by the gap.

        What could only win by less is left open at its cost, as high as this.
        """
        if not self.limits.gap:
            return bar
        return max([bar, *(point.coverage + self.limits.gap - SAME_COVERAGE
                           for point in self.points if point.usd < usd + SAME_USD)])

    def _look_at(self, ground: Ground, node: Node, tick: OnProgress) -> Point | None:
        bar = self.bar(node.usd, node.rank, ground.plainness(node) if node.is_leaf else None)
        if node.hope <= bar + SAME_COVERAGE:
            return None
        enough = self.enough(node.usd, bar)
        if node.hope <= enough + SAME_COVERAGE:
            self.opened.append((node.usd, node.hope))
            return None
        usd = ground.usd(node, enough)
        if usd > node.usd + SAME_USD:
            if enough > bar:
                self.opened.append((node.usd, enough))
            self._push(ground, replace(node, usd=usd))
            return None
        if node.is_leaf:
            return self._leaf(ground, node, bar, tick)
        before = ground.nodes
        able = ground.can_do(node, enough, tick)
        self.nodes += ground.nodes - before
        if enough > bar:
            self.opened.append((node.usd, enough))
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
            self.opened.append((node.usd, found.bound))
        elif found.order is None and enough > bar:
            self.opened.append((node.usd, min(node.hope, enough)))
        return self._point(ground, node, found.order)

    def _leaf_so_far(self, ground: Ground, node: Node, bar: float) -> Point | None:
        """What a search for the best order found before it was stopped, or was known before."""
        walked = ground.desk.answer(paused=True, most=1.0).order
        begun = ground.best(node, bar, unheard, 1)
        self._leave_open(replace(node, hope=min(node.hope, begun.bound)))
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
        self._keep(point)
        return point

    def _keep(self, point: Point) -> None:
        """Take a point in, and out what it leaves no gain to."""
        kept = [one for one in self.points if one.usd < point.usd - SAME_USD
                or (one.usd > point.usd + SAME_USD
                    and one.coverage >= point.coverage + LEAST_GAIN - 2.0 * SAME_COVERAGE)]
        self.points = sorted([*kept, point], key=lambda one: one.usd)

    @property
    def still_open(self) -> Steps:
        """What neither this search nor one before it decided."""
        mine = steps_of(self.opened)
        return mine if self.earlier is None else lower_of(self.earlier, mine)

    def ceiling(self, point: Point, left: Steps) -> float:
        """Coverage that no plan beats which is cheaper than the next point; `left` is open."""
        next_usd = min((one.usd for one in self.points if one.usd > point.usd),
                       default=float("inf"))
        return max(point.coverage, min(1.0, most_below(left, next_usd)))

    @property
    def is_within(self) -> bool:
        """Whether every point is within the gap, and nothing cheaper than the first is open."""
        left, gap = self.still_open, self.limits.gap or 0.0
        return not left if not self.points else most_below(left, self.points[0].usd) < 0.0 and all(
            self.ceiling(point, left) <= point.coverage + gap + SAME_COVERAGE
            for point in self.points)
