"""The hours of a weather file: one temperature for each hour of a year, dirt found and counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np

from planner.arrays import Bools, FloatRows
from planner.errors import Finding, Severity

LEAP = 2000
"""A year with 29 February: the years of a typical year differ from month to month."""
FIRST = date(LEAP, 1, 1)
DAYS, HOURS = 366, 24
LEAP_DAY = (date(LEAP, 2, 29) - FIRST).days
MISSING_DEGC = 99.9
"""EPW writes a dry bulb that is missing as 99.9 [degC]."""
COLDEST_DEGC, HOTTEST_DEGC = -62.2, 60.0
"""What is believed: -80 to 140 degF, the bounds of a temperature in a home file [degC]."""
MOST_LOST = 87
"""Hours of a year that may lack: 1 %, the tail that a design temperature leaves out (derived)."""
CELLS = 7  # year, month, day, hour, minute, marks of the source, dry bulb


@dataclass
class _Faults:
    """How often each fault was met, and the line of the first."""

    count: dict[str, int] = field(default_factory=dict)
    first: dict[str, int] = field(default_factory=dict)

    def add(self, what: str, line: int) -> None:
        self.count[what] = self.count.get(what, 0) + 1
        self.first.setdefault(what, line)


UNREADABLE = "cannot be read as a date and a dry bulb"
NO_DATE = "have no date and hour from 1 to 24 that there is"
MISSING = "mark the dry bulb as missing (99.9)"
BEYOND = f"have a dry bulb beyond {COLDEST_DEGC:g} to {HOTTEST_DEGC:g} degC"
AGAIN = "are of an hour that came before; the first counts"
REMEDIES = {
    UNREADABLE: "Give the .epw file as it was downloaded.",
    NO_DATE: "Hours of EPW run from 1 to 24, not from 0 to 23.",
    MISSING: "Take a file without gaps if there is one.",
    BEYOND: "EPW is in degC: was it converted?",
    AGAIN: "Give a file of one year.",
}


def hours_of(lines: Sequence[str], first_row: int, name: str, findings: list[Finding]) -> FloatRows:
    """Read the dry bulb of every hour; the order of the rows does not matter.

    Parameters
    ----------
    lines : sequence of str
        Of the whole file.
    first_row : int
        How many of them stand above the hours.
    name : str
        Of the file, for findings.
    findings : list of Finding
        Takes what is wrong: a warning for each sort of fault, with how often and where first; an
        error if more than `MOST_LOST` hours are without a temperature, or came twice.

    Returns
    -------
    ndarray of float, shape (366, 24)
        By day of a leap year and hour [degC]; nan where nothing is known, so all of 29 February in
        most files.
    """
    degc = np.full((DAYS, HOURS), np.nan)
    seen = np.zeros((DAYS, HOURS), dtype=np.bool_)
    faults = _Faults()
    for number, line in enumerate(lines[first_row:], start=first_row + 1):
        if not line.strip():
            continue
        cells = line.split(",", CELLS)
        try:
            month, day, hour = (int(cell) for cell in cells[1:4])
            value = float(cells[6])
        except (ValueError, IndexError):
            faults.add(UNREADABLE, number)
            continue
        at = _day_of(month, day)
        if at is None or not 1 <= hour <= HOURS:
            faults.add(NO_DATE, number)
            continue
        if seen[at, hour - 1]:
            faults.add(AGAIN, number)
            continue
        seen[at, hour - 1] = True
        if value >= MISSING_DEGC:
            faults.add(MISSING, number)
        elif not COLDEST_DEGC <= value <= HOTTEST_DEGC:
            faults.add(BEYOND, number)
        else:
            degc[at, hour - 1] = value
    findings.extend(_said(faults, name))
    findings.extend(_gaps(degc, seen, faults, name))
    return degc


def date_of(day: int) -> date:
    """Give the date of a day by its place in a leap year."""
    return FIRST + timedelta(days=day)


def _day_of(month: int, day: int) -> int | None:
    try:
        return (date(LEAP, month, day) - FIRST).days
    except (ValueError, OverflowError):
        return None


def _said(faults: _Faults, name: str) -> list[Finding]:
    return [Finding(Severity.WARNING, name, f"{count:,} rows {what}; the first is line "
                    f"{faults.first[what]:,}.", REMEDIES[what])
            for what, count in faults.count.items()]


def _gaps(degc: FloatRows, seen: Bools, faults: _Faults, name: str) -> list[Finding]:
    """Hours without a row, hours without a temperature, more hours than a year has."""
    expected = np.ones((DAYS, HOURS), dtype=np.bool_)
    expected[LEAP_DAY] = seen[LEAP_DAY].any()
    absent, lost = expected & ~seen, int((expected & np.isnan(degc)).sum())
    found: list[Finding] = []
    if absent.any():
        day, hour = divmod(int(absent.argmax()), HOURS)
        found.append(Finding(
            Severity.WARNING, name, f"{int(absent.sum()):,} hours of the year have no row, the "
            f"first of {date_of(day):%b} {date_of(day).day}, hour {hour + 1}.",
            "Give a file of a whole year."))
    if lost > MOST_LOST:
        found.append(Finding(
            Severity.ERROR, name, f"{lost:,} hours of the year are without a temperature; at most "
            f"{MOST_LOST} (1 %) may be.", "Give a file of a whole year without gaps."))
    again = faults.count.get(AGAIN, 0)
    if again > MOST_LOST:
        found.append(Finding(
            Severity.ERROR, name, f"{again:,} hours came twice: it holds more than a year, and "
            "nobody can say which is meant.", "Give a file of one year."))
    return found
