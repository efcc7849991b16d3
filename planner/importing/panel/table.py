"""The text of a panel schedule, cut into rows whose cells are understood one by one."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from planner.errors import Finding, Severity
from planner.importing.content import refusal
from planner.importing.panel import cells
from planner.importing.panel.header import Half, Header, header_of
from planner.importing.panel.record import MOST_ROWS, Row
from planner.quoting import quoted

SEPARATORS = (",", ";", "\t", "|")
MOST_OF_A_FLOOR = 100
"""Positions of the lights and receptacles of a floor, which are one row: chosen, no source."""
MOST_AHEAD = 40
"""Lines above the header: chosen, no source."""
BEGINNING_BYTES, SHARE_OF_ZEROS = 2000, 0.3
"""Of a file looked at for UTF-16 without its mark, whose western letters are half zeros: chosen."""
DITTO = re.compile(r"(?:do\.?|ditto|same(?: as above)?|cont(?:'?d|inued)?\.?|[\"'”″〃]+"
                   r"|\(?2[ -]?p(?:ole)?\)?"
                   r"|[|↓↑^v\\/]|\(.{0,3}\)|see above|above|-\"-)", re.IGNORECASE)
THREE = "three poles or a third phase: a three-phase service is not planned."


@dataclass
class Table:
    """Rows of a schedule, what stood above its header, and what was odd."""

    rows: list[Row] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    titles: list[str] = field(default_factory=list)
    unread: list[str] = field(default_factory=list)


def decoded(content: bytes) -> str | None:
    """Give text of UTF-8, UTF-16 with its mark, or the western code page of office programs."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        try:
            return content.decode("utf-16")
        except UnicodeDecodeError:
            return None
    if (wide := _without_mark(content)) is not None:
        return wide
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        pass
    if re.search(rb"[\x00-\x08\x0e-\x1f]", content):
        return None
    return content.decode("cp1252", errors="replace")


def _without_mark(content: bytes) -> str | None:
    """Text of UTF-16 without its mark: every other byte of western letters is 0."""
    few = content[:BEGINNING_BYTES]
    if few.count(0) < SHARE_OF_ZEROS * len(few):
        return None
    odd = few[1::2].count(0)
    try:
        return content.decode("utf-16-le" if 2 * odd > few.count(0) else "utf-16-be")
    except UnicodeDecodeError:
        return None


def separator_of(text: str) -> str | None:
    """Sign between the cells of a schedule, by its header; None where no line is a header."""
    for line in [one for one in text.splitlines() if one.strip()][:MOST_AHEAD]:
        for sign in sorted(SEPARATORS, key=line.count, reverse=True):
            if sign in line and header_of(_cut(line, sign)) is not None:
                return sign
    return None


def _cut(line: str, separator: str) -> list[str]:
    try:
        return next(csv.reader([line], delimiter=separator, skipinitialspace=True), [])
    except csv.Error:
        return []


def table_of(text: str, name: str) -> Table:
    """Read the rows of a schedule; a header may come again for the next panel.

    Raises
    ------
    CaseError
        No line is a header, or there are too many rows.
    """
    separator = separator_of(text)
    if separator is None:
        raise refusal(name, "no line names the columns of a panel schedule.",
                      'Give it a header line such as "circuit,description,breaker,poles".')
    table, header, panel = Table(), None, ""
    for line, row in _lines(text, separator, name):
        again = header_of(row)
        if again is not None:
            header = again
            table.unread += [one for one in again.unread if one not in table.unread]
            continue
        if header is None or _is_title(row, header):
            said = " ".join(cell for cell in row if cell)
            panel = cells.panel_in(said) or panel
            table.titles.append(said)
            continue
        for half in header.halves:
            if any(_at(row, place) for role, place in half.places.items() if role != "unread"):
                most = None if half is header.halves[-1] else max(half.places.values()) + 1
                table.rows.append(_row(row[:most], half, line, panel, name, table.findings))
        if len(table.rows) > MOST_ROWS:
            raise refusal(name, f"it has more than {MOST_ROWS:,} rows.",
                          "Give it panel by panel.")
    return table


def _lines(text: str, separator: str, name: str) -> Iterator[tuple[int, list[str]]]:
    """Rows of cells with their line, without those that hold nothing."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n").replace("\0", " ")
    plain = _with_dittos(plain, separator)
    reader = csv.reader(io.StringIO(plain), delimiter=separator, skipinitialspace=True)
    line = 1
    try:
        for row in reader:
            if any(cell.strip() for cell in row):
                yield line, [" ".join(cell.split()) for cell in row]
            line = reader.line_num + 1
    except csv.Error as problem:
        raise refusal(name, f"line {line} is no line of a table: {problem}.",
                      "Save it as a CSV file.") from None


def _with_dittos(text: str, separator: str) -> str:
    """Write a lone quotation mark in a cell of its own, which opens no quoted cell, as a word."""
    sign = re.escape(separator)
    lone = re.compile(rf'(?<={sign})[^\S\t\n]*"[^\S\t\n]*(?={sign}|$)')
    return "\n".join(lone.sub("ditto", line) if line.count('"') % 2 else line
                     for line in text.split("\n"))


def _is_title(row: Sequence[str], header: Header) -> bool:
    """Whether a row below a header names the next panel, and no circuit."""
    filled = [place for place, cell in enumerate(row) if cell]
    half = header.halves[0]
    first = row[filled[0]]
    if not re.search(r"\bpanel", " ".join(row), re.IGNORECASE) or not cells.panel_in(first):
        return False
    breaker = _cell(row, half, "breaker")
    return filled[0] == 0 and half.places.get("circuit", 0) == 0 and not breaker \
        and cells.positions_in(first) is None and (len(filled) == 1 or "words" in half.places)


def _row(
    row: Sequence[str], half: Half, line: int, panel: str, name: str, findings: list[Finding]
) -> Row:
    where = f"{name}: line {line}"

    def doubt(sentence: str, remedy: str = "") -> None:
        findings.append(Finding(Severity.WARNING, where, sentence, remedy))

    said = {role: _cell(row, half, role) for role in half.places}
    words, beyond = said.get("words", ""), len(row) - 1 - max(half.places.values())
    if beyond > 0 and "," in "".join(row[-beyond:]):
        doubt(f"{beyond} cells too many.", "A cell with a comma stands between quotation marks.")
    several = bool(said.get("kind")) and not said.get("breaker") and not said.get("poles")
    found = cells.positions_in(said["circuit"], MOST_OF_A_FLOOR if several else 3) if said.get(
        "circuit") else ((), ())
    if found is None:
        doubt(f"{quoted(said['circuit'])} is no position of a panel.", "Write its number.")
        found = ((), ())
    breaker_cell = said.get("breaker", "")
    breaker_a, poles = cells.breaker_in(breaker_cell)
    if breaker_a is None and breaker_cell and not cells.NOTHING.fullmatch(breaker_cell) \
            and not DITTO.fullmatch(breaker_cell) and not poles and not is_spare(breaker_cell):
        doubt(f"{quoted(breaker_cell)} is no breaker.", 'Write its amperes, such as "20".')
    stated = cells.poles_in(said.get("poles", ""))
    leg, third = cells.leg_in(said.get("leg", ""))
    volts = cells.volts_in(said.get("volts", ""))
    if third or max(stated, poles) == 3 or (len(found[0]) == 3 and not said.get("kind")):
        doubt(THREE, "Check the panel.")
    va = _power(said.get("va", ""), _cell(row, half, "va of L2"), half, doubt)
    return Row(line, said.get("panel") or panel, found[0], found[1], words, said.get("kind", ""),
               breaker_a, stated or poles, volts, va, leg, said.get("notes", ""))


def is_spare(words: str) -> bool:
    """Whether words say that a space carries nothing."""
    plain = re.sub(r"[^a-z/ ]", " ", words.casefold())
    return re.fullmatch(r"(?:spares?|spaces?|blanks?|open|unused|empty|not used|n/u|nu|future|none"
                        r"|n/a|na|breaker|bkr|only|provision|no load|filler|plate|\s)+",
                        plain) is not None and bool(plain.strip())


def _power(
    first: str, second: str, half: Half, doubt: Callable[[str, str], None]
) -> float | None:
    found = []
    for cell in (first, second):
        if not cell or cells.NOTHING.fullmatch(cell) or DITTO.fullmatch(cell) or is_spare(cell):
            continue
        va = cells.va_in(cell, half.va_factor)
        if va is None:
            doubt(f"{quoted(cell)} is no power that could be read.", 'Write it as "4500 VA".')
        elif va:
            found.append(va)
    return sum(found) or None


def _cell(row: Sequence[str], half: Half, role: str) -> str:
    return _at(row, half.places[role]) if role in half.places else ""


def _at(row: Sequence[str], place: int) -> str:
    return row[place] if place < len(row) else ""
