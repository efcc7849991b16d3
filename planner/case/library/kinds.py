"""Kinds of appliance: the shape of the library's data files, and their loader."""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from itertools import pairwise
from typing import Annotated, Any, Literal, get_args

from pydantic import Field

from planner.case.fields import Duration, Refused, Truth, Words, checked, choice, whole
from planner.case.file import Action
from planner.case.library.curve import Points, interpolate
from planner.case.messages import Strict
from planner.case.patterns import UseEntry
from planner.facts.comfort import Nature
from planner.facts.home import CodeCategory, Connection, Restarts
from planner.quoting import quoted

GROUPS = ("cooling", "heating", "water", "pumps", "kitchen", "laundry", "leisure", "household")
UNITS = ("kW", "kVA", "full-load", "A", "x running", "x full-load", "VA", "hp", "ton")
"""full-load: the motor table by horsepower; ton: by capacity, efficiency and temperature."""


def _points(value: object) -> Points:
    rows = value if isinstance(value, list) else []
    points = tuple((float(x), float(y)) for x, y in rows)
    if len(points) < 2 or any(a[0] >= b[0] for a, b in pairwise(points)):
        raise Refused(f"{quoted(value)} is not a curve.", "Write two points or more, x rising.")
    return points


class Given(Strict):
    """One number of the library, with its source and plausible relative error."""

    value: float
    source: Words
    spread: float = 0.0


class Curve(Strict):
    """A value by size: straight lines between points."""

    unit: Annotated[str, choice(*UNITS)]
    points: Annotated[Points, checked(_points)]
    source: Words
    spread: float = 0.0

    def at(self, size: float) -> float:
        """Value at a size in the size's own unit."""
        return interpolate(self.points, size)


class SizeOption(Strict):
    """One way to give the size of a kind; the ends of `running` are the ends of its range."""

    unit: Words
    default: float | None = None
    running: Curve
    starting: Curve | None = None
    nameplate_va: Curve | None = None
    motor: Curve | None = None  # horsepower of the motor inside what is sized otherwise

    @property
    def low(self) -> float:
        """Smallest size."""
        return self.running.points[0][0]

    @property
    def high(self) -> float:
        """Largest size."""
        return self.running.points[-1][0]


class Kind(Strict):
    """What the library says about a kind of appliance."""

    name: Words
    legs: list[Annotated[Literal["both", "one"], choice("both", "one")]]
    category: Annotated[CodeCategory, choice(*get_args(CodeCategory))]
    two_leg_category: Annotated[CodeCategory, choice(*get_args(CodeCategory))] | None = None
    sizes: list[SizeOption]
    power_factor: Given
    loading: Given | None = None  # running over full-load current of the motor table
    since: Annotated[int, whole(1900, 2100)] = 1992  # year from which on such units are usual
    inverter: Truth = False  # its compressor has no fixed speed
    blower: Truth = False  # its motor is a fan's: psc or ecm
    submersible: Truth = False  # its motor hangs in the well: two-wire or three-wire
    stage: Given | None = None  # kW of one stage of it
    defrost: Given | None = None  # kW of a heater that runs in place of the compressor
    restarts: Annotated[Restarts, choice(*get_args(Restarts))] = "by itself"
    starting: Given | None = None  # locked-rotor current over running current
    start_power_factor: Given | None = None
    start_seconds: Given | None = None
    compressor: Truth = False
    soft_start: Truth = False
    neutral: Truth = False  # whether a two-leg load returns all of its current by the neutral
    covers_floor: Truth = False  # whether its size is the floor area of the home
    nature: Annotated[Nature, choice(*get_args(Nature))]  # how it works
    comfort: Words | None = None  # that it serves; a room's has none
    interruptible: Truth = False  # a task that may pause as long as it may wait
    must_run: Truth = False
    importance: Annotated[int, whole(0, 5)] | None = None  # where it is not that of its comfort
    wait: Duration | None = None  # of a task or a car
    connections: list[Annotated[Connection, choice(*get_args(Connection))]]
    modules: list[Annotated[Action, choice(*get_args(Action))]] = Field(default=[])
    use: dict[str, UseEntry]
    use_source: Words


class Group(Strict):
    """A comfort that kinds serve: what people call it, and what it matters unless they say."""

    label: Words
    importance: Annotated[int, whole(0, 5)]


@cache
def groups() -> dict[str, Group]:
    """Every comfort of the library by its name."""
    text = files("planner.case.library").joinpath("comforts.toml").read_text(encoding="utf-8")
    return {name: Group.model_validate(raw) for name, raw in tomllib.loads(text).items()}


@cache
def kinds() -> dict[str, Kind]:
    """Every kind of the library by its name, in the order of the data files."""
    here = files("planner.case.library")
    sources = tomllib.loads(here.joinpath("sources.toml").read_text(encoding="utf-8"))
    found: dict[str, Kind] = {}
    for group in GROUPS:
        text = here.joinpath(f"{group}.toml").read_text(encoding="utf-8")
        for name, raw in tomllib.loads(text).items():
            found[name] = Kind.model_validate({"name": name, **_with_sources(raw, sources)})
    return found


def _with_sources(raw: Any, sources: dict[str, str]) -> Any:  # noqa: ANN401
    """Write out each source that a data file names by its short word."""
    if isinstance(raw, list):
        return [_with_sources(item, sources) for item in raw]
    if not isinstance(raw, dict):
        return raw
    return {key: sources[item] if key in ("source", "use_source") else _with_sources(item, sources)
            for key, item in raw.items()}
