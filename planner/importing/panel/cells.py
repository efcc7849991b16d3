"""One cell of a panel schedule: a breaker, its poles, a leg, positions, a power."""

from __future__ import annotations

import re

from planner.importing.panel.record import Pole

_AMPERES = re.compile(r"(?<![\d.])(\d{1,4}(?:\.\d+)?)(?![\d.])\s*(?:a|at|amps?|amperes?)?(?![a-z])")
_POLES = re.compile(
    r"(?<![\d.])([123])\s*-?\s*(?:poles?|p)(?![a-z])|\b(?:poles?|p)\s*[:=]?\s*([123])\b")
_WORDS_OF_POLES = {"single pole": 1, "single-pole": 1, "sp": 1, "one": 1, "double pole": 2,
                   "double-pole": 2, "dp": 2, "two": 2, "double": 2, "single": 1, "i": 1, "ii": 2}
_SLASHED = re.compile(r"(?<!\d)(\d{2,3})\s*[/x×]\s*([123])(?!\d)"
                      r"|(?<!\d)([123])\s*[/x×]\s*(\d{2,3})(?!\d)")
_DASHED = re.compile(r"(\d{2,3})\s*-\s*([123])|([123])\s*-\s*(\d{2,3})")  # a whole cell only
_BOTH = frozenset({"both", "l1l2", "l1-l2", "ab", "a-b", "ba", "12", "1-2", "xy", "l1 l2", "a b"})
_LEGS: dict[str, Pole] = {"l1": "L1", "a": "L1", "1": "L1", "x": "L1", "l2": "L2", "b": "L2",
                          "2": "L2", "y": "L2", **dict.fromkeys(_BOTH, "both")}
_THIRD = frozenset({"c", "l3", "3", "z", "abc", "a-b-c", "l1-l2-l3", "bc", "b-c", "ac", "a-c", "ca",
                    "a b c", "b c", "a c"})
_POSITIONS = re.compile(r"(\d{1,3})([a-z]?)")
_POWER = re.compile(r"(\d[\d,]*(?:\.\d+)?|\.\d+)\s*(kva|kw|va|watts?|w)?")
_FACTORS = {"kva": 1000.0, "kw": 1000.0, "va": 1.0, "watt": 1.0, "watts": 1.0, "w": 1.0}
LEAST_BARE_VA = 100.0
"""A bare number below is no likely power in volt-amperes: chosen, no source."""
NOTHING = re.compile(r"[\s\-–—.~_]*|n/?a|none", re.IGNORECASE)


def breaker_in(cell: str) -> tuple[float | None, int]:
    """Read amperes and poles: ``20``, ``50A``, ``50/2``, ``2-50``, ``20A 1P``; None, 0 if not."""
    text = cell.casefold().strip()
    slashed = _SLASHED.search(text) or _DASHED.fullmatch(text)
    if slashed:
        amperes, poles = slashed[1] or slashed[4], slashed[2] or slashed[3]
        return float(amperes), int(poles)
    poles_found = poles_in(text)
    rest = _POLES.sub(" ", text)
    found = _AMPERES.search(rest)
    return (float(found[1]) if found and float(found[1]) > 0 else None), poles_found


def poles_in(cell: str) -> int:
    """Read a number of poles; 0 if the cell says none."""
    text = " ".join(cell.casefold().split())
    if text in ("1", "2", "3"):
        return int(text)
    found = _POLES.search(text)
    if found:
        return int(found[1] or found[2])
    return next((number for word, number in _WORDS_OF_POLES.items()
                 if re.search(rf"(?<![\w-]){word}(?![\w-])", text)), 0)


def leg_in(cell: str) -> tuple[Pole | None, bool]:
    """Read a leg, and whether the cell speaks of a third phase."""
    text = re.sub(r"\b(?:leg|phase|ph|bus|line)\b", " ", cell.casefold().replace("ø", " "))
    text = " ".join(re.sub(r"[\s,/&+]+", " ", text).split())
    return _LEGS.get(text) or _LEGS.get(text.replace(" ", "")), text in _THIRD


def volts_in(cell: str) -> float | None:
    """Read a voltage: the largest that stands there, ``120/240`` is 240."""
    found = [float(one) for one in re.findall(r"\d{2,3}(?:\.\d+)?", cell)]
    return max(found, default=None)


def positions_in(
    cell: str, most: int = 3
) -> tuple[tuple[int, ...], tuple[str, ...]] | None:
    """Read positions: ``1``, ``1,3``, ``2-4``, ``7A``; None where something else stands there."""
    text = re.sub(r"\b(?:ckt|circuit|no|space|pos)\b|[#.:]", " ", cell.casefold()).strip()
    text = re.sub(r"\.0+$", "", text)
    if not re.fullmatch(r"(?:\d{1,3}\s?[a-z]?[\s,/&+\-–;]*)+", text):
        return None
    found = _POSITIONS.findall(re.sub(r"(\d)\s([a-z])\b", r"\1\2", text))
    numbers = tuple(int(number) for number, _ in found)
    if len(numbers) > most or not all(numbers):
        return None
    return numbers, tuple(half for _, half in found)


def va_in(cell: str, factor: float | None) -> float | None:
    """Read a power [VA]; a bare number counts in the header's unit, else as VA where likely."""
    found = _POWER.fullmatch(" ".join(cell.casefold().split()))
    if found is None:
        return None
    value = float(found[1].replace(",", ""))
    if found[2]:
        return value * _FACTORS[found[2]]
    if factor is not None:
        return value * factor
    return value if value >= LEAST_BARE_VA or value == 0.0 else None


def panel_in(line: str) -> str:
    """Name of the panel that a title speaks of: ``Panel B``, ``PANEL: LP-1``; "" if of none."""
    found = re.search(r"\b(?:panel(?:board)?|load cent(?:er|re)|pnl)\b\s*"
                      r"(?:schedule|directory|name|no\b|id\b)?"
                      r"[\s.:#\"'=-]*([a-z0-9][\w-]{0,15})?", line, re.IGNORECASE)
    if found is None:
        return ""
    named = found[1] or ""
    ahead = re.search(r"\b(main|sub|garage|shop|guest|pool|barn|basement)[\s-]*(?:panel|load cent)",
                      line, re.IGNORECASE)
    is_name = re.fullmatch(r"[a-z]{1,3}\d*|\d{1,2}|[a-z]{1,3}-\d+|main|sub|garage|shop|barn",
                           named, re.IGNORECASE)
    if is_name and named.casefold() not in ("for", "at", "of", "in", "no", "is"):
        return named
    return ahead[1] if ahead else ""
