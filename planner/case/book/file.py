"""The shape of a price book: what may stand in it, table by table."""

from __future__ import annotations

from typing import Annotated, Literal, get_args

from pydantic import Field

from planner.case import bounds
from planner.case.fields import (
    Id,
    Money,
    Rating,
    Refused,
    Temperature,
    Text,
    Truth,
    Words,
    checked,
    choice,
    quantity,
    whole,
)
from planner.case.file import Action
from planner.case.messages import Strict
from planner.facts.home import TransferKind
from planner.facts.price_book import MotorKind
from planner.quoting import quoted
from planner.units import Quantity, magnitude, parse, parse_rate

Cooling = Literal["air", "liquid"]
Senses = Literal["call", "current", "nothing"]
PerformanceClass = Literal["G1", "G2", "G3"]

Price = Annotated[Quantity, quantity(bounds.PRICE)]
HeatRate = Annotated[Quantity, quantity(bounds.HEAT)]
Datum = Annotated[Quantity, quantity(bounds.DATUM)]


def per_unit(value: object) -> float:
    """Read X'd: a bare number within its bounds."""
    low, high = bounds.REACTANCE
    if isinstance(value, int | float) and not isinstance(value, bool) and low <= value <= high:
        return float(value)
    remedy = (f"A bare number from {low:g} to {high:g} is expected, such as 0.18: X'd per unit on "
              "its kVA.")
    raise Refused(f"{quoted(value)} is no transient reactance.", remedy)


def _slope(per: str, step: str, most: float) -> object:
    """Read a loss per length or temperature: at most a share of the output for each step."""

    def read(value: object) -> Quantity:
        rate = parse_rate(value, "share", per)
        lost = magnitude(rate * parse(step, per), "1")
        if lost < 0.0:
            raise Refused(f"{quoted(value)} is negative.", "Write the loss without a minus sign.")
        if not lost <= most * (1.0 + 1e-9):
            raise Refused(f"{quoted(value)} is too high.", f"At most {most:.0%} per {step}.")
        return rate

    return checked(read)


class BookSection(Strict):
    """The book itself, and prices that belong to no part."""

    label: Words
    notice: Text
    currency: Annotated[Literal["USD"], choice("USD")] = "USD"
    relocation: Money
    permits: Money
    maintenance_per_year: Money
    natural_gas: Annotated[Quantity, quantity(bounds.GAS_PRICE)]
    propane: Annotated[Quantity, quantity(bounds.PROPANE_PRICE)]
    gasoline: Annotated[Quantity, quantity(bounds.PROPANE_PRICE)] | None = None


class RatingEntry(Strict):
    """What a generator carries on one fuel, and what it burns."""

    power: Annotated[Quantity, quantity(bounds.GENERATOR_KW)]
    apparent: Annotated[Quantity, quantity(bounds.GENERATOR_KVA)]
    current: Rating
    no_load: HeatRate
    half_load: HeatRate
    full_load: HeatRate
    inlet_pressure: Annotated[Quantity, quantity(bounds.GAS_INLET)] | None = None


class DeratingEntry(Strict):
    """Loss of output with altitude and temperature."""

    altitude: Annotated[Quantity, _slope("length", "1000 ft", bounds.MOST_LOSS_PER_1000_FT)]
    altitude_from: Datum
    temperature: Annotated[Quantity, _slope("temperature", "10 degF", bounds.MOST_LOSS_PER_10_DEGF)]
    temperature_from: Temperature
    kva_too: Truth = False


class GeneratorEntry(Strict):
    """A standby generator."""

    id: Id
    label: Words
    cooling: Annotated[Cooling, choice(*get_args(Cooling))]
    reactance: Annotated[float, checked(per_unit)]
    short_time: Annotated[Quantity, quantity(bounds.SHORT_TIME)]
    derating: DeratingEntry
    price: Price
    installation: Money
    inertia: Annotated[Quantity, quantity(bounds.INERTIA)] | None = None
    performance_class: Annotated[PerformanceClass, choice(*get_args(PerformanceClass))] = "G1"
    droop: Annotated[Quantity, quantity(bounds.DROOP)] | None = None
    governor_lag: Annotated[Quantity, quantity(bounds.GOVERNOR_LAG)] | None = None
    under_frequency: Annotated[Quantity, quantity(bounds.LOW_FREQUENCY)] | None = None
    under_frequency_after: Annotated[Quantity, quantity(bounds.PROTECTION_TIME)] | None = None
    under_voltage: Annotated[Quantity, quantity(bounds.LOW_VOLTAGE)] | None = None
    under_voltage_after: Annotated[Quantity, quantity(bounds.PROTECTION_TIME)] | None = None
    breaker: Rating | None = None
    permitted_average: Annotated[Quantity, quantity(bounds.AVERAGE)] | None = None
    subtransient: Annotated[float, checked(per_unit)] | None = None
    noise: Annotated[Quantity, quantity(bounds.LOUDNESS)] | None = None
    length: Annotated[Quantity, quantity(bounds.ENCLOSURE)] | None = None
    width: Annotated[Quantity, quantity(bounds.ENCLOSURE)] | None = None
    ratings: dict[str, RatingEntry] = Field(default={})


class TransferEntry(Strict):
    """Transfer equipment."""

    id: Id
    label: Words
    kind: Annotated[TransferKind, choice(*get_args(TransferKind))]
    rating: Rating
    positions: Annotated[int, whole(0, 84)] = 0
    service_rated: Truth | None = None
    switches_neutral: Truth | None = None
    short_circuit: Annotated[Quantity, quantity(bounds.FAULT)] | None = None
    price: Price
    installation: Money


class ModuleEntry(Strict):
    """A kind of shedding module; a thermostat module carries none of the load's current."""

    id: Id
    label: Words
    action: Annotated[Action, choice(*get_args(Action))]
    poles: Annotated[int, whole(1, 2)] | None = None
    current: Rating | None = None
    motor: Annotated[Quantity, quantity(bounds.MODULE_MOTOR)] | None = None
    senses: Annotated[Senses, choice(*get_args(Senses))] | None = None
    largest_breaker: Rating | None = None
    full_load: Rating | None = None
    locked_rotor: Annotated[Quantity, quantity(bounds.START_A)] | None = None
    short_circuit: Annotated[Quantity, quantity(bounds.FAULT)] | None = None
    price: Price
    installation: Money


class ControllerEntry(Strict):
    """What drives the shedding modules."""

    id: Id
    label: Words
    modules: Annotated[int, whole(1, 200)]
    setpoint: Rating | None = None
    price: Price
    installation: Money


class SoftStarterEntry(Strict):
    """Cuts the starting current of a motor to a share of its locked-rotor value."""

    id: Id
    label: Words
    factor: Annotated[Quantity, quantity(bounds.SOFT_FACTOR)]
    current: Rating
    start: Annotated[Quantity, quantity(bounds.SOFT_START)] | None = None
    suits: list[Annotated[MotorKind, choice(*get_args(MotorKind))]] = Field(default=["compressor"])
    short_circuit: Annotated[Quantity, quantity(bounds.FAULT)] | None = None
    price: Price
    installation: Money
