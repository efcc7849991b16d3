"""Sizes and nameplates, given to the things that they are about."""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.editing.family.counting import times
from planner.editing.family.fits import comes_in, size_for
from planner.editing.family.marks import Mark, Statement
from planner.editing.family.mentions import NOTHING, Mention
from planner.editing.family.near import near

_UNIT = re.compile(r"^\W*(?:unit|no|number|condenser|#)\s*#?\s*(\d)\b")
_THOUGHT = re.compile(r"\b(?:thought|think|said|guess(?:ed)?)\b.*\b(?:but|actually|no|sorry)\b")


def size(here: Statement, made: Sequence[Mention], before: Sequence[Mention]) -> None:
    """Give the figures of a statement to its things; to the last one before if it has none.

    Where it begins with the number of a unit they are of that unit alone.
    """
    known = _UNIT.match(here.text) if not made else None
    unit = int(known[1]) if known else 0
    last = list(before[-1:]) if not made else []
    for mark in here.of("plate"):
        about = [one for one in near(here, made, mark.start)
                 if one.kind != NOTHING or one.gone] or last
        if about and not isinstance(mark.value, tuple) and mark.value is not None:
            places = about[0].units.setdefault(unit, []) if unit else about[0].plate
            places.append((mark.key, mark.value))
    for mark in here.of("size"):
        _size_one(here, made, mark, near(here, made, mark.start) or last, unit)
    for one in made:
        _settle(here, one)


def _size_one(
    here: Statement, made: Sequence[Mention], mark: Mark, about: Sequence[Mention], unit: int
) -> None:
    if not isinstance(mark.value, tuple):
        return
    value, of = mark.value
    fitting = next((one for one in about if comes_in(one.kind, of)
                    or size_for(one.kind, value, of) is not None), None)
    if fitting is None or _of_no_load(here, about[0], fitting, mark):
        return
    if unit:
        keyed = size_for(fitting.kind, value, of)
        fitting.units.setdefault(unit, []).extend([keyed] if keyed else [])
        return
    if not made and any(known == value for known, _ in fitting.sizes):
        return  # the one of that size is spoken of
    number = times(here, made, mark)
    fitting.sizes += [(value, of)] * number
    fitting.shared = fitting.shared or number > 1
    if fitting.shared:
        fitting.count = len(fitting.sizes)


def _of_no_load(here: Statement, first: Mention, fitting: Mention, mark: Mark) -> bool:
    """Whether a size is that of something beside it that is no load."""
    return first is not fitting and first.kind == NOTHING and (
        here.segment_of(first.start) == here.segment_of(mark.start))


def _settle(here: Statement, one: Mention) -> None:
    """Several sizes of one thing are several things, or a second thought."""
    alike = [known for known in one.sizes if known[1] == one.sizes[0][1]]
    if len(alike) > 1 and one.count == 1 and _THOUGHT.search(here.text):
        one.sizes = alike[-1:]
    elif len(set(alike)) > 1 and not one.counted:
        one.count = len(alike)
