"""What is known of the place where a generator stands: wire, pipe, gas, tank, room around it.

Everything may be unknown (None): what nobody measured is not assumed, and said to be missing.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Material = Literal["copper", "aluminum"]
Raceway = Literal["PVC", "steel"]

DELIVERY_SHARE = 0.40
"""Fill at which a delivery of propane is called for in winter, share of the water capacity (common
practice, no source)."""
FUEL_BURNING = frozenset({
    "gas furnace", "gas boiler", "furnace blower", "gas tankless water heater",
    "power-vent water heater", "gas range", "gas dryer"})
"""Kinds of load that burn gas beside their electricity."""


@dataclass(frozen=True, slots=True)
class GasAppliance:
    """What else burns the gas of the home.

    `input_btu_h` is what its nameplate lets it burn. It burns while its `load` runs (a furnace
    while its blower does); without one, `mean_share` of the time on the coldest design day.
    """

    id: str
    label: str
    input_btu_h: float
    load: str = ""
    mean_share: float = 0.0
    assumed: bool = False  # taken from the size of its load


@dataclass(frozen=True, slots=True)
class PipeRun:
    """A piece of the home's gas pipe, fittings counted as length.

    `size` is the nominal size of what is there [in]; None for a piece that is not laid yet.
    `appliances` are fed from its end, and the generator where `generator` says so.
    """

    id: str
    length_ft: float
    fed_from: str | None = None
    size: str | None = None
    appliances: tuple[str, ...] = ()
    generator: bool = False


@dataclass(frozen=True, slots=True)
class GasService:
    """How gas comes to the generator: meter or tank regulator, pressure, pipe.

    `pressure_psi` is that at the start of the pipe; below 1.5 psi the pipe may lose `drop_in_wc`,
    from there on half of the pressure. Above what appliances take a regulator stands at each outlet
    (`planner.plan.site.regulators`). `meter_ft3_h` is what the meter passes. `runs` is the tree of
    the pipe; one run of its own to the generator where nothing else is known. `btu_per_ft3` is the
    heating value of the natural gas that the utility delivers; None: that of the EIA.
    """

    pressure_psi: float | None = None
    drop_in_wc: float = 0.5
    meter_ft3_h: float | None = None
    runs: tuple[PipeRun, ...] = ()
    appliances: tuple[GasAppliance, ...] = ()
    btu_per_ft3: float | None = None


@dataclass(frozen=True, slots=True)
class PropaneTank:
    """The tanks of a home, `count` equal ones together; `delivery_share` as `DELIVERY_SHARE`."""

    gal: float
    count: int = 1
    delivery_share: float = DELIVERY_SHARE


@dataclass(frozen=True, slots=True)
class Place:
    """Where the generator stands: free distances [ft], heights [in], what is above it."""

    opening_ft: float | None = None  # to the nearest door, window or vent
    wall_ft: float | None = None
    wall_is_combustible: bool = True
    gas_meter_ft: float | None = None  # to meter, regulator or relief vent
    property_line_ft: float | None = None
    neighbour_ft: float | None = None  # to the neighbour's nearest window or seat
    neighbour_limit_db: float | None = None
    snow_in: float | None = None
    flood_in: float | None = None
    raised_pad: bool = False


@dataclass(frozen=True, slots=True)
class ServiceEquipment:
    """The service of the home, where transfer equipment goes in."""

    replaced: bool = False  # the service equipment is replaced with this job
    disconnect_outside: bool | None = None  # an emergency disconnect, readily accessible
    surge_protected: bool | None = None
    conductor: str | None = None  # size of the ungrounded service conductors
    material: Material = "copper"
    panel_working_depth_in: float | None = None
    panel_working_width_in: float | None = None
    panel_rating_ka: float | None = None  # interrupting rating of its breakers
    bundled_cables: int | None = None  # cables with two current-carrying wires run together


UNKNOWN_PLACE = Place()
UNKNOWN_SERVICE = ServiceEquipment()


@dataclass(frozen=True, slots=True)
class Site:
    """The site of a home.

    `wire_ft` is the way of the feeder from the generator to the transfer equipment, one way;
    `trench_ft` how much of it, or of the pipe, is dug. `terminals_degc` is the temperature that the
    terminals are marked for (NEC 110.14(C)); None: not known, 60 up to 100 A and 75 above.
    `fuel_days` is promised: so long the house runs on what is in the tank when a delivery is due.
    """

    wire_ft: float | None = None
    material: Material = "copper"
    raceway: Raceway = "PVC"
    terminals_degc: int | None = None
    trench_ft: float | None = None
    gas: GasService | None = None
    tank: PropaneTank | None = None
    fuel_days: float | None = None
    place: Place = UNKNOWN_PLACE
    service: ServiceEquipment = UNKNOWN_SERVICE
