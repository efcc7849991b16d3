"""The price book: what can be bought, as frozen facts; prices in US dollars."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from planner.facts.engine import (
    DROOP,
    GOVERNOR_S,
    INERTIA_S,
    LOW_HZ,
    LOW_HZ_S,
    LOW_VOLTAGE,
    LOW_VOLTAGE_S,
)
from planner.facts.home import TransferKind
from planner.facts.portable import NO_PORTABLES, PortableParts
from planner.facts.site_parts import NO_PARTS, SiteParts

MotorKind = Literal["compressor", "pump"]


@dataclass(frozen=True, slots=True)
class FuelUse:
    """Fuel burned at no load, half load and full load, in Btu/h (higher heating value)."""

    no_load_btu_h: float
    half_load_btu_h: float
    full_load_btu_h: float


@dataclass(frozen=True, slots=True)
class Rating:
    """What a generator carries on one fuel, before derating for the site.

    `inlet_in_wc` is the lowest pressure of that gas at its inlet with which it does so; None where
    the maker does not state it.
    """

    kw: float
    kva: float
    amperes: float  # per leg at 240 V
    fuel: FuelUse
    inlet_in_wc: float | None = None


@dataclass(frozen=True, slots=True)
class Derating:
    """Loss of output with altitude and temperature: slope and datum of each, none assumed.

    `kva_too` says whether the kVA limit falls with the kW. `planner.physics.derate` says more.
    """

    altitude_per_1000_ft: float
    altitude_datum_ft: float
    temperature_per_10_degf: float
    temperature_datum_degf: float
    kva_too: bool = False


class Part:
    """Something that is bought and put in; prices in US dollars."""

    __slots__ = ()
    price: float
    installation: float

    @property
    def installed_usd(self) -> float:
        """Price with installation [USD]."""
        return self.price + self.installation


@dataclass(frozen=True, slots=True)
class Generator(Part):
    """A standby generator.

    `reactance` is X'd per unit on its kVA; `short_time` is the kW it can give for a start, as a
    multiple of its derated kW; `droop` the fall of its frequency from no load to full load, per
    unit; `inertia_s` the energy in its turning parts over its kVA (H); `governor_s` the lag of
    governor and intake. Its protection stops it when the frequency has stood below
    `low_frequency_hz` for `low_frequency_s`, or the voltage below `low_voltage` (per unit) for
    `low_voltage_s`. `breaker_a` is its main breaker, `permitted_average` the share of the rating
    that it may give on average over 24 h; None where the maker does not state it, as with
    `subtransient` (X''d per unit), `noise_db` (sound level at 23 ft) and the outside of its
    enclosure.
    """

    id: str
    label: str
    cooling: Literal["air", "liquid"]
    ratings: Mapping[str, Rating]  # by fuel
    reactance: float
    short_time: float
    derating: Derating
    price: float
    installation: float  # pad, placing, start-up, electrical and gas connection
    inertia_s: float = INERTIA_S.value
    performance_class: Literal["G1", "G2", "G3"] = "G1"
    droop: float = DROOP.value
    governor_s: float = GOVERNOR_S.value
    low_frequency_hz: float = LOW_HZ.value
    low_frequency_s: float = LOW_HZ_S.value
    low_voltage: float = LOW_VOLTAGE.value
    low_voltage_s: float = LOW_VOLTAGE_S.value
    breaker_a: float | None = None
    permitted_average: float | None = None
    subtransient: float | None = None
    noise_db: float | None = None
    length_in: float | None = None
    width_in: float | None = None
    unstated: tuple[str, ...] = ()  # keys of the engine for which the usual value stands


@dataclass(frozen=True, slots=True)
class Transfer(Part):
    """Transfer equipment: whole-house of a rating, or selected circuits with positions.

    Whether it is listed as service equipment, whether it switches the neutral and what it
    withstands in a fault are None where the maker does not state it.
    """

    id: str
    label: str
    kind: TransferKind
    rating_a: float
    positions: int  # poles; 0 for whole-house
    price: float
    installation: float
    service_rated: bool | None = None
    switches_neutral: bool | None = None
    short_circuit_a: float | None = None


@dataclass(frozen=True, slots=True)
class Module(Part):
    """A kind of shedding module: what it may switch, what it senses, and what it costs.

    It senses the ``call`` of its load (a thermostat circuit), the ``current`` of its circuit while
    it is closed (a contactor), or ``nothing``. What the maker does not state is None: the largest
    branch breaker it may stand behind (else its own amperes), full-load and locked-rotor amperes of
    a motor, short-circuit rating.
    """

    id: str
    label: str
    action: Literal["contactor", "thermostat"]
    poles: int
    amperes: float  # largest running current; thermostat modules switch the control circuit
    motor_hp: float  # largest motor; 0 where it may not switch a motor
    price: float
    installation: float
    senses: Literal["call", "current", "nothing"] = "current"
    largest_breaker_a: float | None = None
    full_load_a: float | None = None
    locked_rotor_a: float | None = None
    short_circuit_a: float | None = None


@dataclass(frozen=True, slots=True)
class Controller(Part):
    """Drives up to `modules` shedding modules.

    `setpoint_a` is the largest setpoint in amperes that it is listed for as an energy management
    system; None for one that sheds by frequency and measured load without a listed setpoint.
    """

    id: str
    label: str
    modules: int
    price: float
    installation: float
    setpoint_a: float | None = None


@dataclass(frozen=True, slots=True)
class SoftStarter(Part):
    """Cuts the starting kVA of a motor to `factor` of its locked-rotor value.

    `start_s` is how long a start then takes [s]; None: a multiple of the motor's own. `suits` are
    the motors that it is made for. What it withstands in a fault is None where the maker does not
    state it.
    """

    id: str
    label: str
    factor: float
    amperes: float  # largest running current
    price: float
    installation: float
    start_s: float | None = None
    suits: frozenset[MotorKind] = frozenset({"compressor", "pump"})
    short_circuit_a: float | None = None


@dataclass(frozen=True, slots=True, repr=False)
class PriceBook:
    """Everything on offer. `notice` is shown wherever a price is shown."""

    id: str
    label: str
    notice: str
    generators: tuple[Generator, ...]
    transfers: tuple[Transfer, ...]
    modules: tuple[Module, ...]
    controllers: tuple[Controller, ...]
    soft_starters: tuple[SoftStarter, ...]
    relocation: float  # moving one circuit to the utility side
    permits: float
    maintenance_per_year: float
    natural_gas_per_therm: float
    propane_per_gal: float
    currency: str = "USD"
    site: SiteParts = NO_PARTS
    by_hand: PortableParts = NO_PORTABLES

    def __repr__(self) -> str:
        """Say in a line which book it is."""
        return f"<PriceBook {self.label!r}: {len(self.generators)} generators>"
