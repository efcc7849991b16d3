"""What a family would miss: comforts, promises about them, and how a load works for one."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from planner.facts.assumption import Assumption

ComfortKind = Literal[
    "room",  # the temperature that one thermostat holds
    "hot water",
    "meals",  # tasks that may pause for a slot
    "task",  # washes, dishes, a sauna: pieces of work with a deadline
    "car",
    "food",  # a refrigerator or a freezer
    "running water",  # a pressure tank
    "pit",  # a sump or a sewage pit
    "clock",  # light, outlets, network: what is wanted at an hour and lost without power
]
Nature = Literal[
    "room", "tank", "box", "battery", "pressure", "pit",  # stores
    "task",
    "clock",
    "woken",  # runs only when another load needs it
]
"""How a load works; see `planner.service`."""

SPELL_DAYS = 3
"""Equal design days on end that a plan is made for, unless the file says otherwise (a choice)."""

REFUGE_DEGF = (60.0, 82.0)
"""Promised of the refuge (common practice, no source) [degF]."""

WITHIN_DEGF, WITHIN_MILES = 1.0, 0.05
"""How far a promise may be missed where a house or its weather is not quite as planned: a room; a
car, as a share of the miles (a choice)."""


@dataclass(frozen=True, slots=True)
class Promise:
    """A bound on a comfort, in its own unit, that every offered plan keeps on every design day.

    coldest_degf, warmest_degf
        Of a room, where it is heated and where it is cooled.
    uncut
        No meal and no other task is lost.
    cold_showers
        At most so many cold showers a day.
    miles, by_h
        At least so many miles in the car at that hour of the day.
    safe
        Food is never lost, a pit never overflows, taps never run dry.
    """

    coldest_degf: float | None = None
    warmest_degf: float | None = None
    uncut: bool = False
    cold_showers: float | None = None
    miles: float | None = None
    by_h: float | None = None
    safe: bool = False


@dataclass(frozen=True, slots=True)
class Comfort:
    """Something that the family would miss, and the loads that serve it, in their order.

    `must_run`: its first load is served whenever it calls. The set points and `time_constant_h`
    (how fast it drifts without heating or cooling) are those of a room; nobody lives in some
    (`lived_in`). `refuge` has the seasons in which it is the room to stay in.
    """

    id: str
    label: str
    kind: ComfortKind
    loads: tuple[str, ...]
    importance: int
    must_run: bool = False
    promise: Promise | None = None
    heating_set_degf: float = 70.0
    cooling_set_degf: float = 76.0
    time_constant_h: float = 8.0
    lived_in: bool = True
    refuge: frozenset[Literal["summer", "winter"]] = frozenset()
    assumed: tuple[Assumption, ...] = ()
