"""What a line of a list says of the house, not of something in it: its floor area, its service."""

from __future__ import annotations

import re

from planner.editing.values import Value

House = dict[tuple[str, str], Value]
_AREA = re.compile(r"(?<![\w.])(\d{1,2},?\d{3}|\d{3})\s*-?\s*(?:sq\.?\s*ft\.?|sqft|sf|ft2"
                   r"|square feet)(?!\w)", re.IGNORECASE)
_SERVICE = re.compile(r"(?<![\w.])(\d{2,3})\s*-?\s*(?:a|amps?)\s+(?:electric(?:al)?\s+)?"
                      r"(?:service|main(?: panel| breaker)?|panel)\b", re.IGNORECASE)
_WORDS = re.compile(r"\b(?:house|home|residence|dwelling|ranch|rambler|colonial|cape|bungalow"
                    r"|cottage|farmhouse|two[ -]story|2[ -]story|split[ -]level|stor(?:y|ies)"
                    r"|townhouse|duplex|built|bedrooms?)\b", re.IGNORECASE)
LEAST_HOUSE_FT2, LEAST_SERVICE_A = 400.0, 60.0
"""A smaller area beside a word of the house is a room's: chosen. NEC 230.79 (2017 to 2023), from
memory: no disconnect of a service is smaller, but for one or two circuits."""
_IDLE = re.compile(r"\b(?:disconnected|abandoned|removed|decommissioned"
                   r"|not (?:used|in use|connected)|no longer (?:used|in use|there)|unused"
                   r"|out of (?:service|use))\b", re.IGNORECASE)
_DECORATION = re.compile(r"\W*(?:(?:outdoor|outside)\s+)?(?:christmas|xmas|holiday)\s+"
                         r"(?:tree\s+)?(?:lights?|lighting|decorations?)\W*", re.IGNORECASE)


def is_idle(words: str) -> bool:
    """Whether words say that something is there no longer, or not connected."""
    return _IDLE.search(words) is not None


def is_decoration(words: str) -> bool:
    """Whether words mean lights of a season, which are of the lights of the house."""
    return _DECORATION.fullmatch(words) is not None
