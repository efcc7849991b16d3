"""How a file writes use: events as "18:00 + 45 min", duty as 24 shares, calls as 96 marks."""

from __future__ import annotations

import re
from typing import Annotated, Literal

from pydantic import Field

from planner.case import bounds
from planner.case.fields import Duty, Refused, Temperature, checked, choice, quantity
from planner.case.messages import Strict
from planner.facts.home import SLOTS_PER_DAY, Use
from planner.quoting import quoted
from planner.units import LONGEST, Quantity, magnitude, parse

_EVENT = re.compile(r"\s*(\d{1,2}):(\d{2})\s*\+\s*(.+?)\s*")
_EVENT_SAMPLE = 'Write for example "18:00 + 45 min".'


def _event(value: object) -> tuple[float, float]:
    is_short = isinstance(value, str) and len(value) <= LONGEST
    match = _EVENT.fullmatch(value) if isinstance(value, str) and is_short else None
    if match is None:
        raise Refused(f"{quoted(value)} is not an event.", _EVENT_SAMPLE)
    hour, minute = int(match[1]), int(match[2])
    if hour > 23 or minute > 59:
        raise Refused(f"{quoted(value)} starts at no time of day.",
                      "Hours run from 00:00 to 23:59.")
    length_h = magnitude(parse(match[3], "time"), "h")
    start_h = hour + minute / 60.0
    if length_h <= 0.0:
        raise Refused(f"{quoted(value)} has no length.", _EVENT_SAMPLE)
    if start_h + length_h > 24.0 + 1e-9:
        remedy = "Split it: one event up to 24:00, one from 00:00."
        raise Refused(f"{quoted(value)} runs past midnight.", remedy)
    return start_h, length_h


def _hours(value: object) -> tuple[float, ...]:
    if not isinstance(value, list) or len(value) != 24:
        found = f"{len(value)} shares" if isinstance(value, list) else quoted(value)
        raise Refused(f"{found} found where 24 are expected.", "Write one share for each hour.")
    for share in value:
        number = isinstance(share, int | float) and not isinstance(share, bool)
        if not number or not 0.0 <= share <= 1.0:
            raise Refused(f"{quoted(share)} is not a share of an hour.", "Shares run from 0 to 1.")
    return tuple(float(share) for share in value)


def _calls(value: object) -> str:
    if not isinstance(value, str) or not set(value) <= {"0", "1"}:
        raise Refused(f"{quoted(value)} is not a row of calls.", "Write 96 marks, each 0 or 1.")
    if len(value) != SLOTS_PER_DAY:
        sentence = f"{len(value)} marks found where {SLOTS_PER_DAY} are expected."
        raise Refused(sentence, "Write one mark for each 15 minutes of the day.")
    return value


UseKind = Literal["always", "never", "duty", "events", "cooling", "heating", "calls"]
NEEDS = {"duty": "hours", "events": "events", "calls": "calls"}
TAKES = {
    "always": (), "never": (), "events": ("events",), "calls": ("calls",),
    "duty": ("hours", "offset"),
    "cooling": ("balance", "design", "full_duty", "offset"),
    "heating": ("balance", "design", "full_duty", "offset"),
}


class UseEntry(Strict):
    """When a load calls on one design day, as the file writes it."""

    kind: Annotated[UseKind, choice(*TAKES)]
    hours: Annotated[tuple[float, ...], checked(_hours)] | None = None
    events: list[Annotated[tuple[float, float], checked(_event)]] | None = None
    calls: Annotated[str, checked(_calls)] | None = None
    balance: Temperature | None = None
    design: Temperature | None = None
    full_duty: Duty | None = None
    offset: Annotated[Quantity, quantity(bounds.OFFSET)] | None = None

    def given(self) -> tuple[str, ...]:
        """Keys that the file gives besides the kind."""
        return tuple(name for name in type(self).model_fields
                     if name != "kind" and getattr(self, name) is not None)


class SurgeEntry(Strict):
    """One step of a starting profile, as the file writes it."""

    seconds: Annotated[Quantity, quantity(bounds.SURGE_TIME)] = Field(alias="for")
    kw: Annotated[Quantity, quantity(bounds.SURGE_KW)]
    kva: Annotated[Quantity, quantity(bounds.SURGE_KVA)]


def use_of(entry: UseEntry, *, summer_degf: float, winter_degf: float) -> Use:
    """Turn a use of the file into the home's; the home's design temperatures are the default.

    Parameters
    ----------
    entry : UseEntry
        Already checked: it has the keys that its kind needs.
    summer_degf, winter_degf : float
        Design temperatures of the home [degF].
    """
    cooling = entry.kind == "cooling"
    balance_degf = _degf(entry.balance, 70.0 if cooling else 60.0)
    return Use(
        kind=entry.kind,
        hours=entry.hours or (),
        events=tuple(entry.events or ()),
        calls=entry.calls or "",
        balance_degf=balance_degf,
        design_degf=_degf(entry.design, summer_degf if cooling else winter_degf),
        full_duty=magnitude(entry.full_duty, "1") if entry.full_duty is not None else 1.0,
        offset_slots=round(4.0 * magnitude(entry.offset, "h")) if entry.offset is not None else 0,
    )


def _degf(value: Quantity | None, default: float) -> float:
    return default if value is None else magnitude(value, "degF")
