"""What a line of a list says of a nameplate: ``LRA 109``, ``24 A MCA``, ``50 A breaker``."""

from __future__ import annotations

import re

from planner.editing.values import Value

_KEYS = {"lra": "locked_rotor", "mca": "mca", "rla": "running", "fla": "running", "mop": "mop",
         "mocp": "mop", "breaker": "breaker"}
_NAMES = "|".join(_KEYS)
_AMPERES = r"(\d+(?:\.\d+)?)\s*(?:a|amps?|amperes?)?"
_BEHIND = re.compile(rf"\b({_NAMES})\b\s*[:=]?\s*{_AMPERES}\b", re.IGNORECASE)
_AHEAD = re.compile(rf"(?:\b(?:on|with) an? )?\b{_AMPERES}\s*\b({_NAMES})\b", re.IGNORECASE)
_MUST = re.compile(r"\bmust(?:[ -]run|[ -](?:always[ -])?work)\b[!.]*", re.IGNORECASE)
_EER = re.compile(r"\beer\b\s*[:=]?\s*(\d{1,2}(?:\.\d+)?)\b", re.IGNORECASE)
_YEAR = re.compile(r"\b(?:year|made in|installed(?: in)?|built in)\s+((?:19|20)\d\d)\b",
                   re.IGNORECASE)
_REST = re.compile(r"\bnameplate\b|\(\s*\)", re.IGNORECASE)


def plate_of(line: str) -> tuple[str, dict[str, Value]]:
    """Take what a nameplate says out of a line.

    Returns
    -------
    tuple
        The line without it, and keys of the load: currents as ``109 A``, ``must_run``.
    """
    keys: dict[str, Value] = {}

    def behind(match: re.Match[str]) -> str:
        keys.setdefault(_KEYS[match[1].casefold()], f"{match[2]} A")
        return " "

    def ahead(match: re.Match[str]) -> str:
        keys.setdefault(_KEYS[match[2].casefold()], f"{match[1]} A")
        return " "

    rest = _AHEAD.sub(ahead, _BEHIND.sub(behind, line))
    for key, pattern, number in (("eer", _EER, float), ("year", _YEAR, int)):
        if found := pattern.search(rest):
            keys[key] = number(found[1])
            rest = pattern.sub(" ", rest, count=1)
    if _MUST.search(rest):
        keys["must_run"] = True
        rest = _MUST.sub(" ", rest)
    return (_REST.sub(" ", rest) if keys else rest), keys
