"""Figures of a statement: nameplates, breakers, sizes, years, counts."""

from __future__ import annotations

import re
from collections.abc import Callable

from planner.editing.family.marks import Statement
from planner.editing.values import Value

_AMOUNT = (r"\d+[ -]+[1-9]\d?/[1-9]\d?|[1-9]\d?/[1-9]\d?|\d{1,3}(?:,\d{3})+|\d+(?:\.\d+)?|\.\d+")
_UNITS = {
    "ton": r"tons?|t", "kW": r"kw|kilowatts?", "W": r"watts?|w", "gal": r"gal(?:lons?)?",
    "hp": r"hp|horse(?:\s?power)?", "kBtu/h": r"k\s?btu(?:/?h)?|mbh", "Btu/h": r"btus?(?:/?h)?",
    "ft^2": r"sq(?:uare)?\.?\s?(?:ft|feet|foot)|sqft|sf|ft2", "A": r"a|amps?|amperes?",
}
_SIZE = re.compile(
    rf"(?<![\w./$#])({_AMOUNT})\s*-?\s*(k(?=\s?btu))?\s*(?:"
    + "|".join(f"(?P<u{n}>{one})" for n, one in enumerate(_UNITS.values())) + r")\b(?!/)")
_SHORT = re.compile(r"(?<![\w.$])(\d{1,3})\s?k\b")
_PLATES = (
    ("mca", r"mca"), ("mop", r"mocp|mop|max\.?\s+(?:fuse|breaker|ocpd|overcurrent)(?:\s+size)?"),
    ("locked_rotor", r"lra|locked\s+rotor(?:\s+amps?)?"), ("running", r"rla|fla"),
)
_EACH = [(key, re.compile(rf"\b(?:{names})\b(?:\s+(?:on|from) the (?:tag|label|plate))?"
                          rf"\s*(?:is|of|:|=)?\s*(\d+(?:\.\d+)?)\s*(?:amps?|a)?\b"
                          rf"|(?<![\w.])(\d+(?:\.\d+)?)\s*(?:amps?|a)\s+(?:{names})\b"))
         for key, names in _PLATES]
_CODE = re.compile(r"\bcode\s+(?:letter\s+)?([a-hj-npr-v])\b")
_EER = re.compile(r"\beer\b\s*(?:is|of|:|=)?\s*(\d{1,2}(?:\.\d+)?)\b")
_YEAR = re.compile(r"\b(?:mfg|mfd|made|manufactured|installed|put in|new|from|replaced|year|dated?)"
                   r"\b[^.,;()]{0,12}?\b((?:19|20)\d\d)\b|\(\s*((?:19|20)\d\d)\s*\)"
                   r"|\b((?:19|20)\d\d)\s+(?:model|unit)\b|(?<=,\s)((?:19|20)\d\d)(?=\s*[,.])")
_BUILT = re.compile(r"\bbuilt\s+(?:in|around|about)?\s*(?:19|20)\d\d\b"
                    r"|\b(?:19|20)\d\d\s+build\b")
_VOLTS = re.compile(
    r"\b\d{3}(?:/\d{3})?\s?-?(?:v|volts?)\b|\b(?:1|3|single|three)[\s-]?ph(?:ase)?\b"
    r"|\b\d\d\s?hz\b|(?<!\w)\d\d\s?\"|\b\d+\s?(?:psi|gpm|rpm|seer2?|hspf|%)(?!\w)"
    r"|\b\d+\s?(?:years?|yrs?)\b")
_BREAKER = re.compile(
    r"(?:\b(?:it )?(?:is )?on (?:an?|its own)\s+|\bwith an?\s+|\bon\s+)?(?<![\w.])(\d{2,3})\s*-?\s*"
    r"(?:a|amps?)?\s*-?\s*(?:(?:2|1|two|double|single)[\s-]?pole\s+)?(?:breaker|circuit|brkr|cb)s?\b"
    r"|\bbreaker\s*(?:is|of|:|=)?\s*(\d{2,3})\s*(?:a|amps?)?\b"
    r"|\bon an? (\d{2,3})(?:\s*(?:a|amps?))?(?=\s*(?:[.,;)]|$|and\b))"
    r"|\b[12]\s?p\s?-?\s?(\d{2,3})\s?a?\b|\b(\d{2,3})\s?a?\s?/\s?[12]\s?p\b")
_COUNT = re.compile(
    r"\bqty\.?\s*:?\s*(\d{1,2})\b|\(\s*(\d{1,2})\s*x?\s*\)|(?<![\w.])x\s?(\d{1,2})\b(?![./\d])"
    r"|(?<![\w./,-])(\d{1,2})\s?x\b|\b(a pair(?: of)?|a couple(?: of)?|both)\b"
    r"|(?<![\w./,$#-])(?<!level\s)([1-9])(?!\d)(?![\w./%\"-]|,\d|\s*(?:story|stories|storey|door\b|stage|zone|speed"
    r"|floors?\b|levels?\b|people|bed|bath|degrees?|deg|below|f\b|pole|miles|years))")


def mark_figures(found: Statement) -> None:
    """Mark what a statement says of nameplates, breakers and sizes."""
    for pattern in (_VOLTS, _BUILT):
        found.take(pattern, "noise", lambda _: ("", None))
    for key, pattern in _EACH:
        found.take(pattern, "plate", _amperes(key))
    found.take(_CODE, "plate", lambda match: ("code_letter", match[1].upper()))
    found.take(_EER, "plate", lambda match: ("eer", float(match[1])))
    found.take(_YEAR, "plate", lambda match: ("year", int(_first(match))))
    found.take(_BREAKER, "plate", lambda match: ("breaker", f"{_first(match)} A"))
    found.take(_SIZE, "size", _size)


def _amperes(key: str) -> Callable[[re.Match[str]], tuple[str, Value]]:
    return lambda match: (key, f"{_first(match)} A")


def mark_short_sizes(found: Statement) -> None:
    """Mark ``80k`` of what heats or cools, once kinds are known: thousands of Btu/h."""
    found.take(_SHORT, "size", lambda match: ("", (1000.0 * float(match[1]), "Btu/h")))


def mark_counts(found: Statement) -> None:
    """Mark what may be counts, once all other figures are known."""
    found.take(_COUNT, "count", lambda match: ("", _count(_first(match))))


def amount(text: str) -> float:
    """Read ``1 1/2``, ``1/3``, ``1,500`` or ``.5``."""
    if "/" in text:
        *whole, part = re.split(r"[ -]+", text)
        top, bottom = part.split("/")
        return float(whole[0] if whole else 0) + float(top) / float(bottom)
    return float(text.replace(",", ""))


def _size(match: re.Match[str]) -> tuple[str, tuple[float, str]] | None:
    number = next(n for n in range(len(_UNITS)) if match[f"u{n}"])
    unit = list(_UNITS)[number]
    value = amount(match[1])
    if match[2]:
        value, unit = 1000.0 * value, "Btu/h"
    if match[f"u{number}"] == "t" and "/" in match[1]:
        return None
    return "", (value, unit)


def _count(said: str) -> int:
    return 2 if not said.isdigit() else int(said)


def _first(match: re.Match[str]) -> str:
    return next(group for group in match.groups() if group)
