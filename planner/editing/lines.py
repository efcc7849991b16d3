"""Lines of a list, told apart: of the house, of loads, of what is no load."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field

from planner.case.file import LoadEntry
from planner.case.filling.fill import HouseDefaults, fill
from planner.case.filling.ledger import Ledger
from planner.case.library import not_planned
from planner.case.messages import note, place, warning
from planner.editing.everyday import kind_named, load_in_words, parts_of_line
from planner.editing.house_words import House, house_in, is_decoration, is_idle, without_house
from planner.editing.values import Value
from planner.errors import Finding
from planner.quoting import quoted

A_SENTENCE = 6  # words
_QUOTE = re.compile(r"\s*[\"\u201c\u201e\u00ab\u2018]")
_HOUSE = re.compile(r"\W*(?:the\s+)?(?:house|home|residence|dwelling)\b", re.IGNORECASE)
_FEEDS = re.compile(r"\b(?:sub-?\s?panel|feeders?|panel(?:board)?|load cent(?:er|re)"
                    r"|(?:guest|pool|carriage|tiny)[ -]?house)\b", re.IGNORECASE)
_LARGEST_USUAL = HouseDefaults("main", 95.0, 10.0, 2000.0, off_is_free=False, days=())


@dataclass
class Lines:
    """Lines of loads, loads beside what is said of the house, and what the others say."""

    of_loads: list[tuple[int, str]] = field(default_factory=list)
    beside: list[tuple[int, dict[str, Value]]] = field(default_factory=list)
    house: House = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    not_read: list[str] = field(default_factory=list)


def lines_apart(lines: Sequence[tuple[int, str]], name: str) -> Lines:
    """Tell the lines of a list apart.

    Beside what it says of the house a line may name an appliance: it counts where no other line
    names one of its kind.
    """
    found = Lines()
    for number, line in lines:
        where, said = place(name, f"line {number}"), house_in(line)
        if is_idle(line):
            found.findings.append(note(where, f"{quoted(line.strip())} is not in use: no load."))
        elif is_decoration(line):
            found.findings.append(note(where, f"{quoted(line.strip())}: of the lights of the house,"
                                       " no load by itself."))
        elif said:
            found.house = {**said, **found.house}
            figures = " and ".join(f"{key.replace('_', ' ')} {value}"
                                   for (_, key), value in said.items())
            found.findings.append(note(where, f"read of the house: {figures}. The rest of the line "
                                       "counts only where it names an appliance that no other line "
                                       "does."))
            found.beside += [(number, row) for part in parts_of_line(without_house(line))
                             if kind_named(part) and (row := load_in_words(part))]
        elif _of_the_house(line):
            found.findings.append(warning(where, f"this is no appliance: {line.strip()}",
                                          "What it says of the house or of wishes belongs there."))
            found.not_read.append(f"line {number}: {line.strip()}")
        else:
            found.of_loads.append((number, line))
    return found


def feeds_a_panel(words: str) -> bool:
    """Whether words mean a feeder of another panel, or a building that has one."""
    return _FEEDS.search(words) is not None


def breaker_refused(row: dict[str, Value]) -> bool:
    """Whether a load cannot be on the breaker that its row names."""
    ledger = Ledger("load")
    try:
        entry = LoadEntry.model_validate({"id": "one", **{
            key: row[key] for key in ("kind", "size", "breaker", "mca", "mop") if key in row}})
    except ValueError:
        return True
    fill(entry, _LARGEST_USUAL, ledger)
    return any(one.where.endswith("breaker") for one in ledger.findings)


def _of_the_house(line: str) -> bool:
    """Whether a line tells of the house itself, or quotes its people, not of something in it."""
    if _QUOTE.match(line) and len(line.split()) >= A_SENTENCE:
        return True
    return bool(_HOUSE.match(line)) and kind_named(line) is None and not_planned(line) is None
