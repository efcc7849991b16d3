"""What was changed between two texts of a home, in a line."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from planner.case.text import parse_toml
from planner.errors import CaseError
from planner.quoting import shortened

LONGEST = 90  # characters of a line
NOTHING = "written otherwise"
WISHED = "comforts"  # an entry only says what is wished of a comfort that is there anyway


def what_changed(before: str, after: str) -> str:
    """Say what is different: the first value, and how many more.

    Parameters
    ----------
    before, after : str
        Texts of a home; one that cannot be read is only said to be different.
    """
    try:
        old, new = _values(parse_toml(before, "home")), _values(parse_toml(after, "home"))
    except CaseError:
        return "the file as text"
    gone = [key for key in old if key not in new and key[0] != WISHED]
    come = [key for key in new if key not in old and key[0] != WISHED]
    items_gone = list(dict.fromkeys(_item(key) for key in gone if _item(key) not in
                                    {_item(one) for one in new}))
    items_come = list(dict.fromkeys(_item(key) for key in come if _item(key) not in
                                    {_item(one) for one in old}))
    lines = [f"{item} added" for item in items_come]
    lines += [f"{item} removed" for item in items_gone]
    lines += [f"{_called(key)}: {_said(old.get(key))} → {_said(new.get(key))}"
              for key in dict.fromkeys([*old, *new]) if old.get(key) != new.get(key)
              and _item(key) not in items_gone and _item(key) not in items_come]
    if not lines:
        return NOTHING
    more = f", and {len(lines) - 1} more" if len(lines) > 1 else ""
    return f"{shortened(lines[0], LONGEST)}{more}"


Key = tuple[str, ...]


def _values(raw: Mapping[str, Any]) -> dict[Key, object]:
    """Every value under its keys; items of a list under their names."""
    found: dict[Key, object] = {}

    def walk(part: object, key: Key) -> None:
        if isinstance(part, Mapping):
            for name, inner in part.items():
                walk(inner, (*key, str(name)))
        elif isinstance(part, list) and part and all(isinstance(one, Mapping) for one in part):
            for number, one in enumerate(part, start=1):
                walk(one, (*key, str(one.get("label") or one.get("id") or number)))
        elif (key[0], key[-1]) != (WISHED, "id"):
            found[key] = part

    walk(raw, ())
    return found


def _item(key: Key) -> str:
    return " ".join(key[1:2]) if len(key) > 2 else key[0]


def _called(key: Key) -> str:
    return " ".join(part.replace("_", " ") for part in (key[1:] if len(key) > 1 else key))


def _said(value: object) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)
