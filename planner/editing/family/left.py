"""What is left over of a text: what looks like a thing in the house and was not understood."""

from __future__ import annotations

import re

from planner.editing.family.marks import TAKEN, Statement
from planner.editing.family.names import small_talk
from planner.editing.family.text import is_english
from planner.editing.family.understand import Understood

_THERE = re.compile(r"^\s*(?:there(?:'s| is| are)|we (?:have|own|got)|i have|has|have|plus|and"
                    r"|also)?\s*"
                    r"(?:an?|the|my|our|some|another|\d+)\s+(?P<thing>[\w\s'-]+)$")
_VERB = re.compile(r"\b(?:i|we|you|he|she|they|it|is|are|was|were|be|been|do|does|did|will|would"
                   r"|can|could|should|has|have|had|let|want|think|says?|said|get|gets|go|goes|lose"
                   r"|know|asked|write|thank|thanks|need|needs|comes?|like|live|lives|work)\b")
_PLACE = re.compile(r"\b(?:in|on|at|for|from|to|of|by|under|over|near|next to|behind)\b.*$")
_MANY_WORDS = 6


def left_over(told: Understood) -> list[tuple[int, str]]:
    """Phrases that may be things, each with its line."""
    found = []
    for here in told.statements:
        for start, end in here.segments():
            phrase = _phrase(here, start, end)
            if phrase:
                found.append((here.line, phrase))
    return list(dict.fromkeys(found))


def _phrase(here: Statement, start: int, end: int) -> str:
    if TAKEN in here.left[start:end]:
        return ""
    words = " ".join(here.left[start:end].split()).strip(" .!?\"'-:")
    there = _THERE.match(words)
    thing = there["thing"] if there else words
    thing = _PLACE.sub("", thing).strip()
    parts = re.findall(r"[a-z][a-z'-]*", thing)
    if not parts or all(part in small_talk() for part in parts):
        return ""
    if there is None and (_VERB.search(thing) or len(parts) > _MANY_WORDS):
        return ""
    if _VERB.search(thing):
        return ""
    if all(len(part) < 3 for part in parts):
        return ""
    return thing


def share_of_english(told: Understood) -> float:
    """Share of the longer words of a text that are English."""
    words = [word for here in told.statements for word in re.findall(r"[a-z]{4,}", here.left)]
    return sum(map(is_english, words)) / len(words) if words else 1.0
