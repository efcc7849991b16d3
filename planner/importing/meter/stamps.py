"""Times as exports write them: one form for a whole column, tried on all of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta

_DAYS = ("%m/%d/%Y", "%d/%m/%Y", "%Y/%m/%d", "%m/%d/%y", "%d/%m/%y", "%d.%m.%Y", "%m-%d-%Y",
         "%d-%b-%Y", "%b %d, %Y", "%d %b %Y", "%Y%m%d")
_CLOCKS = ("", " %H:%M", " %H:%M:%S", " %I:%M %p", " %I:%M:%S %p", " %I:%M%p", " %I%p", " %H%M")
_MIDNIGHT = " 24:00"
EARLIEST, LATEST = 1950, 2200
"""Years that a meter may speak of: chosen, no source."""
LEAST_READ = 0.5
"""A form that reads fewer of a column's first cells is not its form: chosen, no source."""
TRIED = 400
"""Cells on which the forms are tried before the whole column is read: chosen, no source."""


def stamps_of(cells: Sequence[str]) -> list[tuple[int, int | None] | None]:
    """Read a column of times.

    Parameters
    ----------
    cells : sequence of str
        One to a row; a date alone is its midnight.

    Returns
    -------
    list
        For each cell seconds since 1970 and what local time is ahead of that [s], None where the
        stamp has no zone (it counts as local then); None for what is no time. Month and day stand
        in the order in which more of the column can be read, the month first where both do.
    """
    tidy = [" ".join(cell.replace("T", " ", 1).split()) if cell[:1].isdigit() else cell.strip()
            for cell in cells]
    step = max(1, len(tidy) // TRIED)
    some = tidy[::step]
    best: tuple[int, Callable[[str], datetime] | None] = (0, None)
    for form in (_iso, _seconds, *(_by(f"{day}{clock}") for day in _DAYS for clock in _CLOCKS)):
        count = sum(_read(form, cell) is not None for cell in some)
        if count > best[0]:
            best = (count, form)
        if count == len(some):
            break
    form_found = best[1]
    if form_found is None or best[0] < LEAST_READ * len(some):
        return [None] * len(tidy)
    return [_read(form_found, cell) for cell in tidy]


def _read(form: Callable[[str], datetime], cell: str) -> tuple[int, int | None] | None:
    after = timedelta(0)
    if cell.endswith(_MIDNIGHT):
        cell, after = f"{cell.removesuffix(_MIDNIGHT)} 00:00", timedelta(days=1)
    try:
        found = form(cell) + after
    except (ValueError, OverflowError, OSError):
        return None
    if not EARLIEST <= found.year <= LATEST:
        return None
    ahead = found.utcoffset()
    if ahead is None:
        return round(found.replace(tzinfo=UTC).timestamp()), None
    return round(found.timestamp()), round(ahead.total_seconds())


def _iso(cell: str) -> datetime:
    if len(cell) < len("2024-01-01") or cell[4] != "-":
        raise ValueError(cell)
    return datetime.fromisoformat(cell)


def _seconds(cell: str) -> datetime:
    if not cell.isdecimal() or not 9 <= len(cell) <= 10:
        raise ValueError(cell)
    return datetime.fromtimestamp(int(cell), UTC)


def _by(form: str) -> Callable[[str], datetime]:
    return lambda cell: datetime.strptime(cell, form)
