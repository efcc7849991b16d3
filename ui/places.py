"""Places to work at: so many in a process, a fair part of them for each visitor, and a queue.

Nobody waits in a thread: what asks for a place is begun at once if there is one, else when one is
given back.
"""

from __future__ import annotations

import threading
from collections import Counter
from collections.abc import Callable, Hashable
from dataclasses import dataclass


@dataclass(frozen=True, eq=False)
class Seat:
    """One request for a place.

    Attributes
    ----------
    visitor : hashable
        Who asks.
    begin : callable
        Called once when there is a place, with this seat; must return soon.
    """

    visitor: Hashable
    begin: Callable[[Seat], None]


class Places:
    """A number of places, and who waits for one.

    A free place goes to the visitor who works at the fewest; among those, to who asked first. So
    visitors are served in the order in which they come, and so are the requests of one visitor.

    Parameters
    ----------
    number : int
        Places in all.
    most_each : int
        Places that one visitor may have at a time; below `number`, so that others find one.
    """

    def __init__(self, number: int, most_each: int) -> None:
        self.number, self.most_each = number, most_each
        self._lock = threading.Lock()
        self._waiting: list[Seat] = []  # by the time of asking
        self._taken: list[Seat] = []

    def ask(self, visitor: Hashable, begin: Callable[[Seat], None]) -> Seat:
        """Ask for a place; `begin` is called as soon as there is one, perhaps before the return."""
        seat = Seat(visitor, begin)
        with self._lock:
            self._waiting.append(seat)
        self._fill()
        return seat

    def withdraw(self, seat: Seat) -> bool:
        """Leave the queue; whether the seat was in it: then `begin` is never called."""
        with self._lock:
            if seat not in self._waiting:
                return False
            self._waiting.remove(seat)
            return True

    def give_back(self, seat: Seat) -> None:
        """Leave the place, for the next who waits."""
        with self._lock:
            self._taken.remove(seat)
        self._fill()

    def _fill(self) -> None:
        while (seat := self._next()) is not None:
            seat.begin(seat)

    def _next(self) -> Seat | None:
        """Let the next one who waits take a place, if there is both."""
        with self._lock:
            if len(self._taken) >= self.number:
                return None
            at_work = Counter(seat.visitor for seat in self._taken)
            fair = [seat for seat in self._waiting if at_work[seat.visitor] < self.most_each]
            if not fair:
                return None
            seat = min(fair, key=lambda one: at_work[one.visitor])  # the first of the least
            self._waiting.remove(seat)
            self._taken.append(seat)
            return seat
