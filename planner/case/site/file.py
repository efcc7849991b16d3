"""The shape of the table ``site`` of a home file."""

from __future__ import annotations

from typing import Annotated, get_args

from pydantic import Field

from planner.case import bounds
from planner.case.fields import Id, Truth, Words, choice, quantity, whole
from planner.case.messages import Strict
from planner.facts.site import Material, Raceway
from planner.physics.pipe_tables import INSIDE_DIAMETER_IN
from planner.physics.wire.conductor_tables import SIZES
from planner.units import Quantity

Length = Annotated[Quantity, quantity(bounds.SITE_LENGTH)]
Height = Annotated[Quantity, quantity(bounds.SITE_HEIGHT)]
WireSize = Annotated[str, choice(*SIZES)]
PipeSize = Annotated[str, choice(*INSIDE_DIAMETER_IN)]
Metal = Annotated[Material, choice(*get_args(Material))]


class ApplianceEntry(Strict):
    """What else burns the gas of the home."""

    id: Id
    label: Words | None = None
    input: Annotated[Quantity, quantity(bounds.HEAT)]
    load: Words | None = None
    burns: Annotated[Quantity, quantity(bounds.BURNS)] | None = None


class RunEntry(Strict):
    """A piece of the gas pipe."""

    id: Id
    length: Length
    fed_from: Words | None = None
    size: PipeSize | None = None
    appliances: list[Words] = Field(default=[])
    generator: Truth = False


class GasSection(Strict):
    """Gas up to the generator."""

    pressure: Annotated[Quantity, quantity(bounds.GAS_PRESSURE)] | None = None
    drop: Annotated[Quantity, quantity(bounds.GAS_DROP)] | None = None
    meter: Annotated[Quantity, quantity(bounds.GAS_FLOW)] | None = None
    heating_value: Annotated[Quantity, quantity(bounds.HEATING_VALUE)] | None = None
    pipe: Length | None = None
    runs: list[RunEntry] = Field(default=[])
    appliances: list[ApplianceEntry] = Field(default=[])


class TankSection(Strict):
    """The propane tank, or several equal ones together."""

    size: Annotated[Quantity, quantity(bounds.TANK)]
    count: Annotated[int, whole(0, 10)] = 1
    fill_at_delivery: Annotated[Quantity, quantity(bounds.FILL)] | None = None


class PlaceSection(Strict):
    """Free distances around the generator, and what the weather brings."""

    opening: Length | None = None
    wall: Length | None = None
    wall_is_combustible: Truth = True
    gas_meter: Length | None = None
    property_line: Length | None = None
    neighbour: Length | None = None
    neighbour_limit: Annotated[Quantity, quantity(bounds.LOUDNESS)] | None = None
    snow: Height | None = None
    flood: Height | None = None
    raised_pad: Truth = False


class ServiceSection(Strict):
    """The service where the transfer equipment goes in."""

    replaced: Truth = False
    disconnect_outside: Truth | None = None
    surge_protected: Truth | None = None
    conductor: WireSize | None = None
    material: Metal = "copper"
    working_depth: Height | None = None
    working_width: Height | None = None
    interrupting_rating: Annotated[Quantity, quantity(bounds.FAULT)] | None = None
    bundled_cables: Annotated[int, whole(1, 100)] | None = None


class SiteSection(Strict):
    """The site."""

    wire: Length | None = None
    conductor: Metal = "copper"
    raceway: Annotated[Raceway, choice(*get_args(Raceway))] = "PVC"
    terminals: Annotated[Quantity, quantity(bounds.TERMINALS)] | None = None
    trench: Length | None = None
    fuel_promise: Annotated[Quantity, quantity(bounds.FUEL_DAYS)] | None = None
    gas: GasSection | None = None
    tank: TankSection | None = None
    place: PlaceSection | None = None
    service: ServiceSection | None = None
