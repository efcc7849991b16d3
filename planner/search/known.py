"""Questions about orders that no order was the answer to, and what they disprove besides."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from planner.arrays import Bools, Floats


def bits(marks: Bools) -> int:
    """Bools as the bits of a number."""
    return int.from_bytes(np.packbits(marks, bitorder="little").tobytes(), "little")


class Played(NamedTuple):
    """What is asked about orders, as bits of loads, to compare questions.

    Always connected, not played, counted by rule 4, watched by rule 3. Of the pairs of which one
    load stands before the other: those that hold, and those that need not be asked, since the first
    is direct or the second not played.
    """

    direct: int
    aside: int
    counted: int
    watched: int
    holds: int
    kept: int


class Starts(NamedTuple):
    """Start figures with some soft starters, shape (n,) each.

    The other load on which it starts; what the start takes, real and apparent.
    """

    room_kw: Floats
    start_kw: Floats
    start_kva: Floats

    def are_as_gentle(self, than: Starts, the_same: Bools) -> bool:
        """Whether no start is harder than another's, and some are the same."""
        same = ((self.room_kw == than.room_kw) & (self.start_kw == than.start_kw)
                & (self.start_kva == than.start_kva))
        if same.all():
            return True
        gentler = ((self.room_kw >= than.room_kw) & (self.start_kw <= than.start_kw)
                   & (self.start_kva <= than.start_kva))
        return bool((same | (gentler & ~the_same)).all())


@dataclass(frozen=True)
class Failure:
    """A question to which no order was the answer.

    Attributes
    ----------
    played, bar
        What was asked.
    refused : bool
        Whether rule 3, 4 or 5 ended an order.
    starts : Starts
        With which start figures.
    decided : ndarray of bool, shape (n,)
        Whose start figures refused anything that would have fitted otherwise. The others' may be
        gentler: nothing would have gone another way.
    """

    played: Played
    bar: float
    refused: bool
    starts: Starts
    decided: Bools

    def disproves(self, other: Played, bar: float, starts: Starts) -> bool:
        """Whether no order does for another question either.

        It has more direct and more unplayed loads, as high a bar, no wish less, and no start that
        could matter is another or harder. Where rule 3 to 5 ended an order, what is not played
        might have been too much: then it must be the same.
        """
        mine = self.played
        if (bar < self.bar or other.direct & mine.direct != mine.direct
                or other.aside & mine.aside != mine.aside
                or mine.holds & ~(other.holds | other.kept)):
            return False
        if self.refused and (
                other.aside != mine.aside or other.counted & mine.counted != mine.counted
                or other.watched & mine.watched != mine.watched):
            return False
        return starts.are_as_gentle(self.starts, self.decided)
