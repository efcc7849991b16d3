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
_FIGURE = re.compile(
    r"(?:[\w'-]+\s+){0,3}\b(?P<number>\d+(?:\.\d+)?)\s*-?\s*(?:miles?|mi|days?|hours?|hrs?|ft|feet"
    r"|showers?|minutes?|meals?)\b(?:\s+[\w':-]+){0,4}")
"""A figure of which nothing was made: a promise, a distance, how long."""
_MANY_WORDS, A_SENTENCE, SHORTEST = 6, 6, 3


def left_over(told: Understood) -> list[tuple[int, str]]:
    """Phrases that may be things, each with its line."""
    found = []
    for here in told.statements:
        figures = _figures(here)
        for start, end in here.segments():
            figure = next((said for at, said in figures if start <= at < end), "")
            phrase = figure or _phrase(here, start, end)
            if phrase:
                found.append((here.line, phrase))
    return list(dict.fromkeys(found))


def _phrase(here: Statement, start: int, end: int) -> str:
    if TAKEN in here.left[start:end]:
        return ""
    words = " ".join(here.left[start:end].split()).strip(" .!?\"'-:")
    there = _THERE.match(words)
    phrase = there["thing"].strip() if there else words
    thing = _PLACE.sub("", phrase).strip()
    return phrase if _is_a_thing(here, thing, named=there is not None) else ""


def _figures(here: Statement) -> list[tuple[int, str]]:
    """Figures of which nothing was made, with the words around them, and where they begin."""
    found = []
    for match in _FIGURE.finditer(here.text):
        at = match.start("number")
        if all(one.what == "count" for one in here.marks if one.start <= at < one.end):
            found.append((match.start(), " ".join(match[0].split())))
    return found


def _is_a_thing(here: Statement, thing: str, *, named: bool) -> bool:
    """Whether words name something, rather than tell or greet."""
    parts = re.findall(r"[a-z][a-z'-]*", thing)
    talk = all(part in small_talk() or len(part) < SHORTEST for part in parts)
    alone = len(parts) == 1 and not named and len(here.text.split()) > A_SENTENCE
    many = not named and len(parts) > _MANY_WORDS
    return not (talk or alone or many or _VERB.search(thing))


def share_of_english(told: Understood) -> float:
    """Share of the longer words of a text that are English."""
    words = [word for here in told.statements for word in re.findall(r"[a-z]{4,}", here.left)]
    return sum(map(is_english, words)) / len(words) if words else 1.0
