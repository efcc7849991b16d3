"""Comforts in the simulated outage: what is kept, and the worst of the hardest day."""

from __future__ import annotations

from planner.report.lived_words import worst_words
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import share
from planner.simulation.comforts import ComfortResult
from planner.simulation.results import Results

FOOTNOTE = ("Kept: on the last day of the outage, 100 % as with the utility, 0 % as if its loads "
            "never ran; by the weight of the design days. ±: 95 % interval of the mean. Worst: of "
            "all outages on the design day that is hardest on it, from the loss of the utility to "
            "its return.")


def lived_table(results: Results) -> Table[ComfortResult]:
    """One row per comfort that is used on some design day, in the order of the home."""
    used = [one for one in results.comforts() if one.hardest is not None]
    return Table("Comforts in the simulated outage", LIVED_COLUMNS, used)


def _worst(one: ComfortResult) -> str:
    day = one.hardest
    return "" if day is None else worst_words(one.comfort, day.worst, day.beside, cooled=day.cooled)


def _planned(one: ComfortResult) -> str:
    day = one.hardest
    return "" if day is None else worst_words(one.comfort, day.planned, day.beside,
                                              cooled=day.cooled)


def _utility(one: ComfortResult) -> str:
    day = one.hardest
    return "" if day is None else worst_words(one.comfort, day.utility, day.beside,
                                              cooled=day.cooled)


def _value(one: ComfortResult) -> float | None:
    return None if one.hardest is None else one.hardest.worst


LIVED_COLUMNS: tuple[Column[ComfortResult], ...] = (
    text("comfort", "Comfort", lambda one: one.label),
    figure("planned", "Planned", lambda one: one.planned, share),
    Column("kept", "Simulated", lambda one: one.kept.value, lambda one: share(one.kept.value),
           right=True),
    figure("kept_half", "±", lambda one: one.kept.half, lambda half: f"{100.0 * half:.1f} %"),
    text("day", "Hardest day", lambda one: one.hardest.label if one.hardest else ""),
    Column("worst", "Worst", _value, _worst),
    text("planned_worst", "Planned worst", _planned),
    text("utility_worst", "With the utility", _utility),
)
