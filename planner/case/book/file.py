"""The shape of a price book: what may stand in it, table by table."""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from pydantic import Field

from planner.case.fields import (
    ApparentPower,
    Current,
    Id,
    Money,
    Power,
    Refused,
    Share,
    Temperature,
    Truth,
    Words,
    checked,
    choice,
    quantity,
    shown,
    whole,
)
from planner.case.file import Action
from planner.case.messages import Strict
from planner.facts.home import TransferKind
from planner.units import Quantity, parse_rate

Cooling = Literal["air", "liquid"]
PerformanceClass = Literal["G1", "G2", "G3"]

Price = Annotated[Quantity, quantity("money", at_least=0.01)]
HeatRate = Annotated[Quantity, quantity("heat rate", above=0.0)]
Datum = Annotated[Quantity, quantity("length", at_least=0.0, at_most=15_000.0)]


def _reactance(value: object) -> float:
    if isinstance(value, int | float) and not isinstance(value, bool) and 0.0 < value < 1.0:
        return float(value)
    remedy = "A bare number between 0 and 1 is expected, such as 0.18: X'd per unit on its kVA."
    raise Refused(f"{shown(value)} is no transient reactance.", remedy)


def _slope(per: str) -> object:
    def read(value: object) -> Quantity:
        rate = parse_rate(value, "share", per)
        if float(rate.magnitude) < 0.0:
            raise Refused(f'"{value}" is negative.', "Write the loss without a minus sign.")
        return rate

    return checked(read)


class BookSection(Strict):
    """The book itself, and prices that belong to no part."""

    label: Words
    notice: Words
    currency: Annotated[Literal["USD"], choice("USD")] = "USD"
    relocation: Money
    permits: Money
    maintenance_per_year: Money
    natural_gas: Annotated[Quantity, quantity("price of gas", above=0.0)]
    propane: Annotated[Quantity, quantity("price of propane", above=0.0)]


class RatingEntry(Strict):
    """What a generator carries on one fuel, and what it burns."""

    power: Power
    apparent: ApparentPower
    current: Current
    no_load: HeatRate
    half_load: HeatRate
    full_load: HeatRate


class DeratingEntry(Strict):
    """Loss of output with altitude and temperature."""

    altitude: Annotated[Quantity, _slope("length")]
    altitude_from: Datum
    temperature: Annotated[Quantity, _slope("temperature")]
    temperature_from: Temperature
    kva_too: Truth = False


class GeneratorEntry(Strict):
    """A standby generator."""

    id: Id
    label: Words
    cooling: Annotated[Cooling, choice(*get_args(Cooling))]
    reactance: Annotated[float, checked(_reactance)]
    short_time: Annotated[Quantity, quantity("share", at_least=100.0, at_most=200.0)]
    derating: DeratingEntry
    price: Price
    installation: Money
    inertia: Annotated[Quantity, quantity("time", above=0.0)] | None = None
    performance_class: Annotated[PerformanceClass, choice(*get_args(PerformanceClass))] = "G1"
    droop: Annotated[Quantity, quantity("share", above=0.0, at_most=10.0)] | None = None
    ratings: dict[str, RatingEntry] = Field(default={})


class TransferEntry(Strict):
    """Transfer equipment."""

    id: Id
    label: Words
    kind: Annotated[TransferKind, choice(*get_args(TransferKind))]
    rating: Current
    positions: Annotated[int, whole(0, 84)] = 0
    price: Price
    installation: Money


class ModuleEntry(Strict):
    """A kind of shedding module; a thermostat module carries none of the load's current."""

    id: Id
    label: Words
    action: Annotated[Action, choice(*get_args(Action))]
    poles: Annotated[int, whole(1, 2)] | None = None
    current: Current | None = None
    motor: Annotated[Quantity, quantity("shaft power", at_least=0.0)] | None = None
    price: Price
    installation: Money


class ControllerEntry(Strict):
    """What drives the shedding modules."""

    id: Id
    label: Words
    modules: Annotated[int, whole(1, 200)]
    price: Price
    installation: Money


class SoftStarterEntry(Strict):
    """Cuts the starting current of a motor to a share of its locked-rotor value."""

    id: Id
    label: Words
    factor: Share
    current: Current
    price: Price
    installation: Money
