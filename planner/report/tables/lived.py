"""Comforts in the simulated outage: what is kept, and the worst of the hardest day."""

from __future__ import annotations

from dataclasses import dataclass

from planner.report.comforts.comfort_words import day_phrase
from planner.report.comforts.lived_words import lived_phrase
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import half_width, share
from planner.service.house import House
from planner.service.kept import Kept
from planner.simulation.comforts import ComfortDay, ComfortResult
from planner.simulation.outcome.results import Results

FOOTNOTE = ("Kept: on the last day of the outage, 100 % as with the utility, 0 % as if its loads "
            "never ran; by the weight of the design days. ±: 95 % interval of the mean. Worst: of "
            "all outages on the design day that is hardest on it, from the loss of the utility to "
            "its return.")


@dataclass(frozen=True, slots=True)
class LivedRow:
    """One comfort on the design day that is hardest on it, simulated and planned."""

    one: ComfortResult
    day: ComfortDay
    said: Kept
    house: House

    @property
    def phrase(self) -> str:
        """What the worst outage was like."""
        return lived_phrase(self.one, self.day, self.said, self.house)

    @property
    def planned_phrase(self) -> str:
        """What the plan says of that day."""
        place = [each.id for each in self.house.home.days].index(self.day.day)
        return day_phrase(self.said, self.house, place)


def lived_table(results: Results) -> Table[LivedRow]:
    """One row per comfort that is used on some design day, in the order of the home."""
    house = results.plan.menu.house
    rows = [LivedRow(one, one.hardest, said, house)
            for one, said in zip(results.comforts(), results.plan.comforts, strict=True)
            if one.hardest is not None]
    return Table("Comforts in the simulated outage", LIVED_COLUMNS, rows)


LIVED_COLUMNS: tuple[Column[LivedRow], ...] = (
    text("comfort", "Comfort", lambda row: row.one.label),
    figure("planned", "Kept, planned", lambda row: row.one.planned, share),
    Column("kept", "Kept, simulated", lambda row: row.one.kept.value,
           lambda row: share(row.one.kept.value), right=True),
    figure("kept_half", "±", lambda row: row.one.kept.half, half_width),
    text("day", "Hardest day", lambda row: row.day.label),
    Column("worst", "Worst, simulated", lambda row: row.day.worst, lambda row: row.phrase),
    text("planned_worst", "Worst, planned", lambda row: row.planned_phrase),
)
