"""Set points inside and extremes outside, as a family tells them."""

from __future__ import annotations

import re

from planner.editing.family.marks import Statement

COOLED_AT_DEGF = 73
"""From here on a set point of which nothing more is said is of cooling; common practice, no source.
"""
INSIDE_DEGF, COLDEST_DEGF, HOTTEST_DEGF = (45, 85), 40, (80, 125)
"""What may be a set point; what may be the coldest and the hottest outside (chosen)."""
NEAR, REACHES = 60, 14  # characters ahead of a number that tell of it
_BELOW = re.compile(r"\b(\d{1,2})\s*(?:degrees?\s*)?(?:f\s*)?below(?:\s+zero)?\b")
_DEGREES = re.compile(r"(?<![\w.$/])(-?\d{1,3})\s*(?:degrees?|deg|°)?\s*f?\b(?![\w/%]|[.,]\d)")
_TOLD = re.compile(r"degrees?|deg|°|f\b")
_COOL, _WARM = re.compile(r"\bcool|summer|a/?c\b|air"), re.compile(r"\bheat|winter|warm")
_CLOSE = re.compile(r"(heat|cool|winter|summer)\w*[\s:=-]*(?:at|to|is)?[\s:=-]*$")
_SEASON = re.compile(r"\s*(?:degrees\s+)?(?:(?:in|for|all)\s+)?(?:the\s+)?"
                     r"(summer|winter|cool|heat)")
_SET = re.compile(r"thermostat|tstat|set(?:\s+point| at|s? to)?\b|hold|we like it|kept at"
                  r"|(?:keep|kept) (?:it|the|us|set|at)")
_OUTSIDE = re.compile(r"cold|hot(?:test)?\b|reach|gets? (?:down|up|to)|outside|hit|lows?\b|highs?\b"
                      r"|below zero|january|july|august|winters?|summers?")
_REACHES = re.compile(r"reach|gets? (?:down|up|to)|hit")
_LEADS = re.compile(r"(?:reach(?:es)?|to|at|hits?|day:|of|around|about|is|near)\s*$")


def mark_temperatures(found: Statement) -> None:
    """Mark what is kept inside, and the extremes outside, once sizes are known."""
    found.take(_BELOW, "fact", lambda match: ("winter_design", f"-{match[1]} degF"))
    if not (_SET.search(found.text) or _OUTSIDE.search(found.text)):
        return
    kept: list[str] = []

    def read(match: re.Match[str]) -> tuple[str, str] | None:
        key = _key(found.text, match)
        if not key or key in kept:
            return None
        kept.append(key)
        return key, f"{int(match[1])} degF"

    found.take(_DEGREES, "fact", read)


def _key(text: str, match: re.Match[str]) -> str:
    """Which temperature of the house a number is; empty if it is none."""
    value, before = int(match[1]), text[max(0, match.start() - NEAR):match.start()]
    low, high = INSIDE_DEGF
    if _SET.search(text) and low <= value <= high and not _REACHES.search(before[-REACHES:]):
        cooling = _cools(text, before, text[match.end():], value)
        return "cooling_set_point" if cooling else "heating_set_point"
    if not (_TOLD.search(match[0]) or _LEADS.search(before)) or not _OUTSIDE.search(text):
        return ""
    if value <= COLDEST_DEGF:
        return "winter_design"
    low, high = HOTTEST_DEGF
    return "summer_design" if low <= value <= high else ""


def _cools(text: str, before: str, after: str, value: int) -> bool:
    """Whether a set point is of cooling, by the word that stands nearest."""
    close, season = _CLOSE.search(before), _SEASON.match(after)
    if close or season:
        word = close[1] if close else season[1] if season else ""
        return word in ("cool", "summer")
    last_cool, last_warm = _last(_COOL, before), _last(_WARM, before)
    if max(last_cool, last_warm) >= 0:
        return last_cool > last_warm
    if not (_COOL.search(text) or _WARM.search(text)):
        return value >= COOLED_AT_DEGF
    return _COOL.search(after[:25]) is not None


def _last(pattern: re.Pattern[str], text: str) -> int:
    return max((match.start() for match in pattern.finditer(text)), default=-1)
