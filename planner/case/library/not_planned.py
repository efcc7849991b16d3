"""What a house may have and the planner does not plan: said, never guessed."""

from __future__ import annotations

import re

_SOURCE = re.compile(r"\b(?:solar|photovoltaics?|pv|inverter system)\b", re.IGNORECASE)
_STORE = re.compile(r"\bbatter(?:y|ies)\b(?! charger)", re.IGNORECASE)
_MEND = ("Take it out. Its inverter stays open while the generator runs, unless its maker and the "
         "generator's say otherwise (NEC Article 705): it may push power into the generator.")


def not_planned(words: str) -> tuple[str, str] | None:
    """Say why something is not planned, and what to do; None for everything else.

    Parameters
    ----------
    words : str
        A kind, or a line of a list.
    """
    if _SOURCE.search(words):
        return "solar power is not planned: no plan counts on the sun.", _MEND
    if _STORE.search(words):
        return "a battery is not planned: no plan counts on what it holds.", _MEND
    return None
