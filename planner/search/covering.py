"""A question that takes long and disproves much: it is gone on with whenever another takes long."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from planner.progress import OnProgress
from planner.search.desk import Desk
from planner.search.known import Failure, Played, Starts
from planner.search.loops.inputs import BAR, NODES, Asked
from planner.service.loops.inputs import Power


@dataclass
class Long:
    """The best order of what is asked, searched on a desk of its own, a little at a time.

    `failure` is what it came to: that nothing covers more than its bar.
    """

    desk: Desk
    asked: Asked
    played: Played
    power: Power
    starts: Starts
    begun: bool = field(default=False)
    failure: Failure | None = None

    @property
    def bar(self) -> float:
        """What an order has to beat to count, or what the best one found covers."""
        return float(self.desk.space.worth[BAR]) if self.begun else -1.0

    def would_disprove(self, played: Played, bar: float, starts: Starts) -> bool:
        """Whether it would help with another question if it ended now without an order."""
        if self.failure is not None:
            return False
        decided = self.desk.space.decided if self.begun else np.zeros_like(starts.room_kw, dtype=bool)
        return Failure(self.played, self.bar, refused=False, starts=self.starts,
                       decided=decided).disproves(played, bar, starts)

    def go_on(self, bar: float, nodes: int, tick: OnProgress) -> int:
        """Go on for some prefixes, looking for what beats a bar; how many were looked at."""
        space = self.desk.space
        if self.begun:
            space.worth[BAR] = max(bar, float(space.worth[BAR]))
            before = int(space.at[NODES])
            paused = True
        else:
            before = 0
            paused, _ = self.desk.look(self.asked, self.power, bar, first=False, nodes=nodes)
            self.begun = True
        while paused:
            tick(0.0)
            left = nodes - (int(space.at[NODES]) - before)
            if left <= 0:
                break
            paused = self.desk.go_on(self.asked, self.power, first=False, nodes=left)
        if not paused:
            found = self.desk.answer(paused=False, most=1.0)
            self.failure = Failure(self.played, found.bound, found.refused, self.starts,
                                   found.decided)
        return int(space.at[NODES]) - before
