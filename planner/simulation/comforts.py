"""Comforts over many outages, beside what the plan says of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isnan, nan
from statistics import median

from planner.facts.comfort import Comfort
from planner.facts.home import DesignDay
from planner.service.kept import Kept
from planner.simulation.outcome.losses import ComfortOutage
from planner.simulation.outcome.mean import Mean

MOST_IS_WORST = frozenset({"hot water", "meals", "task", "food", "running water", "pit", "clock"})


@dataclass(frozen=True, slots=True)
class ComfortDay:
    """One comfort on one design day, over all its outages.

    Attributes
    ----------
    day, label : str
        The design day.
    kept : float
        Mean share kept on the judged day, 0-1; 1 where nothing can be lost.
    planned_kept : float
        The same by the plan.
    worst, usual, utility : float
        Worst of all outages and their median, in the unit of the comfort; worst with the utility.
        NaN where the comfort is not used on that day.
    planned : float
        Worst by the plan.
    beside : float
        See `planner.simulation.outcome.losses.ComfortOutage`.
    cooled : bool
        Of a room: whether it is cooled or heated.
    """

    day: str
    label: str
    kept: float
    planned_kept: float
    worst: float
    usual: float
    utility: float
    planned: float
    beside: float
    cooled: bool


@dataclass(frozen=True, slots=True)
class ComfortResult:
    """One comfort over many outages.

    Attributes
    ----------
    comfort : Comfort
        Which one.
    unit : str
        Of what is worst, as the plan tells it.
    kept : Mean
        Share kept on the judged day, design days by weight: 1 as with the utility, 0 as if none of
        its loads ran.
    planned : float
        The same by the plan.
    counts : bool
        Whether it counts in the coverage.
    days : tuple of ComfortDay
        In the order of the home.
    """

    comfort: Comfort
    unit: str
    kept: Mean
    planned: float
    counts: bool
    days: tuple[ComfortDay, ...]

    @property
    def id(self) -> str:
        """Id of the comfort."""
        return self.comfort.id

    @property
    def label(self) -> str:
        """What people call it."""
        return self.comfort.label

    @property
    def hardest(self) -> ComfortDay | None:
        """The design day on which the worst is worst; None where it is never used."""
        used = [one for one in self.days if not isnan(one.worst)]
        if not used:
            return None
        return min(used, key=lambda one: (one.kept, -self.severity(one)))

    def severity(self, day: ComfortDay) -> float:
        """How bad the worst of a day is: larger is worse."""
        if self.comfort.kind == "room":
            return day.worst - day.beside if day.cooled else day.beside - day.worst
        return -day.worst if self.comfort.kind == "car" else day.worst


def day_of(
    kept: Kept, place: int, day: DesignDay, played: Sequence[ComfortOutage]
) -> ComfortDay:
    """Give one comfort on one design day from all its outages.

    Parameters
    ----------
    kept : Kept
        What the plan says.
    place : int
        Of the design day.
    day : DesignDay
        The day.
    played : sequence of ComfortOutage
        At least one.
    """
    losable = sum(one.losable for one in played)
    lost = sum(one.lost for one in played)
    least = kept.comfort.kind == "car" or (kept.comfort.kind == "room" and not played[0].cooled)
    pick = min if least else max
    known = [one for one in played if not isnan(one.worst)]
    return ComfortDay(
        day=day.id, label=day.label, kept=1.0 - lost / losable if losable > 0.0 else 1.0,
        planned_kept=float(kept.by_day[place]),
        worst=pick((one.worst for one in known), default=nan),
        usual=median(one.worst for one in known) if known else nan,
        utility=pick((one.utility_worst for one in known), default=nan),
        planned=float(kept.worst[place]),
        beside=known[0].beside if known else nan, cooled=played[0].cooled)
