"""Choose the state machine of each load and set it up, from its kind and its use on the day."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.comfort import Comfort
from planner.facts.home import SLOT_H, DesignDay, Home, Load, Use
from planner.service.stages import leaders
from planner.simulation.appliances.task import UNCUT
from planner.simulation.columns import (
    BUTTON,
    CLOCK_S,
    COLUMN,
    EVENT,
    FOLLOW,
    HIGH,
    IDLE,
    KW,
    LOW,
    PARAMETERS,
    PAUSE_S,
    STATES,
    STEADY,
    TASK,
    TICK,
    WAIT_S,
)
from planner.simulation.schedule import DAY_S, NOTHING, Events, events_of, runs_of
from planner.simulation.seeds import generator_of, wander
from planner.wiring.rooms import Room

VARYING = {"lighting and receptacles": 0.25, "router and office": 0.15}
"""How far the mean of a base load wanders within the hour (common practice, no source)."""

COOKING_HIGH = 1.1  # while all elements heat, relative to the mean; common practice, no source


@dataclass(frozen=True, slots=True)
class Span:
    """The time that is played: seconds from the start of the outage, minutes from midnight."""

    start_min: int  # minutes from midnight to second 0
    first_s: float  # midnights, seconds from second 0
    until_s: float
    warm_min: int  # the warm-up goes from minute -warm_min to second 0
    minutes: int  # warm-up, outage and an hour to spare

    @property
    def warm_s(self) -> float:
        """Second at which the warm-up begins."""
        return -60.0 * self.warm_min

    @property
    def midnights_s(self) -> Floats:
        """Start of every day that is played or touches it [s]."""
        return np.arange(self.first_s, self.until_s, DAY_S)


@dataclass(frozen=True, slots=True)
class Part:
    """One load's machine, ready to be stacked; `own` are its columns of minutes."""

    kind: int
    parameters: Floats
    events: Events = NOTHING
    own: tuple[Floats, ...] = ()
    state: Floats = field(default_factory=lambda: np.zeros(STATES))


@dataclass(frozen=True, slots=True)
class Setting:
    """What a builder knows: the load, its use and calls on the day, and where the dice are."""

    home: Home
    day: DesignDay
    load: Load
    use: Use
    calls: Bools
    span: Span
    seed: int
    room: Room | None = None  # that it heats or cools on this day
    stages: tuple[int, ...] = ()  # all that do, in order, by their place in the home
    outdoor_degf: Floats = field(default_factory=lambda: np.zeros(0))  # minute by minute

    def numbers(self, purpose: str) -> np.random.Generator:
        """Dice of this load for one purpose."""
        return generator_of(self.seed, self.home.id, self.day.id, self.load.id, purpose)

    @property
    def comfort(self) -> Comfort | None:
        """What the load serves; None without a comfort."""
        return next((one for one in self.home.comforts if one.id == self.load.comfort), None)

    @property
    def kw(self) -> float:
        """What the load draws while it runs, on this day [kW]."""
        return self.load.kw_on(self.day.id)

    def row(self, tick_s: float) -> Floats:
        """Parameters that all machines have."""
        row = np.zeros(PARAMETERS)
        row[KW], row[TICK], row[COLUMN] = self.kw, tick_s, -1.0
        return row


def idle(setting: Setting) -> Part:
    """Build a machine that never calls."""
    return Part(IDLE, setting.row(60.0))


def steady(setting: Setting) -> Part:
    """Build a load that is always on; its mean is the planned draw."""
    row = setting.row(60.0)
    amplitude = VARYING.get(setting.load.kind, 0.0)
    own: tuple[Floats, ...] = ()
    if amplitude:
        own = (wander(setting.numbers("draw"), setting.span.minutes, amplitude, 10),)
    return Part(STEADY, row, own=own)


def hourly(setting: Setting) -> Part:
    """Build a base load that follows the hours of the day; its mean is that of the plan."""
    row, span = setting.row(60.0), setting.span
    hours = np.repeat(np.asarray(setting.use.hours), 60)
    minutes = (span.start_min - span.warm_min + np.arange(span.minutes)) % len(hours)
    amplitude = VARYING.get(setting.load.kind, 0.0)
    own = wander(setting.numbers("draw"), span.minutes, amplitude, 10) * hours[minutes]
    return Part(STEADY, row, own=(own,))


def event(setting: Setting) -> Part:
    """Build an appliance that is switched on at about the planned times."""
    row = setting.row(10.0)
    return Part(EVENT, row, _switched_on(setting, row))


def task(setting: Setting) -> Part:
    """Build a piece of work that is begun once, may pause, and is done or lost."""
    load = setting.load
    row = setting.row(10.0)
    row[PAUSE_S] = UNCUT if load.restarts == "must not" else 3600.0 * SLOT_H * load.pause_slots
    row[BUTTON] = float(load.restarts == "start button")
    row[CLOCK_S] = 60.0 * setting.span.start_min
    return Part(TASK, row, _switched_on(setting, row))


def _switched_on(setting: Setting, row: Floats) -> Events:
    """Write down wait and draw of an appliance; gives the times at which it is switched on."""
    load, span = setting.load, setting.span
    row[WAIT_S] = 3600.0 * load.wait_h
    high = setting.kw
    if load.code.category == "cooking":
        high = max(high, min(COOKING_HIGH * high, load.code.va / 1000.0))
    row[HIGH], row[LOW] = high, 3.0 * setting.kw - 2.0 * high
    return events_of(runs_of(setting.calls), setting.numbers("events"), span.first_s,
                     span.until_s).since(span.warm_s)


def follow(setting: Setting) -> Part:
    """Build a blower that runs when a thermostat that needs it calls."""
    return Part(FOLLOW, setting.row(1.0),
                naming(leaders(setting.home, setting.day, setting.load)))


def naming(places: tuple[int, ...]) -> Events:
    """Name other loads in a list of events."""
    nothing = np.zeros(len(places))
    return Events(nothing, nothing, np.array(places, dtype=np.float64))
