"""The table of a home's design days, and of what dates of a weather file they are."""

from __future__ import annotations

from planner.facts.home import DesignDay, Home
from planner.report.tables.column import Column, Table, text


def design_day_table(home: Home) -> Table[DesignDay]:
    """One row for each design day; the dates where a weather file gave it."""
    dates = {} if home.weather is None else {one.id: one.dates for one in home.weather.days}
    from_file: tuple[Column[DesignDay], ...] = (
        text("dates", "From", lambda day: dates.get(day.id, "")),) if dates else ()
    return Table("Design days", (*COLUMNS, *from_file), home.days)


COLUMNS: tuple[Column[DesignDay], ...] = (
    text("day", "Day", lambda day: day.label),
    text("season", "Season", lambda day: day.season),
    Column("low_degf", "Low [degF]", lambda day: day.low_degf, lambda day: f"{day.low_degf:g}",
           right=True),
    Column("high_degf", "High [degF]", lambda day: day.high_degf, lambda day: f"{day.high_degf:g}",
           right=True),
    Column("weight", "Weight", lambda day: day.weight, lambda day: f"{day.weight:.0%}", right=True),
)
