"""Facts of the house in a statement: area, service, height, money, temperatures, fuel."""

from __future__ import annotations

import re

from planner.editing.family.figures import amount
from planner.editing.family.marks import Statement
from planner.editing.house_words import LEAST_HOUSE_FT2, LEAST_SERVICE_A

_AREA = re.compile(
    r"(?<![\w.])(\d{1,2},\d{3}|\d{3,5}|\d{1,2}(?:\.\d+)?(?=\s?k))\s*(k)?\s*-?\s*"
    r"(?:sq(?:uare|r)?\.?\s*-?\s*(?:ft|feet|foot|footage)|sqft|sf|ft2)\b"
    r"|\bsq(?:uare)?\.?\s*(?:ft|feet|footage)\s*(?:[^\d.]{0,28}?)\s*(\d{1,2},?\d{3}|\d{3})\b")
_ROOM = re.compile(r"radiant|heated floor|floor heat|snow|driveway|addition|garage is|basement is")
_SERVICE = re.compile(
    r"(?<![\w.])(\d{2,3})\s*-?\s*(?:a|amps?)\b\s+(?:electric(?:al)?\s+)?"
    r"(?:service|svc|serv\b|main(?:s)?(?: panel| breaker)?|panel)"
    r"|\b(?:service|svc|main(?: panel| breaker)?|house|panel)\b\s*(?:is|of|:|=|size)*\s*(?:an?\s+)?"
    r"(\d{2,3})\s*-?\s*(?:a|amps?)\b")
_BARE = re.compile(r"(?<=,)\s*([1-9]\d\d)\s*(?:a|amps?)(?=\s*(?:,|$))")
_HEIGHT = re.compile(
    r"\b(?:altitude|elevation|elev|(?:sits?|are|live|is|we're|it's|up|lies|house|cabin)\s+at)\b\D{0,14}?"
    r"(?<![\w.$])(\d{1,2},\d{3}|\d{3,5})\s*-?\s*(?:ft|feet|foot|')(?!\w)"
    r"|(?<![\w.$])(\d{1,2},\d{3}|\d{3,5})\s*-?\s*(?:ft|feet)\s+(?:up|elevation|altitude|above)\b"
    r"|,\s*at about (\d{1,2},\d{3}|\d{3,5}) (?:ft|feet)\b")
_MONEY = re.compile(
    r"(?:\b(?:budget|spend|afford|limit|max(?:imum)?|cap|pay|under|up to|no more than)\b"
    r"[^.\d$]{0,32}?)"
    r"(?:\$\s?|usd\s?)?(\d{1,3}(?:,\d{3})+|\d+(?:\.\d+)?)\s?(k)?\b(?!\s*-?\s*(?:w|watts?|kw|btuh?|k?btu|sq|sf|gal|ft|feet|a|amps?|hp|tons?|lbs?|psi)\b)"
    r"\s*(?:dollars|usd|bucks)?"
    r"|\$\s?(\d{1,3}(?:,\d{3})+|\d+(?:\.\d+)?)\s?(k)?\b"
    r"|(?<![\w.])(\d{1,3}(?:,\d{3})+|\d{4,6})\s*(?:dollars|usd|bucks)\b")
_ELECTRIC = re.compile(r"\b(?:electrics?|electrical|elec|electricity)\b"
                       r"(?!\s*(?:fence|storm|gate|bike|piano|guitar|blanket))")
_NO_GAS = re.compile(r"\bno\s+(?:natural\s+)?gas\b|\bnot? on gas\b|\bwithout gas\b")
_PROPANE = re.compile(r"\b(?:propane|lp|lpg|lp gas)\b")
_GAS = re.compile(r"\b(?:natural gas|nat\.? gas|natural|nat|ng)\b")
_TANK = re.compile(r"\b\d{2,4}\s*-?\s*gal(?:lons?)?\s+(?:propane\s+|lp\s+|underground\s+)*tanks?\b")
LEAST_HEIGHT_FT = 500.0
"""Fewer feet than those of the lowest contour that a family knows are a length (a choice)."""


def mark_facts(found: Statement) -> None:
    """Mark the facts of the house that a statement holds."""
    found.take(_TANK, "no load", lambda match: (
        "propane" if _PROPANE.search(match[0]) else "tank", None))
    found.take(_AREA, "fact", lambda match: _area(match, found))
    found.take(_SERVICE, "fact", _service)
    mark_bare_service(found)
    found.take(_MONEY, "fact", _money)
    found.take(_HEIGHT, "fact", _height)


def mark_bare_service(found: Statement) -> None:
    """Mark amperes that stand alone beside the floor area: ``2750 sf, 200 a, ng meter``."""
    if any(one.key == "floor_area" for one in found.marks):
        found.take(_BARE, "fact", lambda match: ("service", f"{match[1]} A"))


def _area(match: re.Match[str], found: Statement) -> tuple[str, str] | None:
    ft2 = amount(match[1] or match[3]) * (1000.0 if match[2] else 1.0)
    near = found.text[max(0, match.start() - 45):match.end() + 30]
    if ft2 < LEAST_HOUSE_FT2 or (_ROOM.search(near) and ft2 < 1000.0):
        return None
    return "floor_area", f"{ft2:.0f} ft^2"


def _service(match: re.Match[str]) -> tuple[str, str] | None:
    amperes = float(match[1] or match[2])
    return ("service", f"{amperes:g} A") if amperes >= LEAST_SERVICE_A else None


def _money(match: re.Match[str]) -> tuple[str, float] | None:
    said = match[1] or match[3] or match[5]
    usd = amount(said) * (1000.0 if match[2] or match[4] else 1.0)
    return ("budget", usd) if usd >= 1000.0 else None


def _height(match: re.Match[str]) -> tuple[str, str] | None:
    feet = amount(next(one for one in match.groups() if one))
    return ("altitude", f"{feet:.0f} ft") if feet >= LEAST_HEIGHT_FT else None


def mark_fuels(found: Statement) -> None:
    """Mark words for fuels; what there is none of is marked as such."""
    found.take(_NO_GAS, "no gas", lambda _: ("", None))
    found.take(_PROPANE, "fuel", lambda _: ("propane", None))
    found.take(_GAS, "fuel", lambda _: ("natural gas", None))
    found.take(re.compile(r"\bgas\b"), "fuel", lambda _: ("gas", None))
    found.take(_ELECTRIC, "fuel", lambda _: ("electric", None))
    found.take(re.compile(r"\b(?:oil)(?:[- ]fired)?\b"), "fuel", lambda _: ("oil", None))
