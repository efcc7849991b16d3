"""A list of appliances as an estimator has it: a table with commas, or a line for each."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.case.fields import did_you_mean
from planner.case.filling.sizes import takes_size, usual_sizes
from planner.case.library import kinds, not_planned
from planner.case.messages import error, note, place, warning
from planner.editing.everyday import (
    asked_of,
    burns_fuel,
    how_many,
    kind_named,
    kinds_like,
    size_in_words,
)
from planner.editing.family.read import read_family_list
from planner.editing.lines import breaker_refused, feeds_a_panel
from planner.editing.values import Value
from planner.errors import CaseError, Finding
from planner.quoting import quoted

COLUMNS = ("kind", "size", "label", "leg", "running", "locked_rotor", "mca", "power_factor",
           "code_letter", "motor", "nameplate", "year", "eer", "breaker", "wait", "importance",
           "must_run", "room", "comfort")
_FIGURE = re.compile(r"\d+\s?/\s?\d+(?:\s?[a-zA-Z]{1,4}\b)?|\b[x×]\s?\d+|\(\d+\)"
                     r"|(?:\d*\.)?\d{2,}[^\s)?]*|(?:\d*\.)?\d+\s?(?:[a-zA-Z]{1,4}\b)")
MOST_ROWS = 300
MOST_IN_A_LINE = 10_000
SEPARATORS = (",", ";", "\t")
TRUE, FALSE = ("yes", "true", "y", "x", "1"), ("no", "false", "n", "0", "")

TEMPLATE = """\
kind,size,label,running,locked_rotor,wait,importance,must_run
central air conditioner,3 ton,Air conditioner,,80 A,,5,
electric water heater,50 gal,Water heater,,,,4,
refrigerator,,Kitchen refrigerator,,,,,yes
sump pump,0.5 hp,Sump pump,,,,,yes
range,12 kW,Range,,,,4,
electric dryer,5.5 kW,Clothes dryer,,,6 h,2,
"""


@dataclass(frozen=True)
class Listed:
    """Loads read from a list, and what was odd about its lines; nothing of the list is lost."""

    rows: tuple[dict[str, Value], ...]
    findings: tuple[Finding, ...]
    panels: tuple[dict[str, Value], ...] = ()  # beside the first, where a panel schedule has them
    house: tuple[tuple[tuple[str, str], Value], ...] = ()  # what a panel schedule says of the house
    of_panel: bool = False  # whether it is a panel schedule
    not_read: tuple[str, ...] = ()  # phrases, or circuits, of which no load was made
    budget_usd: float | None = None


def read_list(text: str, name: str = "the list") -> Listed:
    """Read a list of loads: with a header line that names its columns, or a line for each load.

    Raises
    ------
    CaseError
        It holds nothing, or far too much.
    """
    text = text.lstrip("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    longest = max(map(len, text.split("\n")))
    if longest > MOST_IN_A_LINE:
        raise CaseError(f"{name} cannot be read.", [error(
            name, f"a line of {longest:,} characters is no load.", "One load to a line.")])
    first = next((line for line in text.splitlines() if line.strip()), "")
    if not first:
        raise CaseError(f"{name} is empty.", [error(name, "no line holds a load.",
                                                    'Write for example "central air, 3 ton".')])
    separator = max(SEPARATORS, key=first.count)
    header = _keys(first, separator)
    if "kind" in header:
        return _table(_records(text, separator, name), header, name)
    told = read_family_list(text, name)
    found = told.rows
    _refuse_too_many(len(found), name)
    odd: list[Finding] = []
    found = _lit_once(found, name, odd)
    rows = [_with_breaker(row, place(name, f"line {number}"), odd) for number, row in found]
    said = (*told.findings, *odd)
    return Listed(tuple(rows), tuple(sorted(said, key=_line_of)),
                  house=tuple(told.house.items()), not_read=tuple(told.not_read),
                  budget_usd=told.budget_usd)


def _line_of(finding: Finding) -> int:
    number = finding.where.rpartition("line ")[2]
    return int(number) if number.isdigit() else 0


def _lit_once(
    found: Sequence[tuple[int, dict[str, Value]]], name: str, odd: list[Finding]
) -> list[tuple[int, dict[str, Value]]]:
    """Take lights of the whole floor once, though lights and outlets are named apart."""
    kept: list[tuple[int, dict[str, Value]]] = []
    lit = False
    for number, row in found:
        kind = kinds().get(str(row["kind"]))
        of_floor = kind is not None and kind.covers_floor and "size" not in row
        if of_floor and lit:
            odd.append(note(place(name, f"line {number}"), f"{quoted(str(row['label']))} and the "
                            "lights and outlets named before are one load over the whole floor."))
            continue
        lit = lit or of_floor
        kept.append((number, row))
    return kept


def _with_breaker(
    row: dict[str, Value], where: str, odd: list[Finding]
) -> dict[str, Value]:
    """Say which amperes are read as a breaker; one that does not carry the load is left out."""
    if "breaker" not in row or row["kind"] not in kinds():
        return row
    said = str(row["breaker"])
    if breaker_refused(row):
        odd.append(warning(where, f"{said} is no breaker that carries it: left out.",
                           "Write its breaker, or what it draws."))
        return {key: value for key, value in row.items() if key != "breaker"}
    charger = row["kind"] == "vehicle charger"
    odd.append(note(where, f"{said} is read as the breaker of the charger, which carries 80 % of it"
                    " (NEC 625.42).", "Write the charging current if it is another.") if charger
               else note(where, f"{said} is read as its breaker, not as what it draws."))
    return row


def with_usual_sizes(listed: Listed) -> Listed:
    """Leave out sizes in which a kind does not come, so that the rest of a list is not lost.

    Each is a warning; the size that is usual for the kind is assumed then, if it has one.
    """
    rows, found = [], []
    for row in listed.rows:
        kind, size = kinds().get(str(row["kind"])), row.get("size")
        if kind is None or size is None or takes_size(kind, str(size)):
            rows.append(row)
            continue
        rows.append({key: value for key, value in row.items() if key != "size"})
        sentence = (f'{quoted(str(size))} is no size of kind "{kind.name}": sizes run from '
                    f"{usual_sizes(kind)}.")
        found.append(warning(place("the list", str(row.get("label", kind.name))), sentence,
                             "What is usual is taken; correct it."))
    return replace(listed, rows=tuple(rows), findings=(*listed.findings, *found))


def _keys(line: str, separator: str) -> list[str]:
    cells = next(csv.reader([line], delimiter=separator, skipinitialspace=True), [])
    return [cell.strip().casefold().replace(" ", "_") for cell in cells]


def _records(text: str, separator: str, name: str) -> list[tuple[int, list[str]]]:
    """Cut a table into rows of cells, each with its line; rows without content are left out."""
    found, line = [], 1
    reader = csv.reader(io.StringIO(text), delimiter=separator, skipinitialspace=True)
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells):
                found.append((line, [" ".join(cell.split()) for cell in cells]))
            line = reader.line_num + 1
    except csv.Error as problem:
        message = f"{name} cannot be read: {problem}."
        raise CaseError(message, [error(place(name, f"line {line}"), "this is no table.",
                                        "Save it as a CSV file.")]) from None
    _refuse_too_many(len(found) - 1, name)
    return found[1:]


def _refuse_too_many(count: int, name: str) -> None:
    if count > MOST_ROWS:
        raise CaseError(f"{name} is too long.", [error(
            name, f"{count} loads found, at most {MOST_ROWS} are taken.")])


def _table(
    records: Sequence[tuple[int, Sequence[str]]], header: Sequence[str], name: str
) -> Listed:
    findings = [error(place(name, "header"), f'there is no column "{column}".',
                      did_you_mean(column, COLUMNS) or f"Columns: {', '.join(COLUMNS)}.")
                for column in header if column and column not in COLUMNS]
    rows: list[dict[str, Value]] = []
    of_lines: list[int] = []
    for number, cells in records:
        unnamed = [cell for key, cell in zip(header, cells, strict=False) if cell and not key]
        if any(cells[len(header):]) or unnamed:
            findings.append(error(place(name, f"line {number}"), f"{len(cells)} cells found, "
                                  f"{sum(map(bool, header))} columns named.",
                                  "A cell with a comma stands between quotation marks."))
        row = dict[str, Value]()
        for key, cell in zip(header, cells, strict=False):
            if cell and key in COLUMNS:
                row[key] = _value(key, cell)
        alike, said = how_many(str(row.get("kind", "")))
        row["kind"] = kind_named(said) or row.get("kind", "")
        rows += [dict(row) for _ in range(alike)]
        of_lines += [number] * alike
    findings += _doubts(rows, of_lines, name)
    return Listed(tuple(rows), tuple(findings), not_read=_not_read(rows, of_lines))


def refuse_without_loads(listed: Listed, name: str) -> None:
    """Refuse a list in which nothing was understood: its home would be one of lights only.

    Raises
    ------
    CaseError
        No row is of a kind of the library; it carries all that was found.
    """
    if not any(row["kind"] in kinds() for row in listed.rows):
        raise CaseError(f"{name}: nothing of it could be read as a load, so there is no home.",
                        [error(name, "no line names an appliance that is known.",
                               'Write one to a line, for example "central air, 3 ton".'),
                         *listed.findings])


def _not_read(rows: Sequence[dict[str, Value]], lines: Sequence[int]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(
        f"line {number}: {row.get('label') or row['kind']}"
        for number, row in zip(lines, rows, strict=True) if row["kind"] not in kinds()))


def _value(key: str, cell: str) -> Value:
    """A cell as the file has it: whole numbers and yes or no where the key takes them."""
    if key in ("importance", "year") and cell.isdecimal():
        return int(cell)
    if key == "eer" and re.fullmatch(r"\d+(?:\.\d+)?", cell, re.ASCII):
        return float(cell)
    if key == "size":
        return size_in_words(cell)
    if key == "must_run" and cell.casefold() in TRUE + FALSE:
        return cell.casefold() in TRUE
    return cell


def _doubts(
    rows: Sequence[dict[str, Value]], lines: Sequence[int], name: str
) -> tuple[Finding, ...]:
    """What was not understood of the lines: kinds, and figures that stayed in the name."""
    found = []
    for number, row in zip(lines, rows, strict=True):
        where, kind = place(name, f"line {number}"), str(row["kind"])
        if kind not in kinds():
            found.append(unknown_kind(where, kind))
        figures = _FIGURE.findall(str(row.get("label", "")))
        if figures:
            found.append(warning(where, f"{' and '.join(figures)} could not be read and "
                                 f'{"stays" if len(figures) == 1 else "stay"} in the name.',
                                 "What is usual is taken instead; correct it where it differs."))
    return tuple(found)


def unknown_kind(where: str, kind: str) -> Finding:
    """Say that no kind is called so, and what might be meant."""
    said = f'no kind of appliance is called "{kind}"'
    if (none := not_planned(kind)) is not None:
        return warning(where, f"{said}: {none[0]}", none[1])
    if instead := asked_of(kind):
        return warning(where, f"{said} alone: it may be several.",
                       f"Write {' or '.join(quoted(one) for one in instead)}.")
    if feeds_a_panel(kind):
        return warning(where, f"{said}: it feeds another panel.",
                       "Write what is in that panel, one load to a line.")
    return warning(where, f"{said}.", _meant(kind))


def _meant(kind: str) -> str:
    if burns_fuel(kind):
        return ("What burns fuel draws little or nothing: take the row out, or choose what its fan "
                "or igniter is most like.")
    close = kinds_like(kind)
    return f"Perhaps {', '.join(close)}?" if close else "Use another word for it."
