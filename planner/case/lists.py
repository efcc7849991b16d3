"""A list of appliances as an estimator has it: a table with commas, or a line for each."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass

from planner.case.everyday import kind_named, kinds_like, load_in_words
from planner.case.fields import did_you_mean
from planner.case.library import kinds
from planner.case.messages import error, place, warning
from planner.case.save import Value
from planner.errors import CaseError, Finding

COLUMNS = ("kind", "size", "label", "leg", "running", "locked_rotor", "mca", "power_factor",
           "code_letter", "motor", "nameplate", "wait", "importance", "must_run")
MOST_ROWS = 300
TRUE, FALSE = ("yes", "true", "y", "x", "1"), ("no", "false", "n", "0", "")

TEMPLATE = """\
kind,size,label,running,locked_rotor,wait,importance,must_run
central air conditioner,3 ton,Air conditioner,,82 A,30 min,5,
electric water heater,50 gal,Water heater,,,2 h,4,
refrigerator,,Kitchen refrigerator,,,,,yes
sump pump,0.5 hp,Sump pump,,,,,yes
range,12 kW,Range,,,,4,
electric dryer,5.4 kW,Clothes dryer,,,6 h,2,
"""


@dataclass(frozen=True)
class Listed:
    """Loads read from a list, and what was odd about its lines; nothing of the list is lost."""

    rows: tuple[dict[str, Value], ...]
    findings: tuple[Finding, ...]


def read_list(text: str, name: str = "the list") -> Listed:
    """Read a list of loads: with a header line that names its columns, or a line for each load.

    Raises
    ------
    CaseError
        It holds nothing, or far too much.
    """
    lines = [line for line in text.lstrip("\ufeff").splitlines() if line.strip()]
    if not lines:
        raise CaseError(f"{name} is empty.", [error(name, "no line holds a load.",
                                                    'Write for example "central air, 3 ton".')])
    if len(lines) > MOST_ROWS + 1:
        raise CaseError(f"{name} is too long.", [error(
            name, f"{len(lines)} lines found, at most {MOST_ROWS} loads are taken.")])
    header = [cell.strip().casefold().replace(" ", "_") for cell in _cells(lines[0])]
    if "kind" in header:
        return _table(lines[1:], header, name)
    rows = [dict[str, Value](load_in_words(line)) for line in lines]
    return Listed(tuple(rows), tuple(_unknown_kinds(rows, name, first=1)))


def _table(lines: Sequence[str], header: Sequence[str], name: str) -> Listed:
    findings = [error(place(name, "line 1"), f'there is no column "{column}".',
                      did_you_mean(column, COLUMNS) or f"Columns: {', '.join(COLUMNS)}.")
                for column in header if column not in COLUMNS]
    rows: list[dict[str, Value]] = []
    for number, line in enumerate(lines, start=2):
        cells = [cell.strip() for cell in _cells(line)]
        if len(cells) > len(header):
            findings.append(error(place(name, f"line {number}"), f"{len(cells)} cells found, "
                                  f"{len(header)} columns named.",
                                  "A cell with a comma stands between quotation marks."))
        row = dict[str, Value]()
        for key, cell in zip(header, cells, strict=False):
            if cell and key in COLUMNS:
                row[key] = _value(key, cell)
        row["kind"] = kind_named(str(row.get("kind", ""))) or row.get("kind", "")
        rows.append(row)
    findings += _unknown_kinds(rows, name, first=2)
    return Listed(tuple(rows), tuple(findings))


def _cells(line: str) -> list[str]:
    separator = next((one for one in ("\t", ";") if one in line and "," not in line), ",")
    return next(csv.reader(io.StringIO(line), delimiter=separator, skipinitialspace=True))


def _value(key: str, cell: str) -> Value:
    """A cell as the file has it: whole numbers and yes or no where the key takes them."""
    if key == "importance" and cell.isdigit():
        return int(cell)
    if key == "must_run" and cell.casefold() in TRUE + FALSE:
        return cell.casefold() in TRUE
    return cell


def _unknown_kinds(
    rows: Sequence[dict[str, Value]], name: str, first: int
) -> list[Finding]:
    found = []
    for number, row in enumerate(rows, start=first):
        if row["kind"] not in kinds():
            close = kinds_like(str(row["kind"]))
            meant = f"Perhaps {', '.join(close)}?" if close else "Choose a kind in the table."
            found.append(warning(place(name, f"line {number}"),
                                 f'no kind of appliance is called "{row["kind"]}".', meant))
    return found
