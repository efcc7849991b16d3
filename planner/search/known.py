"""Questions about orders that no order was the answer to, and what they disprove besides."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from planner.arrays import Bools


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


@dataclass(frozen=True)
class Failure:
    """A question to which no order was the answer, its bar, and whether rule 3 or 4 refused."""

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
                or other.aside & mine.aside != mine.aside
                or mine.holds & ~(other.holds | other.kept)):
            return False
        return not self.refused or (
            other.aside == mine.aside and other.counted & mine.counted == mine.counted
            and other.watched & mine.watched == mine.watched)
