"""How a file writes a promise: "60 degF", "no meal cut", "40 mi by 7:00", "food safe", "none"."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

from planner.case import bounds
from planner.case.fields import Refused, within
from planner.facts.comfort import Comfort, ComfortKind, Promise
from planner.quoting import quoted
from planner.units import LONGEST, magnitude

_SHOWERS = re.compile(r"(?:no|at most (\d{1,2})) cold showers?", re.IGNORECASE)
_MILES = re.compile(r"(\d+(?:\.\d+)?) ?(?:mi|miles) by (\d{1,2}):(\d{2})", re.IGNORECASE)
_UNCUT = re.compile(r"never cut|no (?:meal|wash|task) cut", re.IGNORECASE)
_SAFE = re.compile(r"(?:food )?safe|never (?:full|dry)", re.IGNORECASE)
_DEGREES = re.compile(r"\s*-?[\d.,]+\s*(?:deg ?)?[FC]?\s*", re.IGNORECASE)
SAMPLES: Mapping[ComfortKind, str] = MappingProxyType({
    "room": '"60 degF", "82 degF", or both in brackets',
    "hot water": '"no cold shower" or "at most 1 cold shower"',
    "meals": '"no meal cut"', "task": '"never cut"', "car": '"40 mi by 7:00"',
    "food": '"food safe"', "running water": '"never dry"', "pit": '"never full"',
})
"""What may be promised of each kind of comfort, as a file writes it; of a clock comfort nothing."""
MOST_MILES = 200.0
"""In a car: a large battery of 60 kWh at 0.3 kWh a mile (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class SaidPromise:
    """One promise as a file says it: a temperature, or the kinds it suits and what it promises."""

    text: str
    degf: float | None = None
    kinds: tuple[ComfortKind, ...] = ()
    promise: Promise | None = None

    @property
    def is_none(self) -> bool:
        """Whether it takes promises away: ``none``."""
        return self.degf is None and self.promise is None


def promises(value: object) -> tuple[SaidPromise, ...]:
    """Read a promise, or a list of them."""
    texts = value if isinstance(value, list) else [value]
    if not texts:
        raise Refused("[] promises nothing.", 'Write "none", or leave it out.')
    found = tuple(map(_said, texts))
    if len(found) > 1 and any(one.is_none for one in found):
        raise Refused(f"{quoted(value)} promises something and nothing.", 'Write "none" alone.')
    return found


def _said(value: object) -> SaidPromise:
    text = " ".join(value.split()) if isinstance(value, str) and len(value) <= LONGEST else ""
    if text.casefold() == "none":
        return SaidPromise(text)
    if (found := _SHOWERS.fullmatch(text)) is not None:
        return SaidPromise(text, None, ("hot water",), Promise(cold_showers=float(found[1] or 0)))
    if (found := _MILES.fullmatch(text)) is not None:
        return SaidPromise(text, None, ("car",), _miles(text, found))
    if _UNCUT.fullmatch(text):
        return SaidPromise(text, None, ("meals", "task"), Promise(uncut=True))
    if _SAFE.fullmatch(text):
        return SaidPromise(text, None, ("food", "running water", "pit"), Promise(safe=True))
    if _DEGREES.fullmatch(text):
        return SaidPromise(text, _degf(value))
    raise Refused(f"{quoted(value)} is no promise.",
                  f"Write for example {', '.join(dict.fromkeys(SAMPLES.values()))}, or \"none\".")


def _degf(value: object) -> float:
    return magnitude(within(value, bounds.PROMISED), "degF")


def _miles(text: str, found: re.Match[str]) -> Promise:
    miles, hour, minute = float(found[1]), int(found[2]), int(found[3])
    if hour > 23 or minute > 59:
        raise Refused(f"{quoted(text)} names no time of day.", "Hours run from 0:00 to 23:59.")
    if not 0.0 < miles <= MOST_MILES:
        raise Refused(f"{quoted(text)} is beyond a car's range.", f"At most {MOST_MILES:g} mi.")
    return Promise(miles=miles, by_h=hour + minute / 60.0)


def promised(
    comfort: Comfort, said: Sequence[SaidPromise], default: Promise | None,
    tell: Callable[[str, str], None],
) -> Promise | None:
    """Give what is promised of a comfort: what the file says, and for the rest the default.

    Parameters
    ----------
    comfort : Comfort
        Its kind says what may be promised, its set points on which side a temperature lies.
    said : sequence of SaidPromise
        As the file has it.
    default : Promise or None
        What is promised where the file says nothing.
    tell : callable
        Takes a sentence and a remedy for each that does not suit.
    """
    result = default
    if any(one.is_none for one in said):
        return None
    for one in said:
        if (one.degf is not None) != (comfort.kind == "room") or (
                one.degf is None and comfort.kind not in one.kinds):
            tell(f"{quoted(one.text)} cannot be promised of {_what(comfort.kind)}.",
                   f"Write {SAMPLES[comfort.kind]}." if comfort.kind in SAMPLES
                   else "Write must_run = true on what must always be served.")
        elif one.degf is not None:
            result = _bounded(comfort, one, result or Promise(), tell)
        else:
            result = one.promise
    sides = [one.degf <= comfort.heating_set_degf for one in said if one.degf is not None]
    if len(sides) != len(set(sides)):
        tell("two temperatures bound the same side of a room.",
               "Give one below and one above its set points.")
    return result


def _bounded(
    room: Comfort, said: SaidPromise, promise: Promise, tell: Callable[[str, str], None],
) -> Promise:
    degf = said.degf or 0.0
    if degf <= room.heating_set_degf:
        return replace(promise, coldest_degf=degf)
    if degf >= room.cooling_set_degf:
        return replace(promise, warmest_degf=degf)
    low, high = f"{room.heating_set_degf:g}", f"{room.cooling_set_degf:g} degF"
    tell(f"{quoted(said.text)} lies between the set points, {low} and {high}: no thermostat "
           "holds it.",
           f"Write at most {low} degF for the coldest, at least {high} for the warmest.")
    return promise


def _what(kind: ComfortKind) -> str:
    return {"room": "a room", "meals": "meals", "task": "work with a deadline", "car": "a car",
            "pit": "a pit", "clock": "what is wanted by the hour"}.get(kind, kind)
