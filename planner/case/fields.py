"""Field types of the files: each refuses in a sentence of its own and says what to write.

A field type is a plain type for the reader of the code and a validator for pydantic.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable
from typing import Annotated, Any

from pydantic import PlainValidator

from planner.units import DIMENSIONS, Quantity, magnitude, parse, written

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
    folded = {word.casefold(): word for word in words}
    close = difflib.get_close_matches(found.casefold(), list(folded), n=1, cutoff=0.6)
    return f'Did you mean "{folded[close[0]]}"?' if close else ""


def shown(value: object) -> str:
    """Show a found value the way the file has it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    return f'"{value}"' if isinstance(value, str) else str(value)


def quantity(
    *dimensions: str,
    above: float | None = None,
    at_least: float | None = None,
    at_most: float | None = None,
) -> PlainValidator:
    """Take text with a unit; bounds are in the first dimension's own unit and hold for it alone."""
    unit = DIMENSIONS[dimensions[0]].unit

    def read(value: object) -> Quantity:
        found = parse(value, *dimensions)
        never_negative = above is not None or (at_least is not None and at_least >= 0.0)
        if never_negative and float(found.magnitude) < 0.0:
            raise Refused(f'"{value}" is negative.', "Write it without the minus sign.")
        if above == 0.0 and float(found.magnitude) == 0.0:
            raise Refused(f'"{value}" is zero.', "Write a value above 0, or leave the key out.")
        if found.is_compatible_with(parse(f"1 {unit}", dimensions[0])):
            number = magnitude(found, unit)
            if at_least is not None and number < at_least:
                raise Refused(f'"{value}" is too low.', f"At least {written(at_least, unit)}.")
            if at_most is not None and number > at_most:
                raise Refused(f'"{value}" is too high.', f"At most {written(at_most, unit)}.")
        return found

    return PlainValidator(read)


def choice(*allowed: str) -> PlainValidator:
    """Take one of a few words."""

    def read(value: object) -> str:
        if isinstance(value, str) and value in allowed:
            return value
        words = ", ".join(f'"{word}"' for word in allowed)
        hint = did_you_mean(str(value), allowed) if isinstance(value, str) else ""
        if isinstance(value, int | float) and not isinstance(value, bool) and str(value) in allowed:
            hint = f'Write "{value}", with quotation marks.'
        raise Refused(f"{shown(value)} is not one of {words}.", hint)

    return PlainValidator(read)


def whole(low: int, high: int) -> PlainValidator:
    """Take a bare whole number between two bounds."""

    def read(value: object) -> int:
        if isinstance(value, int) and not isinstance(value, bool) and low <= value <= high:
            return value
        remedy = f"A whole number from {low} to {high} is expected, without quotation marks."
        raise Refused(f"{shown(value)} is not allowed.", remedy)

    return PlainValidator(read)


def number_above(low: float) -> PlainValidator:
    """Take a bare number above a bound."""

    def read(value: object) -> float:
        if isinstance(value, int | float) and not isinstance(value, bool) and low < value < 1e9:
            return float(value)
        remedy = f"A number above {low:g} is expected, without quotation marks."
        raise Refused(f"{shown(value)} is not allowed.", remedy)

    return PlainValidator(read)


def _identifier(value: object) -> str:
    if isinstance(value, str) and _ID.fullmatch(value):
        return value
    plain = re.sub(r"[^a-z0-9]+", "-", str(value).casefold()).strip("-")
    remedy = "An id is small letters, digits and hyphens"
    raise Refused(f"{shown(value)} is not an id.", f'{remedy}, such as "{plain}".')


def _words(value: object) -> str:
    if isinstance(value, str) and value.strip():
        return value
    raise Refused(f"{shown(value)} is not a text.", "Write some words between quotation marks.")


def _truth(value: object) -> bool:
    if isinstance(value, bool):
        return value
    raise Refused(f"{shown(value)} is not true or false.", "Write true or false, without marks.")


def checked(read: Callable[[Any], Any]) -> PlainValidator:
    """Make a field type of a function that returns the value or raises `Refused`."""
    return PlainValidator(read)


Id = Annotated[str, PlainValidator(_identifier)]
Words = Annotated[str, PlainValidator(_words)]
Truth = Annotated[bool, PlainValidator(_truth)]

Power = Annotated[Quantity, quantity("power", above=0.0)]
ApparentPower = Annotated[Quantity, quantity("apparent power", above=0.0)]
Current = Annotated[Quantity, quantity("current", above=0.0)]
AnyDraw = Annotated[Quantity, quantity("power", "apparent power", "current", above=0.0)]
ShaftPower = Annotated[Quantity, quantity("shaft power", above=0.0)]
Duration = Annotated[Quantity, quantity("time", at_least=0.0)]
PositiveDuration = Annotated[Quantity, quantity("time", above=0.0)]
Area = Annotated[Quantity, quantity("area", at_least=0.0, at_most=100_000.0)]
Altitude = Annotated[Quantity, quantity("length", at_least=-300.0, at_most=15_000.0)]
Temperature = Annotated[Quantity, quantity("temperature", at_least=-80.0, at_most=140.0)]
Share = Annotated[Quantity, quantity("share", above=0.0, at_most=100.0)]
Money = Annotated[Quantity, quantity("money", at_least=0.0)]
