"""What words of a list mean that are no load by themselves, and breakers that cannot be."""

from __future__ import annotations

import re

from planner.case.file import LoadEntry
from planner.case.filling.fill import HouseDefaults, fill
from planner.case.filling.ledger import Ledger
from planner.editing.values import Value

_FEEDS = re.compile(r"\b(?:sub-?\s?panel|feeders?|panel(?:board)?|load cent(?:er|re)"
                    r"|(?:guest|pool|carriage|tiny)[ -]?house)\b", re.IGNORECASE)
_LARGEST_USUAL = HouseDefaults("main", 95.0, 10.0, 2000.0, off_is_free=False, days=())


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
