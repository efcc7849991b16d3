"""Items cut out of a list of tables in a file, with the comments right above them and no others."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Mapping
from typing import Any

import tomlkit

from planner.case.text import parse_toml, without_mark
from planner.editing.document import document_of

_HEADER = re.compile(r"\s*\[\[?\s*([^\]]+?)\s*\]\]?\s*(?:#.*)?")


def cut_out(text: str, section: str, rows: Collection[int]) -> str:
    """Cut items out by their places.

    Parameters
    ----------
    text : str
        TOML that parses.
    section : str
        Name of a list of tables at the top of the file.
    rows : collection of int
        Places of the items among the tables of the list, from 0.
    """
    text = without_mark(text)
    if not _tables(parse_toml(text, "the file"), section):
        return text
    wanted = _data_without(text, section, rows)
    cut = _lines_without(text, section, rows)
    try:
        if tomllib.loads(cut) == wanted:
            return cut
    except tomllib.TOMLDecodeError:
        pass
    document = document_of(text)  # written in an unusual way: comments may go too
    tables: Any = document[section]
    places = _tables(document, section)
    for row in sorted(rows, reverse=True):
        del tables[places[row]]
    return tomlkit.dumps(document)


def _data_without(text: str, section: str, rows: Collection[int]) -> dict[str, Any]:
    data = parse_toml(text, "the file")
    leaving = {place for row, place in enumerate(_tables(data, section)) if row in rows}
    data[section] = [row for place, row in enumerate(data[section]) if place not in leaving]
    if not data[section]:
        del data[section]
    return data


def _tables(data: Mapping[str, Any], section: str) -> list[int]:
    """Places of the tables in a list of a file, which may hold something else besides."""
    found = data.get(section)
    rows = found if isinstance(found, list) else []
    return [place for place, row in enumerate(rows) if isinstance(row, dict)]


def _lines_without(text: str, section: str, rows: Collection[int]) -> str:
    """Leave out the lines of the items; an item begins with its comments, ends with its content."""
    lines = text.splitlines(keepends=True)
    leaving: set[int] = set()
    place, start = -1, -1
    for number, line in enumerate([*lines, "[end]\n"]):
        header = _HEADER.fullmatch(line.rstrip("\r\n"))
        if header is None or (start >= 0 and header[1].startswith(f"{section}.")):
            continue
        if start >= 0 and place in rows:
            leaving.update(range(_first(lines, start), _last(lines, start, number)))
        starts_item = line.lstrip().startswith("[[") and header[1] == section
        place, start = (place + 1, number) if starts_item else (place, -1)
    return "".join(line for number, line in enumerate(lines) if number not in leaving)


def _first(lines: list[str], header: int) -> int:
    """The first of the comment lines right above a header; the header if there is none."""
    while header > 0 and lines[header - 1].lstrip().startswith("#"):
        header -= 1
    return header


def _last(lines: list[str], header: int, following: int) -> int:
    """One past the last line of an item: comments behind its content, one blank line at most."""
    end = following
    while end > header + 1 and (not lines[end - 1].strip() or lines[end - 1].lstrip()[0] == "#"):
        end -= 1
    if end < following and not lines[end].strip():
        end += 1
    return end
