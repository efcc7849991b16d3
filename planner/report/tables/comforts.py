"""The table of comforts: what each is like on its hardest day, and how well it is kept."""

from __future__ import annotations

from dataclasses import dataclass

from planner.plan.plan import Plan
from planner.report.comforts.comfort_words import (
    importance_words,
    is_as_usual,
    is_used,
    promise_words,
    shown_days,
)
from planner.report.comforts.missed_words import told
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import share
from planner.service.kept import Kept

HOW_KEPT = (
    "Kept: 100 % is as with the utility, 0 % as if nothing of it had power; over all design days, "
    "each played as an outage of {days} such days.")


@dataclass(frozen=True)
class ComfortRow:
    """One comfort on one day worth telling; `first` where it is the hardest."""

    kept: Kept
    plan: Plan
    day: int
    first: bool

    @property
    def label(self) -> str:
        """Name of the comfort, once."""
        return self.kept.comfort.label if self.first else ""

    @property
    def phrase(self) -> str:
        """What it is like on that day."""
        return told(self.kept, self.plan, self.day)

    @property
    def day_label(self) -> str:
        """Name of the day; empty where it is not used, or all days are as usual."""
        told = self.kept.comfort.kind == "room" or not is_as_usual(self.kept)
        used = is_used(self.kept, self.plan.menu.house, self.day)
        return self.plan.menu.house.home.days[self.day].label if told and used else ""

    @property
    def importance(self) -> str:
        """How much it matters, once."""
        return importance_words(self.plan.menu.house.home, self.kept.comfort) if self.first else ""


def comfort_table(plan: Plan) -> Table[ComfortRow]:
    """One row per comfort, what matters most first; rooms have one for heat and one for cold."""
    home = plan.menu.house.home
    ranked = sorted(plan.comforts, key=lambda one: (
        importance_words(home, one.comfort) != "must-have", -one.comfort.importance))
    return Table("What an outage is like", COLUMNS, [
        ComfortRow(kept, plan, day, place == 0) for kept in ranked
        for place, day in enumerate(shown_days(kept, plan.menu.house))])


def how_kept(plan: Plan) -> str:
    """Say what the figures of the table mean."""
    return HOW_KEPT.format(days=plan.menu.house.spell)


COLUMNS: tuple[Column[ComfortRow], ...] = (
    text("comfort", "Comfort", lambda row: row.label),
    text("hardest", "On its hardest day", lambda row: row.phrase),
    text("day", "Day", lambda row: row.day_label),
    figure("kept", "Kept", lambda row: row.kept.kept if row.first else None, share),
    Column("importance", "Importance", lambda row: row.kept.comfort.importance,
           lambda row: row.importance, right=True),
    text("promise", "Promised",
         lambda row: promise_words(row.kept.comfort) if row.first else ""),
)
