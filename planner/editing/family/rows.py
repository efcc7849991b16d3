"""From what was understood to rows of loads: units told apart, sizes shared out."""

from __future__ import annotations

import re

from planner.editing.everyday import in_stages
from planner.editing.family.fits import size_for
from planner.editing.family.marks import TAKEN
from planner.editing.family.mentions import Mention
from planner.editing.values import Value

IMPORTANCE = {"matters most": 5, "can wait": 1, "don't care": 0}
"""Of 0 to 5; what can wait matters, but less than all else (common practice, no source)."""


def rows_of(one: Mention) -> list[dict[str, Value]]:
    """Write a thing as loads, one for each unit; electric heat in its stages."""
    return [row for number in range(one.count) for row in in_stages(_row(one, number))]


def _row(one: Mention, number: int) -> dict[str, Value]:
    label = label_of(one)
    row: dict[str, Value] = {"kind": one.kind, "label": label if one.count == 1
                             else f"{label} {number + 1}"}
    for amount, unit in _sizes(one, number):
        keyed = size_for(one.kind, amount, unit)
        if keyed is not None:
            row.setdefault(*keyed)
    for key, value in one.units.get(number + 1, []):
        row[key] = value
    shared = [entry for entry in one.plate if [key for key, _ in one.plate].count(entry[0]) == 1]
    for key, value in shared:
        row.setdefault(key, value)
    for key in dict.fromkeys(key for key, _ in one.plate):
        several = [value for other, value in one.plate if other == key]
        if len(several) == one.count and one.count > 1:
            row[key] = several[number]
        elif len(several) > 1:
            row.setdefault(key, several[0])
    if one.wish == "must run":
        row["must_run"] = True
    elif one.wish is not None:
        row["importance"] = IMPORTANCE[one.wish]
    return row


def _sizes(one: Mention, number: int) -> list[tuple[float, str]]:
    """The sizes of one unit: its own where each has one."""
    first = [size for size in one.sizes if size[1] == one.sizes[0][1]]
    if one.count > 1 and len(first) == one.count:
        return [first[number], *(size for size in one.sizes if size not in first)]
    return list(one.sizes)


def label_of(one: Mention) -> str:
    """What a thing is called: the family's own words for it, with where it is."""
    here = one.place
    start, end = here.segments()[here.segment_of(one.start)]
    before = _NEAR_BEFORE.search(here.left[start:one.start])
    behind = _BRACKET.match(here.left[one.end:]) or _NEAR_BEHIND.match(here.left[one.end:end])
    name = one.words.removesuffix("s") if one.count > 1 else one.words
    parts = (before[0] if before else "", name, behind[0] if behind else "")
    words = " ".join(" ".join(parts).replace(TAKEN, " ").split())
    words = re.sub(r"\(\s*[,;]?\s*", "(", re.sub(r"[\s,;]*\)", ")", words))
    words = words.replace("()", "").strip()
    words = _ACRONYM.sub(lambda match: match[0].upper(), words)
    return words[:1].upper() + words[1:]


_WHERE = ("upstairs|downstairs|upper|lower|first|second|third|main|floor|garage|basement|kitchen"
          "|attic|master|bedroom|guest|front|back|east|west|north|south|left|right|big|small|old"
          "|new|shop|barn|office|den|bar|living|dining|room|house|mom's|dad's|bonus|up|down|outdoor"
          "|hall|laundry|cellar|porch|bath|bathroom|pantry|crawlspace|closet|unit|spare")
_NEAR_BEFORE = re.compile(rf"(?:\b(?:{_WHERE})\b\s+)+$")
_NEAR_BEHIND = re.compile(rf"(?:\s+(?:in|on|for)?(?:\s?the)?\s*\b(?:{_WHERE})\b)+")
_BRACKET = re.compile(r"\s*\([^()]{1,30}\)")
_ACRONYM = re.compile(r"\b(?:ac|a/c|ev|evse|tv|tvs|cpap|dw|mw|wh|hwh|hpwh|erv|hrv|cac|pc)\b")
