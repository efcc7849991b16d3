"""Which of the things in a statement a figure or a word is about."""

from __future__ import annotations

from collections.abc import Sequence

from planner.editing.family.marks import Statement
from planner.editing.family.mentions import Mention


def near(here: Statement, made: Sequence[Mention], place: int) -> list[Mention]:
    """The things a figure may be about: of its segment by distance, those before, those behind."""
    segment = here.segment_of(place)
    inside = [one for one in made if here.segment_of(one.start) == segment]
    inside.sort(key=lambda one: 0 if leads_to(here, place, one) else min(
        abs(place - one.end), abs(one.start - place)) + 1)
    ahead = [one for one in reversed(made) if one.end <= place and one not in inside]
    behind = [one for one in made if one.start > place and one not in inside]
    return [*inside, *ahead, *behind]


def leads_to(here: Statement, place: int, one: Mention) -> bool:
    """Whether a figure stands right before a thing: ``15 kW of strip heat``."""
    return one.start > place and here.between(place, one.start) in ("", "of")


def only_signs(here: Statement, start: int, end: int) -> bool:
    """Whether nothing but signs stands between two places."""
    return start <= end and not any(sign.isalnum() for sign in here.between(start, end))


def next_to(made: Sequence[Mention], start: int, end: int) -> tuple[Mention | None, Mention | None]:
    """The last thing ahead of a place, and the first one behind it."""
    return (next((one for one in reversed(made) if one.end <= start), None),
            next((one for one in made if one.start >= end), None))
