"""All sizes in one queue by rising cost: the first plan that covers enough more is the next point.

A node is taken out when nothing cheaper is left. What has to be beaten only rises with the cost, so
a node that cannot beat it at its own least cost never will.
"""

from __future__ import annotations

import heapq
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import count

from planner.progress import OnProgress
from planner.search.desk import Desk, desk_of
from planner.search.ground import NO_BAR, Ground
from planner.search.limits import LEAST_GAIN, SearchLimits
from planner.search.problem import Problem
from planner.search.ways import Node, Rank
from planner.service.choice import Choice
from planner.tolerances import SAME_COVERAGE, SAME_USD

SHORTER = 40  # times less patience, where a size is looked at by itself at the end
COUNTED = 10  # prefixes of orders that a node of the queue counts for, by its time
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
    nodes: int = 0
    taken: int = 0
    share: float = 0.0
    queue: list[tuple[float, float, float, Rank, int, Ground, Node]] = field(default_factory=list)
    number: Iterator[int] = field(default_factory=count)

    def run(self, problems: Sequence[Problem], tick: OnProgress) -> Iterator[Point]:
        """Give each point as it is found; a later one may take its place.

        Where patience ends before the queue does, every size is looked at shortly by itself.
        """
        desk: Desk | None = None
        grounds = []
        for problem in problems:
            desk = desk if desk and desk.house is problem.house else desk_of(problem.house)
            if problem.menu.allowed.any(axis=1).all():
                grounds.append(Ground(problem, desk))
        for ground in grounds:
            self._push(ground, ground.before_root(self.limits.probe))
        yield from self._rise(self.limits.all_nodes, tick)
        if self.opened and self.spent >= self.limits.all_nodes:
            roots = [(ground, root) for ground in grounds if (root := ground.root()) is not None]
            for ground, root in sorted(roots, key=lambda one: one[1].usd):
                self._push(ground, replace(root, probe=self.limits.probe // SHORTER))
                yield from self._rise(self.spent + self.limits.all_nodes // SHORTER, tick)

    @property
    def spent(self) -> int:
        """Prefixes that were looked at, and the nodes of the queue by their time."""
        return self.nodes + COUNTED * self.taken

    def _rise(self, until: int, tick: OnProgress) -> Iterator[Point]:
        """Take nodes out of the queue until it is empty, or until so much was spent."""
        while self.queue:
            usd, _, _, _, _, ground, node = heapq.heappop(self.queue)
            if self._is_over(usd):
                self.queue.clear()
            elif node.is_before_root:
                self._begin(ground, node)
            elif self.spent >= until:
                self.opened += [(usd, node.hope), *((one[0], one[-1].hope) for one in self.queue)]
                self.queue.clear()
            else:
                self.taken += 1
                if self.taken % EVERY == 0:
                    self.share = max(self.share, self.taken / (self.taken + len(self.queue)))
                    tick(self.share)
                point = self._look_at(ground, node, lambda _: tick(self.share))
                if point is not None:
                    yield point

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

    def _look_at(self, ground: Ground, node: Node, tick: OnProgress) -> Point | None:
        bar = self.bar(node.usd, node.rank, ground.plainness(node) if node.is_leaf else None)
        if node.hope <= bar + SAME_COVERAGE:
            return None
        usd = ground.usd(node, bar)
        if usd > node.usd + SAME_USD:
            self._push(ground, replace(node, usd=usd))
            return None
        if node.is_leaf:
            return self._leaf(ground, node, bar, tick)
        before = ground.nodes
        able = ground.can_do(node, bar, tick)
        self.nodes += ground.nodes - before
        if able is not None:
            for child in ground.children(able, max(bar, NO_BAR)):
                self._push(ground, child)
        return None

    def _leaf(self, ground: Ground, node: Node, bar: float, tick: OnProgress) -> Point | None:
        problem = ground.problem
        choice = ground.choice(node, ())
        if not problem.passes_code(choice):
            return None
        before = ground.nodes
        found = ground.best(node, bar, tick, self.limits.nodes)
        self.nodes += ground.nodes - before
        if found.bound > found.coverage + SAME_COVERAGE:
            self.opened.append((node.usd, found.bound))
        if found.order is None:
            return None
        choice = ground.choice(node, found.order)
        coverage = problem.coverage(choice)
        if coverage is None or coverage <= bar:
            return None
        point = Point(node.usd, float(coverage), choice, problem, node.rank,
                      ground.plainness(node))
        self._keep(point)
        return point

    def _keep(self, point: Point) -> None:
        """Take a point in, and out what it leaves no gain to."""
        kept = [one for one in self.points if one.usd < point.usd - SAME_USD
                or (one.usd > point.usd + SAME_USD
                    and one.coverage >= point.coverage + LEAST_GAIN - 2.0 * SAME_COVERAGE)]
        self.points = sorted([*kept, point], key=lambda one: one.usd)

    def ceiling(self, point: Point) -> float:
        """Coverage that no plan beats which is cheaper than the next point."""
        next_usd = min((one.usd for one in self.points if one.usd > point.usd),
                       default=float("inf"))
        return max([point.coverage, *(min(1.0, bound) for usd, bound in self.opened
                                      if usd < next_usd - SAME_USD)])


def risen(
    problems: Sequence[Problem], tick: OnProgress, on_point: Callable[[Point], None],
    goal: float | None = None, below_usd: float = float("inf"),
) -> Rising:
    """Search some sizes, with more patience where nothing is found though something is open.

    Not if less than a price is looked for: then there is something, at that price.
    """
    rising = Rising(problems[0].limits, goal, below_usd)
    while True:
        for point in rising.run(problems, tick):
            on_point(point)
        if rising.points or not rising.opened or below_usd < float("inf"):
            return rising
        rising = Rising(rising.limits.longer(), goal, share=rising.share)
