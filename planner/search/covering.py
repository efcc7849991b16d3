"""A question that takes long and disproves much: it is gone on with while another takes long.

Nothing is decided in it but soft starters. If no order does for it, none does for whatever the size
can still become with starts that are as gentle, as far as they matter. So it is worth more patience
than any question that it covers.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np

from planner.arrays import Bools
from planner.progress import OnProgress
from planner.search.desk import SLICE, Desk
from planner.search.known import Failure, Played, Starts
from planner.search.loops.inputs import BAR, NODES, Asked
from planner.service.choice import NO_STARTER
from planner.service.loops.inputs import Power

AT_ONCE = 4 * SLICE
"""Prefixes that it is gone on with for each slice of a question that it covers (measured)."""


@dataclass
class Long:
    """The best order of what is asked, searched on a desk of its own, a little at a time.

    `failure` is what it came to: that nothing covers more than its bar, or than what it found.
    """

    desk: Desk
    asked: Asked
    played: Played
    power: Power
    starts: Starts
    begun: bool = False
    failure: Failure | None = None

    @property
    def bar(self) -> float:
        """What an order has to beat to count, or what the best one found covers."""
        return float(self.desk.space.worth[BAR]) if self.begun else -1.0

    def would_disprove(self, played: Played, bar: float, starts: Starts) -> bool:
        """Whether it helps with another question should it end now without an order."""
        if self.failure is not None:
            return False
        decided = (self.desk.space.decided if self.begun
                   else np.zeros(len(starts.room_kw), dtype=np.bool_))
        return Failure(self.played, self.bar, refused=False, starts=self.starts,
                       decided=decided).disproves(played, bar, starts)

    def go_on(self, bar: float, tick: OnProgress) -> int:
        """Go on for some prefixes, looking for what beats a bar; how many were looked at.

        The bar of a search over sizes only rises, so what beats no lower one is not missed.
        """
        space = self.desk.space
        before = int(space.at[NODES]) if self.begun else 0
        if self.begun:
            space.worth[BAR] = max(bar, float(space.worth[BAR]))
            paused = True
        else:
            self.begun = True
            paused, _ = self.desk.look(self.asked, self.power, bar, first=False, nodes=AT_ONCE)
        while paused:
            tick(0.0)
            left = AT_ONCE - (int(space.at[NODES]) - before)
            if left <= 0:
                break
            paused = self.desk.go_on(self.asked, self.power, first=False, nodes=left)
        if not paused:
            found = self.desk.answer(paused=False, most=1.0)
            self.failure = Failure(self.played, found.bound, found.refused, self.starts,
                                   found.decided)
        return int(space.at[NODES]) - before


@dataclass
class Covering:
    """The questions of a size in which nothing is decided but soft starters.

    `undecided` makes one of them.
    """

    undecided: Callable[[tuple[int, ...]], Long | None]
    known: dict[tuple[int, ...], Long | None] = field(default_factory=dict)

    def wide(self, soft: tuple[int, ...]) -> Iterator[Long]:
        """Give what covers most: without soft starters, then with those that mattered."""
        plain = tuple(NO_STARTER for _ in soft)
        first = self._of(plain)
        if first is None:
            return
        yield first
        if first.failure is not None:
            matters: Bools = first.failure.decided
            second = self._of(tuple(s if matter else NO_STARTER
                                    for s, matter in zip(soft, matters, strict=True)))
            if second is not None:
                yield second

    def _of(self, soft: tuple[int, ...]) -> Long | None:
        if soft not in self.known:
            self.known[soft] = self.undecided(soft)
        return self.known[soft]
