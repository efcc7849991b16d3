"""Field types of the files: each refuses in a sentence of its own and says what to write.

A field type is a plain type for the reader of the code and a validator for pydantic.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable
from typing import Annotated, Any

from pydantic import PlainValidator

from planner.case import bounds
from planner.case.bounds import LONGEST_NAME, LONGEST_TEXT, Bound
from planner.quoting import quoted
from planner.units import Quantity, parse

MOST_TO_GUESS_FROM = 400
"""Words among which the closest is looked for; among more it takes seconds and helps nobody."""
ROUNDING = 1e-9
"""Converting a bound into another unit may lose the last digit of it."""
_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


class Refused(ValueError):
    """A value that a field does not take: the sentence and the remedy."""

    def __init__(self, sentence: str, remedy: str = "") -> None:
        super().__init__(f"{sentence} {remedy}".strip())
        self.sentence = sentence
        self.remedy = remedy


def did_you_mean(found: str, allowed: Iterable[str]) -> str:
    """Suggest the closest of the allowed words; empty text if none is close."""
    words = list(allowed)
    if len(found) > LONGEST_NAME or len(words) > MOST_TO_GUESS_FROM:
        return ""
    folded = {word.casefold(): word for word in words}
    close = difflib.get_close_matches(found.casefold(), list(folded), n=1, cutoff=0.6)
    return f'Did you mean "{folded[close[0]]}"?' if close else ""


def quantity(*allowed: Bound) -> PlainValidator:
    """Take text with a unit, within the bound of its dimension."""
    return PlainValidator(lambda value: within(value, *allowed))


def within(value: object, *allowed: Bound) -> Quantity:
    """Read text with a unit, within the bound of its dimension."""
    dimensions = tuple(dict.fromkeys(bound.dimension for bound in allowed))
    found = parse(value, *dimensions, bounded=False)
    bound = next(one for one in allowed if found.is_compatible_with(one.ends[0]))
    _refuse_beyond(found, bound, quoted(value))
    return found


def _refuse_beyond(found: Quantity, bound: Bound, shown: str) -> None:
    unit = found.units
    number = float(found.magnitude)
    least, most = (float(end.m_as(unit)) for end in bound.ends)
    if number < 0.0 <= least:
        raise Refused(f"{shown} is negative.", "Write it without the minus sign.")
    said = f"{unit:~}".replace("pct", "%")
    if number < least * (1.0 - ROUNDING):
        raise Refused(f"{shown} is too low.", f"At least {least:.6g} {said}.")
    if not number <= most * (1.0 + ROUNDING):
        why = f", {bound.why}" if bound.why else ""
        raise Refused(f"{shown} is too high.", f"At most {most:.6g} {said}{why}.")


def choice(*allowed: str) -> PlainValidator:
    """Take one of a few words."""

    def read(value: object) -> str:
        if isinstance(value, str) and value in allowed:
            return value
        words = ", ".join(f'"{word}"' for word in allowed)
        hint = did_you_mean(str(value), allowed) if isinstance(value, str) else ""
        if isinstance(value, int | float) and quoted(value) in allowed:
            hint = f'Write "{value}", with quotation marks.'
        raise Refused(f"{quoted(value)} is not one of {words}.", hint)

    return PlainValidator(read)


def whole(low: int, high: int) -> PlainValidator:
    """Take a bare whole number between two bounds."""

    def read(value: object) -> int:
        if isinstance(value, int) and not isinstance(value, bool) and low <= value <= high:
            return value
        remedy = f"A whole number from {low} to {high} is expected, without quotation marks."
        raise Refused(f"{quoted(value)} is not allowed.", remedy)

    return PlainValidator(read)


def number(low: float, high: float) -> PlainValidator:
    """Take a bare number between two bounds, both allowed."""

    def read(value: object) -> float:
        if isinstance(value, int | float) and not isinstance(value, bool) and low <= value <= high:
            return float(value)
        remedy = f"A number from {low:g} to {high:g} is expected, without quotation marks."
        raise Refused(f"{quoted(value)} is not allowed.", remedy)

    return PlainValidator(read)


def _identifier(value: object) -> str:
    if isinstance(value, str) and len(value) <= LONGEST_NAME and _ID.fullmatch(value):
        return value
    remedy = "An id is small letters, digits and hyphens"
    plain = re.sub(r"[^a-z0-9]+", "-", quoted(value).casefold()).strip("-")
    tail = f', such as "{plain}".' if plain else f", at most {LONGEST_NAME} of them."
    raise Refused(f"{quoted(value)} is not an id.", remedy + tail)


def words(most: int) -> PlainValidator:
    """Take a text of at most so many characters, and give it on one line."""

    def read(value: object) -> str:
        line = " ".join(value.split()) if isinstance(value, str) else ""
        if not line or not isinstance(value, str):
            remedy = "Write some words between quotation marks."
            raise Refused(f"{quoted(value)} is not a text.", remedy)
        if "\0" in value:
            raise Refused(f"{quoted(value)} holds the character 0.", "Take it out.")
        if len(value) > most:
            raise Refused(f"{quoted(value)} has {len(value):,} characters.", f"At most {most:,}.")
        return line

    return PlainValidator(read)


def _truth(value: object) -> bool:
    if isinstance(value, bool):
        return value
    raise Refused(f"{quoted(value)} is not true or false.", "Write true or false, without marks.")


def checked(read: Callable[[Any], Any]) -> PlainValidator:
    """Make a field type of a function that returns the value or raises `Refused`."""
    return PlainValidator(read)


Id = Annotated[str, PlainValidator(_identifier)]
Words = Annotated[str, words(LONGEST_NAME)]
Text = Annotated[str, words(LONGEST_TEXT)]
Truth = Annotated[bool, PlainValidator(_truth)]

Rating = Annotated[Quantity, quantity(bounds.RATING)]
AnyDraw = Annotated[Quantity, quantity(bounds.DRAW_KW, bounds.DRAW_KVA, bounds.DRAW_A)]
DrawnCurrent = Annotated[Quantity, quantity(bounds.DRAW_A)]
Duration = Annotated[Quantity, quantity(bounds.WAIT)]
Temperature = Annotated[Quantity, quantity(bounds.TEMPERATURE)]
Duty = Annotated[Quantity, quantity(bounds.DUTY)]
Money = Annotated[Quantity, quantity(bounds.MONEY)]
