"""Interval data as a table: CSV with loose headers, kWh or kW, starts, ends or both."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from planner.arrays import Floats
from planner.importing.content import opened, refusal
from planner.importing.meter.record import MOST_BYTES, MOST_READINGS, Record
from planner.importing.meter.stamps import stamps_of

SEPARATORS = (";", "\t", "|", ",")  # the comma last: it may also stand in numbers
MOST_AHEAD = 40
"""Lines of an export above its header: chosen, no source."""
_UNITS = {"mwh": 1000.0, "kwh": 1.0, "wh": 0.001, "kw": 1.0, "w": 0.001}
_POWER = frozenset({"kw", "w"})
_AMOUNT = re.compile(r"usage|consum|energy|value|demand|import|delivered|reading|load\b|net\b")
_NO_AMOUNT = re.compile(r"cost|price|amount|charge|\$|usd|temp|note|quality|units?$|type|tier|bill"
                        r"|account|meter|kvar|kva\b|therm|gas|read ?type")
_BACK = re.compile(r"export|generat|received|return|reverse|solar|surplus|feed.?in|given back")
_DATE = re.compile(r"\bdate\b|\bday\b")
_STAMP = re.compile(r"date|time|stamp|start|begin|end|period|interval|hour")
_END = re.compile(r"\bend|\bto\b|until|ending")


@dataclass(frozen=True, slots=True)
class Columns:
    """Places of the columns that are read; `day` stands before `start` where they are two."""

    day: int | None
    start: int | None
    end: int | None
    amount: int
    back: int | None
    unit: str | None


def read_table(path: Path) -> Record:
    """Read interval data from a table.

    Parameters
    ----------
    path : Path
        Text of at most `MOST_BYTES`.

    Raises
    ------
    CaseError
        It cannot be read, or no column holds times or none holds readings.
    """
    with opened(path, MOST_BYTES) as stream:
        content = stream.read(MOST_BYTES + 1)
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise refusal(path.name, "this is neither XML nor a table of text.",
                      "Save it as CSV in UTF-8.") from None
    rows = list(_rows(text, path.name))
    header, columns = _header(rows, path.name)
    return _record(rows[header:], columns, path.name)


def _rows(text: str, name: str) -> Iterator[list[str]]:
    lines = text.replace("\r\n", "\n").replace("\r", "\n").replace("\0", " ")
    first = [line for line in lines.split("\n", MOST_AHEAD + 2)[:MOST_AHEAD + 2] if line.strip()]
    separator = next((sign for sign in SEPARATORS if all(sign in line for line in first[-3:])), ",")
    try:
        for count, row in enumerate(csv.reader(io.StringIO(lines), delimiter=separator)):
            if count > MOST_READINGS:
                raise refusal(name, f"it has more than {MOST_READINGS:,} rows.",
                              "Export a year of quarters of an hour.")
            if any(cell.strip() for cell in row):
                yield [cell.strip() for cell in row]
    except csv.Error as problem:
        raise refusal(name, f"this is no table: {problem}.", "Save it as a CSV file.") from None


def _header(rows: Sequence[Sequence[str]], name: str) -> tuple[int, Columns]:
    """Where the data begin, and what their columns are; a table may have no header at all."""
    for number, row in enumerate(rows[:MOST_AHEAD]):
        columns = _columns([" ".join(cell.casefold().replace("_", " ").split()) for cell in row])
        if columns is not None:
            return number + 1, columns
    for number, row in enumerate(rows[:MOST_AHEAD]):
        if len(row) >= 2 and stamps_of([row[0]])[0] is not None and _number(row[1]) is not None:
            return number, Columns(None, 0, None, 1, None, None)
    raise refusal(name, "no line names a column of times and a column of readings.",
                  'Give it a header line such as "start,kWh".')


def _columns(names: Sequence[str]) -> Columns | None:
    amounts: list[tuple[int, str | None]]
    amounts = [(i, unit) for i, name in enumerate(names)
               if (unit := _unit(name)) is not None and not _NO_AMOUNT.search(name)]
    amounts += [(i, None) for i, name in enumerate(names)
                if _unit(name) is None and _AMOUNT.search(name) and not _NO_AMOUNT.search(name)
                and not re.search(r"date|time|start|end\b|interval", name)]
    taken = [one for one in amounts if not _BACK.search(names[one[0]])]
    back = [one for one in amounts if _BACK.search(names[one[0]])]
    times = [i for i, name in enumerate(names)
             if _STAMP.search(name) and i not in dict(amounts) and not _NO_AMOUNT.search(name)]
    if not taken or not times:
        return None
    amount, unit = min(taken, key=lambda one: (one[1] is None, one[1] in _POWER, one[0]))
    days = [i for i in times if _DATE.search(names[i]) and not re.search(r"time|hour", names[i])]
    ends = [i for i in times if _END.search(names[i]) and not re.search(r"start|begin", names[i])]
    starts = [i for i in times if i not in ends and i not in days]
    day = days[0] if days and (starts or ends) else None
    start = next(iter(starts or ([] if ends else days)), None)
    return Columns(day, start, next(iter(ends), None), amount, next((i for i, _ in back), None),
                   unit)


def _unit(name: str) -> str | None:
    return next((unit for unit in _UNITS if re.search(rf"(?<![a-z]){unit}(?![a-z])", name)), None)


def _record(rows: Sequence[Sequence[str]], columns: Columns, name: str) -> Record:
    notes = [] if columns.unit else ["no unit is given: readings are taken as kWh"]
    amounts = np.array([_amount(row, columns.amount) for row in rows])
    start_s, ahead_s = _times(rows, columns.day, columns.start)
    end_s, end_ahead_s = _times(rows, columns.day, columns.end)
    ahead_s = end_ahead_s if columns.start is None else ahead_s
    length_s = _lengths(start_s, end_s)
    if columns.start is None:
        start_s = end_s - length_s
    good = ~np.isnan(start_s) & np.isfinite(amounts)
    if not good.any():
        raise refusal(name, "no row has a time and a reading that could be read.",
                      'Times such as "2024-01-31 13:15" and plain numbers are read.')
    if not good.all():
        notes.append(f"{int((~good).sum()):,} rows have no time or no reading")
    factor = _UNITS[columns.unit or "kwh"]
    hours = length_s / 3600.0 if columns.unit in _POWER else 1.0
    back = [] if columns.back is None else [_amount(row, columns.back) for row in rows]
    return Record(start_s[good].astype(np.int64), length_s[good].astype(np.int64),
                  (amounts * factor * hours)[good], ahead_s,
                  any(value > 0.0 for value in back), tuple(notes))


def _times(
    rows: Sequence[Sequence[str]], day: int | None, clock: int | None
) -> tuple[Floats, int | None]:
    """Seconds since 1970 of a column, nan for what is no time; what local time is ahead [s]."""
    if clock is None:
        return np.full(len(rows), np.nan), 0
    cells = [_cell(row, clock) if day is None else f"{_cell(row, day)} {_cell(row, clock)}"
             for row in rows]
    found = stamps_of(cells)
    first = next((one for one in found if one is not None), None)
    seconds = np.array([np.nan if one is None else float(one[0]) for one in found])
    return seconds, 0 if first is None or first[1] is None else first[1]


def _lengths(start_s: Floats, end_s: Floats) -> Floats:
    """Length of each interval [s]: by both of its ends, else the usual step from row to row."""
    given = end_s - start_s
    given = np.where(given <= 0.0, given + 86400.0, given)  # a clock that passes midnight
    known = given[~np.isnan(given)]
    stamps = np.unique(np.concatenate([start_s[~np.isnan(start_s)], end_s[~np.isnan(end_s)]]))
    usual = _most_common(known if known.size else np.diff(stamps))
    short = _most_common(np.diff(np.unique(start_s[~np.isnan(start_s)]))) - usual
    if known.size and short in (1.0, 60.0):  # "00:00 to 00:14" is a quarter of an hour
        given = given + short
        usual += short
    return np.where(np.isnan(given), usual, given)


def _most_common(steps: Floats) -> float:
    if not steps.size:
        return 3600.0
    values, counts = np.unique(steps, return_counts=True)
    return float(values[counts.argmax()])


def _cell(row: Sequence[str], place: int) -> str:
    return row[place] if place < len(row) else ""


def _amount(row: Sequence[str], place: int) -> float:
    found = _number(_cell(row, place))
    return float("nan") if found is None else found


def _number(cell: str) -> float | None:
    plain = cell.replace(" ", "")
    if re.fullmatch(r"-?\d{1,3}(?:,\d{3})+(?:\.\d*)?", plain):
        plain = plain.replace(",", "")
    elif re.fullmatch(r"-?\d+,\d+", plain):
        plain = plain.replace(",", ".")
    if not re.fullmatch(r"[-+]?(?:\d{1,15}\.?\d*|\.\d+)(?:[eE][-+]?\d{1,2})?", plain):
        return None
    return float(plain)
