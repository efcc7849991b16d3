"""Items cut out of a list of tables in a file, with the comments right above them and no others."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection
from typing import Any

import tomlkit

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
        Places of the items, from 0.
    """
    wanted = _data_without(text, section, rows)
    cut = _lines_without(text, section, rows)
    try:
        if tomllib.loads(cut) == wanted:
            return cut
    except tomllib.TOMLDecodeError:
        pass
    document = tomlkit.parse(text)  # written in an unusual way: comments may go too
    tables: Any = document.get(section, [])
    for row in sorted(rows, reverse=True):
        del tables[row]
    return tomlkit.dumps(document)


def _data_without(text: str, section: str, rows: Collection[int]) -> dict[str, Any]:
    data = tomllib.loads(text)
    kept = [row for place, row in enumerate(data.get(section, [])) if place not in rows]
    if section in data:
        data[section] = kept
    if not kept:
        data.pop(section, None)
    return data


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
