"""The slots that the model plans: of each spell its last days, or all of them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.arrays import Bools, Ints
from planner.facts.home import SLOTS_PER_DAY


@dataclass(frozen=True)
class Slots:
    """Slots t = 0, 1, … of the last `last` days of the spell of each of `days` design days.

    The replay's slots are (day · spell + day of the spell) · 96 + quarter of an hour.
    """

    days: int
    spell: int
    last: int

    @property
    def count(self) -> int:
        """Number of planned slots."""
        return self.days * self.last * SLOTS_PER_DAY

    @cached_property
    def replayed(self) -> Ints:
        """Slot of the replay of each planned slot."""
        here = np.arange(self.days * self.spell * SLOTS_PER_DAY).reshape(self.days, -1)
        return here[:, (self.spell - self.last) * SLOTS_PER_DAY:].reshape(-1)

    @cached_property
    def day(self) -> Ints:
        """Design day of each slot."""
        return np.repeat(np.arange(self.days), self.last * SLOTS_PER_DAY)

    @cached_property
    def of_day(self) -> Ints:
        """Slot of the design days, day · 96 + quarter of an hour, of each slot."""
        return self.day * SLOTS_PER_DAY + np.arange(self.count) % SLOTS_PER_DAY

    @cached_property
    def judged(self) -> Bools:
        """Whether a slot is of the last day of its spell."""
        within = np.arange(self.count) % (self.last * SLOTS_PER_DAY)
        return within >= (self.last - 1) * SLOTS_PER_DAY

    def is_first(self, t: int) -> bool:
        """Whether a slot is the first planned one of its spell."""
        return t % (self.last * SLOTS_PER_DAY) == 0

    def planned(self, slot: int) -> int:
        """Planned slot of a slot of the replay; -1 where it is not planned."""
        day, rest = divmod(slot, self.spell * SLOTS_PER_DAY)
        rest -= (self.spell - self.last) * SLOTS_PER_DAY
        return day * self.last * SLOTS_PER_DAY + rest if rest >= 0 else -1

    def spell_of(self, day: int) -> range:
        """Planned slots of a design day."""
        length = self.last * SLOTS_PER_DAY
        return range(day * length, (day + 1) * length)

    def days_of(self, day: int) -> tuple[range, ...]:
        """Planned slots of a design day, by the days of its spell."""
        first = self.spell_of(day).start
        return tuple(range(first + k * SLOTS_PER_DAY, first + (k + 1) * SLOTS_PER_DAY)
                     for k in range(self.last))
