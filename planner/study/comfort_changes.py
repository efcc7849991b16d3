"""What changes from one plan to another, comfort by comfort, in the unit of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from planner.arrays import Floats
from planner.facts.comfort import Comfort
from planner.plan.plan import Plan
from planner.service.kept import Kept

NOTABLE = 0.05  # in the unit of a comfort, and points of what is kept of it; a choice


@dataclass(frozen=True)
class ComfortChange:
    """One comfort in two plans of a home, on the day on which they differ most.

    Attributes
    ----------
    comfort : Comfort
        As in the first plan.
    before, after : Kept
        How well it is kept in the first plan and in the second.
    day : int
        Place of the design day on which the two differ most.
    """

    comfort: Comfort
    before: Kept
    after: Kept
    day: int

    @property
    def unit(self) -> str:
        """Unit of the worst values."""
        return self.before.unit

    @property
    def was(self) -> float:
        """Worst value of that day in the first plan, in its unit."""
        return float(self.before.worst[self.day])

    @property
    def becomes(self) -> float:
        """Worst value of that day in the second plan, in its unit."""
        return float(self.after.worst[self.day])

    @property
    def is_gain(self) -> bool:
        """Whether the second plan keeps it better."""
        return _worse(self.after)[self.day] < _worse(self.before)[self.day] or (
            self.was == self.becomes and self.after.kept > self.before.kept)


def comfort_changes(before: Plan, after: Plan) -> tuple[ComfortChange, ...]:
    """List the comforts that differ between two plans, those that differ most in kept first.

    Parameters
    ----------
    before, after : Plan
        Of one home, or of one with other wishes: the comforts and design days are the same.
    """
    return changes_between(before.comforts, after.comforts)


def changes_between(before: Sequence[Kept], after: Sequence[Kept]) -> tuple[ComfortChange, ...]:
    """List the comforts that differ between two replays; see `comfort_changes`."""
    found = []
    for one, other in zip(before, after, strict=True):
        gap = np.abs(np.nan_to_num(_worse(one) - _worse(other)))
        by_day = np.abs(one.by_day - other.by_day)
        differs = bool(gap.size) and float(gap.max()) > NOTABLE
        if differs or abs(one.kept - other.kept) > NOTABLE / 100.0:
            day = int(np.argmax(gap)) if differs else int(np.argmax(by_day))
            found.append(ComfortChange(one.comfort, one, other, day))
    return tuple(sorted(found, key=lambda one: -abs(one.before.kept - one.after.kept)))


def _worse(kept: Kept) -> Floats:
    """What grows the worse a comfort is kept, by day, in its unit."""
    return kept.worst if kept.comfort.kind == "clock" else kept.measured
