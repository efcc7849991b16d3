"""The shape of a home file: what may stand in it, table by table."""

from __future__ import annotations

import re
from typing import Annotated, Literal, get_args

from pydantic import Field

from planner.case import bounds
from planner.case.fields import (
    AnyDraw,
    DrawnCurrent,
    Duration,
    Id,
    Rating,
    Refused,
    Temperature,
    Text,
    Truth,
    Words,
    checked,
    choice,
    number,
    quantity,
    whole,
)
from planner.case.messages import Strict
from planner.case.patterns import SurgeEntry, UseEntry
from planner.case.promises import SaidPromise, promises
from planner.facts.home import (
    CodeEdition,
    CodeMethod,
    Connection,
    Fuel,
    Leg,
    OrderRule,
    Restarts,
    TransferKind,
)
from planner.quoting import quoted
from planner.units import Quantity, magnitude, parse

Season = Literal["summer", "winter", "mild"]
Action = Literal["contactor", "thermostat"]
Blower = Literal["psc", "ecm"]  # permanent split capacitor, electronically commutated
Wires = Literal["two-wire", "three-wire"]

WHOLE = 1e-9  # of a day: an exact number in another unit may lose its last digit

MOST_POSITIONS = 100  # of one load: chosen; lights of a whole floor have many
CODE_LETTERS = "ABCDEFGHJKLMNPRSTUV"


def whole_days(value: object) -> int:
    """Read a spell: whole days."""
    least, most = (round(end.m_as("day")) for end in bounds.SPELL.ends)
    said = value.replace("days", "day") if isinstance(value, str) else value
    days = magnitude(parse(said, "time"), "day")
    if not least <= days <= most or abs(days - round(days)) > WHOLE:
        remedy = f'Write whole days, from "{least} day" to "{most} days".'
        raise Refused(f"{quoted(value)} is no spell.", remedy)
    return round(days)


class HomeSection(Strict):
    """The house."""

    label: Words
    service: Annotated[Quantity, quantity(bounds.SERVICE)]
    floor_area: Annotated[Quantity, quantity(bounds.AREA)]
    altitude: Annotated[Quantity, quantity(bounds.ALTITUDE)]
    summer_design: Temperature
    winter_design: Temperature
    heating_set_point: Annotated[Quantity, quantity(bounds.SET_POINT)]
    cooling_set_point: Annotated[Quantity, quantity(bounds.SET_POINT)]
    fuel: Annotated[Fuel, choice(*get_args(Fuel))]
    price_book: Text | None = None
    fault_current: Annotated[Quantity, quantity(bounds.FAULT)] | None = None
    spell: Annotated[int, checked(whole_days)] | None = None
    transfer: list[Annotated[TransferKind, choice(*get_args(TransferKind))]] = Field(
        default=["whole-house"])


class MeasuredSection(Strict):
    """A year, or 30 days, of measured demand; a meter's file gives all but the last."""

    file: Text | None = None
    peak: Annotated[Quantity, quantity(bounds.MEASURED_KVA)]
    days: Annotated[float, number(*bounds.MEASURED_DAYS)]
    interval: Annotated[Quantity, quantity(bounds.INTERVAL)]
    with_generation: Truth = False


class ListSection(Strict):
    """Lines of the list that a home was made from, of which nothing stands in it."""

    not_read: list[Text] = Field(default=[])


class WeatherSection(Strict):
    """A weather file that gives what the home leaves out of its days and its place."""

    file: Text


class CodeSection(Strict):
    """Edition and method of the calculated load."""

    edition: Annotated[CodeEdition, choice(*get_args(CodeEdition))]
    method: Annotated[CodeMethod, choice(*get_args(CodeMethod))]
    small_appliance_circuits: Annotated[int, whole(0, 20)] = 2
    laundry_circuits: Annotated[int, whole(0, 10)] = 1
    added: list[Words] = Field(default=[])
    measured: MeasuredSection | None = None


class LimitsSection(Strict):
    """What the estimator allows."""

    allowed_dip: Annotated[Quantity, quantity(bounds.ALLOWED_DIP)] | None = None
    largest_share: Annotated[Quantity, quantity(bounds.LARGEST_SHARE)] | None = None


class PanelEntry(Strict):
    """A distribution panel."""

    id: Id
    feeder: Rating
    fed_from: Words | None = None


class DayEntry(Strict):
    """A design day."""

    id: Id
    label: Words | None = None
    season: Annotated[Season, choice(*get_args(Season))]
    weight: Annotated[float, number(*bounds.WEIGHT)]
    low: Temperature
    high: Temperature


def _pair(value: object) -> tuple[str, str]:
    if isinstance(value, list) and len(value) == 2 and all(isinstance(x, str) for x in value):
        return value[0], value[1]
    remedy = 'Write two load ids: ["dryer", "main-air"] keeps the first from standing before'
    raise Refused(f"{quoted(value)} is not a pair.", f"{remedy} the second.")


class ComfortEntry(Strict):
    """A comfort: what the family would miss, and what they wish of it."""

    id: Id
    label: Words | None = None
    loads: list[Words] | None = None
    importance: Annotated[int, whole(0, 5)] | None = None
    must_run: Truth | None = None
    promise: Annotated[tuple[SaidPromise, ...], checked(promises)] | None = None
    time_constant: Annotated[Quantity, quantity(bounds.TIME_CONSTANT)] | None = None
    heating_set_point: Annotated[Quantity, quantity(bounds.SET_POINT)] | None = None
    cooling_set_point: Annotated[Quantity, quantity(bounds.SET_POINT)] | None = None
    refuge: list[Annotated[Literal["summer", "winter"], choice("summer", "winter")]] | None = None


class WishesSection(Strict):
    """Wishes that join loads."""

    order: Annotated[OrderRule, choice(*get_args(OrderRule))] = "free"
    never_before: list[Annotated[tuple[str, str], checked(_pair)]] = Field(default=[])


def _factor(value: object) -> float:
    """Read a power factor: a number, bare or in quotation marks."""
    low, high = bounds.POWER_FACTOR
    try:
        number = float(value) if isinstance(value, str | int | float) else 0.0
    except (ValueError, OverflowError):
        number = 0.0
    if isinstance(value, bool) or not low <= number <= high:
        remedy = f"Write a number from {low:g} to {high:g}."
        raise Refused(f"{quoted(value)} is not a power factor.", remedy)
    return number


PowerFactor = Annotated[float, checked(_factor)]


def _stage(value: object) -> tuple[int, int]:
    """Read ``2 of 3``."""
    found = re.fullmatch(r"\s*([1-9])\s+of\s+([1-9])\s*", value) if isinstance(value, str) else None
    if found is None or int(found[1]) > int(found[2]):
        raise Refused(f"{quoted(value)} is no stage.", 'Write for example "2 of 3".')
    return int(found[1]), int(found[2])


def _positions(value: object) -> tuple[str, ...]:
    """Read ``9``, ``9,11`` or ``2A``: spaces of a panel, a half of one with its letter."""
    text = value.replace(" ", "").upper() if isinstance(value, str) else ""
    found = tuple(text.split(","))
    if len(found) > MOST_POSITIONS or len(set(found)) < len(found) or not all(
            re.fullmatch(r"[1-9]\d{0,2}[A-Z]?", one) for one in found):
        raise Refused(f"{quoted(value)} names no positions of a panel.",
                      'Write each once, with commas: "9,11", or "2A" for half a space.')
    return found


class LoadEntry(Strict):
    """A load, by as little as a kind and a size."""

    id: Id
    kind: Words
    label: Words | None = None
    size: Words | None = None
    panel: Words | None = None
    leg: Annotated[Leg, choice(*get_args(Leg))] | None = None
    running: AnyDraw | None = None
    power_factor: PowerFactor | None = None
    locked_rotor: Annotated[Quantity, quantity(bounds.START_A)] | None = None
    code_letter: Annotated[str, choice(*CODE_LETTERS)] | None = None
    motor: Annotated[Quantity, quantity(bounds.SHAFT)] | None = None
    start_power_factor: PowerFactor | None = None
    mca: DrawnCurrent | None = None
    mop: Rating | None = None
    year: Annotated[int, whole(*bounds.YEAR)] | None = None
    eer: Annotated[float, number(*bounds.EER)] | None = None
    blower: Annotated[Blower, choice(*get_args(Blower))] | None = None
    wires: Annotated[Wires, choice(*get_args(Wires))] | None = None
    stage: Annotated[tuple[int, int], checked(_stage)] | None = None
    breaker: Rating | None = None
    positions: Annotated[tuple[str, ...], checked(_positions)] = ()
    current_setting: DrawnCurrent | None = None
    restarts: Annotated[Restarts, choice(*get_args(Restarts))] | None = None
    surge: list[SurgeEntry] | None = None
    must_run: Truth | None = None
    importance: Annotated[int, whole(0, 5)] | None = None
    wait: Duration | None = None
    comfort: Words | None = None
    pause: Annotated[Quantity, quantity(bounds.PAUSE)] | None = None
    interruptible: Truth | None = None
    behind: Annotated[Quantity, quantity(bounds.BEHIND)] | None = None
    connections: list[Annotated[Connection, choice(*get_args(Connection))]] | None = None
    modules: list[Annotated[Action, choice(*get_args(Action))]] | None = None
    requires: list[Words] = Field(default=[])
    not_with: list[Words] = Field(default=[])
    nameplate: AnyDraw | None = None
    heating_units: Annotated[int, whole(1, 50)] = 1
    with_supplemental: Truth = True
    room: Words | None = None
    use: dict[str, UseEntry] = Field(default={})
