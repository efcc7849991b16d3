"""How long the search looks before it says what it has, with the bound that is still open."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from time import monotonic
from typing import Literal

from planner.progress import OnProgress

LEAST_GAIN = 0.0005
"""A plan joins the frontier if it covers so much more than every cheaper one (design, section 8: it
means nothing to a family, and exactness below it costs most of the time)."""

SECONDS = (0.1, 86_400.0)
"""Shortest and longest time that a user may give a search [s]: a choice, up to a day."""
GAP_POINTS = (0.0, 100.0)
"""Points of coverage that a plan may be below what is possible, from none to all."""

Ended = Literal["", "clock", "asked"]
"""What ended a search before it was done: a clock, somebody; empty if nothing did."""


class Stopped(Exception):
    """Raised inside work that a clock ends, or somebody."""


def nobody() -> bool:
    """Never ask for the end."""
    return False


@dataclass(eq=False)
class Stop:
    """What ends a search before it is done: a clock, or somebody who asks for it.

    Attributes
    ----------
    seconds : float or None
        From the making of this object on, by the clock; None for as long as it takes [s].
    asked : callable
        Whether somebody asks for the end.
    clock : callable
        Gives the time [s].
    ended
        What ended it: ``clock``, ``asked``; empty while nothing did. Once ended it stays so.
    """

    seconds: float | None = None
    asked: Callable[[], bool] = nobody
    clock: Callable[[], float] = monotonic
    ended: Ended = field(default="", init=False)
    _until_s: float = field(init=False)

    def __post_init__(self) -> None:
        """Start the clock."""
        self._until_s = float("inf") if self.seconds is None else self.clock() + self.seconds

    @property
    def is_over(self) -> bool:
        """Whether whoever works has to come to an end."""
        if not self.ended:
            self.ended = ("asked" if self.asked() else
                          "clock" if self.seconds is not None and self.clock() >= self._until_s
                          else "")
        return bool(self.ended)

    def half(self) -> Stop:
        """Give one for half of the time that is left."""
        left_s = None if self.seconds is None else max(0.0, self._until_s - self.clock()) / 2.0
        return Stop(left_s, self._heard, self.clock)

    def without_clock(self) -> Stop:
        """Give one for work that is short, which a clock lets be finished."""
        return Stop(asked=self._heard)

    def _heard(self) -> bool:
        """Whether somebody asks for the end, which ends this too."""
        if not self.ended and self.asked():
            self.ended = "asked"
        return self.ended == "asked"

    def watched(self, tick: OnProgress) -> OnProgress:
        """Give a listener that ends the work where it is told of it (`Stopped`)."""

        def look(share: float) -> None:
            tick(share)
            if self.is_over:
                raise Stopped

        return look


INTERRUPTION = Stop(asked=lambda: True)
"""Of work that somebody has ended already."""
INTERRUPTION.ended = "asked"


@dataclass(frozen=True, slots=True)
class SearchLimits:
    """Limits of the search; counted, so that the same file gives the same plan, unless it is timed.

    The defaults were chosen by measurement on the homes of `cases`.

    Attributes
    ----------
    nodes : int
        Prefixes of one search for the best order; enough to end it where few loads take turns.
    probe : int
        Prefixes of a search that asks whether any order can do with what is decided so far.
    all_nodes : int
        Prefixes of all searches together; after that every size is looked at shortly by itself.
    gap : float or None
        Coverage that a plan may be below what is possible (0-1): what could only win by less is
        not looked at, and the search goes on with ever more patience until no plan is farther
        below. None: it ends when the patience that is counted does.
    stop : Stop or None
        What ends it before.
    """

    nodes: int = 200_000
    probe: int = 20_000
    all_nodes: int = 400_000
    gap: float | None = None
    stop: Stop | None = field(default=None, compare=False)

    def longer(self) -> SearchLimits:
        """Give limits with ten times the patience, for where it did not suffice."""
        return replace(self, nodes=10 * self.nodes, probe=10 * self.probe,
                       all_nodes=10 * self.all_nodes)

    @property
    def is_stopped(self) -> bool:
        """Whether the search has to end with what it has."""
        return self.stop is not None and self.stop.is_over


USUAL_LIMITS = SearchLimits()
EXACT_LIMITS = USUAL_LIMITS.longer()
"""Counted as well, with ten times the patience."""
FIRST_LIMITS = SearchLimits(nodes=2_000, probe=200, all_nodes=8_000)
"""Of a search that a clock ends: it soon has seen every size, and then grows more patient."""


def limits_for(
    gap: float | None = None, seconds: float | None = None, stop: Stop | None = None
) -> SearchLimits:
    """Give the limits that a user asks for.

    Parameters
    ----------
    gap : float, optional
        Coverage that a plan may be below what is possible, 0-1.
    seconds : float, optional
        Longest time of the whole work, from now on [s]. Without a gap it is used until no plan can
        be better.
    stop : Stop, optional
        What ends it, with these seconds if there are any; a clock alone if it is not given.
    """
    if seconds is None:
        return replace(USUAL_LIMITS, gap=gap, stop=stop)
    return replace(FIRST_LIMITS, gap=gap or 0.0, stop=stop or Stop(seconds))
