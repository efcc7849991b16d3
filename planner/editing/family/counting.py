"""How many there are of each thing."""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.editing.family.marks import TAKEN, Mark, Statement
from planner.editing.family.mentions import Mention
from planner.editing.family.near import next_to

USUAL_FLOORS = 2
MOST = 20  # of a thing: a larger number is no count (a choice)
_FLOORS = re.compile(r"\b(\d)[\s-]*(?:stor(?:e?y|ies|eys)|floors?|levels?)\b")
_EVERY_FLOOR = re.compile(
    r"\b(?:for|on|per|to) (?:each|every|both) (?:floor|level|story|stories|floors)"
    r"|\b(?:per|a) floor\b")
_ENDS = re.compile(r"\s*(?:$|[,;.)@]|and\b|ea\b|each\b|of them|units?\b)")
_JOINS = re.compile(r"s?\s*(?:[,:(-]|\bqty\b)?\s*")
_EACH = re.compile(r"\b(?:each|apiece)\b")
_EACH_ITS = re.compile(
    r"\beach (?:with|has|having)\b(?: (?:its|their) own| an?)?\s*(?:[\w-]+\s+){0,2}$")
_DOORS = re.compile(r"\b(\d)\s+(?:[a-z]+\s+)?(?:doors|bays)\b")
_ONE = re.compile(r"\bone\s+(?:[\w-]+\s+){0,2}$")
_ONE_MORE = re.compile(r"\b(?:one|1|another)\b(?!\s*(?:is|of|pole))")
_OWN_ONE = re.compile(r"\b(?:one|another)\s+(?:[\w.\x00-]+\s+){0,4}$")
_OF_THEM = re.compile(r"\bof (?:them|which)\b(?: are)?")
_SECOND_ONE = re.compile(
    r"^\s*,?\s*(?:and\s+|with\s+)?(?:a\s+)?(?:second|another|other)\s+one\b")
_GAP = 3  # words between a number and what it counts


def floors_of(text: str) -> int:
    """How many floors a house has; two if nothing is said."""
    known = _FLOORS.search(text)
    return int(known[1]) if known else USUAL_FLOORS


def count(here: Statement, made: Sequence[Mention], floors: int) -> None:
    """Give the things of a statement their counts."""
    for mark in here.of("count"):
        number = _number(mark)
        one = _counted(here, made, mark)
        if one is not None and number == 0:
            one.gone = True
        elif one is not None and number <= MOST:
            one.count, one.counted = number, True
    for at, one in enumerate(made):
        told = None if one.counted else _in_words(here, made, at, floors)
        if told is not None:
            one.count, one.counted = told, True


def times(here: Statement, made: Sequence[Mention], mark: Mark) -> int:
    """How many there are of one size: ``three 6,000 btu, one 12,000 btu``."""
    segment = here.segment_of(mark.start)
    if any(here.segment_of(one.start) == segment for one in made):
        return 1
    for one in here.of("count"):
        gap = here.text[one.end:mark.start]
        if one.end <= mark.start and not _OF_THEM.sub("", gap).strip():
            return _number(one)
    return 1


def _number(mark: Mark) -> int:
    return int(mark.value) if isinstance(mark.value, int) else 1


def _in_words(
    here: Statement, made: Sequence[Mention], at: int, floors: int
) -> int | None:
    """What words around a thing say: ``for each floor``, ``one upstairs and one downstairs``."""
    one = made[at]
    tail = here.text[one.end:made[at + 1].start if at + 1 < len(made) else None]
    head = here.text[made[at - 1].end if at else 0:one.start]
    each = _EACH.search(tail)
    found = None
    if _SECOND_ONE.search(tail):
        found = 2
    elif _EACH_ITS.search(head) and at > 1:
        alike = [other for other in made[:at] if other.kind == made[at - 1].kind]
        found = max(len(alike), made[at - 1].count)
    elif _EVERY_FLOOR.search(tail):
        found = floors
    elif each and at and made[at - 1].counted and "with" in head:
        found = made[at - 1].count
    elif each and (doors := _DOORS.search(head)):
        found = int(doors[1])
    elif _ONE.search(head) and (more := _ONE_MORE.findall(
            _OWN_ONE.sub("", tail.split(".")[0]))):
        found = 1 + len(more)
    return found


def _counted(here: Statement, made: Sequence[Mention], mark: Mark) -> Mention | None:
    """The thing that a number counts."""
    ahead, behind = next_to(made, mark.start, mark.end)
    said = here.text[mark.start:mark.end]
    beside = behind is not None and here.segment_of(behind.start) == here.segment_of(mark.start)
    if ahead is not None:
        joined = _JOINS.fullmatch(here.left[ahead.end:mark.start].replace(TAKEN, " "))
        ends = _ENDS.match(here.left[mark.end:].replace(TAKEN, " "))
        in_brackets = said.startswith("(") and not here.text[ahead.end:mark.start].strip()
        if in_brackets or (joined and ends and not (beside and "x" not in said)):
            return ahead
    if behind is None or not (beside or said == "both" or said.startswith("(")):
        return None
    words = here.between(mark.end, behind.start).replace("(", " ").replace(")", " ").split()
    listed = {"and", "or"} & set(words)
    return behind if not listed and (len(words) <= _GAP or said == "both") else None
