"""What a price book says of the site: the shape of its tables, and the parts that follow."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Annotated, get_args

from planner.case import bounds
from planner.case.fields import Id, Money, Words, choice, quantity
from planner.case.messages import Strict, error, place
from planner.errors import Finding
from planner.facts.site import Material
from planner.facts.site_parts import GasPart, Pipe, SiteParts, TankPart, Wire
from planner.physics.pipe_tables import INSIDE_DIAMETER_IN
from planner.physics.wire.conductor_tables import AMPACITY_A, SIZES
from planner.units import Quantity, magnitude

PerFoot = Annotated[Quantity, quantity(bounds.FOOT_PRICE)]
Price = Annotated[Quantity, quantity(bounds.PRICE)]


class SitePricesSection(Strict):
    """Work on the site that belongs to no part."""

    trench: PerFoot | None = None
    raised_pad: Money | None = None


class WireEntry(Strict):
    """A feeder of one size, by the foot."""

    id: Id
    label: Words
    size: Annotated[str, choice(*SIZES)]
    material: Annotated[Material, choice(*get_args(Material))]
    price: PerFoot


class PipeEntry(Strict):
    """Gas pipe of one size, by the foot."""

    id: Id
    label: Words
    size: Annotated[str, choice(*INSIDE_DIAMETER_IN)]
    price: PerFoot


class GasPartEntry(Strict):
    """A gas meter, or what a regulator has in common with it."""

    id: Id
    label: Words
    passes: Annotated[Quantity, quantity(bounds.GAS_FLOW)]
    price: Price
    installation: Money


class RegulatorEntry(GasPartEntry):
    """A gas regulator, with the highest pressure that it takes."""

    inlet: Annotated[Quantity, quantity(bounds.REGULATOR_INLET)] | None = None


class TankEntry(Strict):
    """A propane tank."""

    id: Id
    label: Words
    size: Annotated[Quantity, quantity(bounds.TANK)]
    diameter: Annotated[Quantity, quantity(bounds.TANK_LENGTH)]
    length: Annotated[Quantity, quantity(bounds.TANK_LENGTH)]
    price: Price
    installation: Money


def site_parts(
    prices: SitePricesSection | None, wires: Sequence[WireEntry], pipes: Sequence[PipeEntry],
    meters: Sequence[GasPartEntry], regulators: Sequence[RegulatorEntry],
    tanks: Sequence[TankEntry],
) -> SiteParts:
    """Make the parts of what could be read; the cheapest of each kind first."""
    prices = prices or SitePricesSection()
    return SiteParts(
        wires=tuple(Wire(e.id, e.label, e.size, e.material, magnitude(e.price, "USD/ft"))
                    for e in wires),
        pipes=tuple(Pipe(e.id, e.label, e.size, magnitude(e.price, "USD/ft")) for e in pipes),
        meters=tuple(_gas_part(entry) for entry in meters),
        regulators=tuple(
            replace(_gas_part(e), inlet_psi=None if e.inlet is None else magnitude(e.inlet, "psi"))
            for e in regulators),
        tanks=tuple(
            TankPart(e.id, e.label, magnitude(e.size, "gal"), magnitude(e.diameter, "in"),
                     magnitude(e.length, "in"), magnitude(e.price, "USD"),
                     magnitude(e.installation, "USD")) for e in tanks),
        trench_usd_per_ft=None if prices.trench is None else magnitude(prices.trench, "USD/ft"),
        raised_pad_usd=(None if prices.raised_pad is None
                        else magnitude(prices.raised_pad, "USD")))


def _gas_part(entry: GasPartEntry) -> GasPart:
    return GasPart(entry.id, entry.label, magnitude(entry.passes, "ft^3/h"),
                   magnitude(entry.price, "USD"), magnitude(entry.installation, "USD"))


def wires_and_pipes_stand_once(
    file: str, wires: Sequence[WireEntry], pipes: Sequence[PipeEntry]
) -> Iterator[Finding]:
    """Check that a size is offered once, and that the code knows it in that metal."""
    for (size, material), count in Counter((one.size, one.material) for one in wires).items():
        if count > 1:
            yield error(place(file, "wires"), f"{count} wires are {size} in {material}.",
                        "Leave one price for each size.")
    for one in wires:
        if one.size not in AMPACITY_A[one.material]:
            yield error(place(file, f"wire {one.id}", "size"), f"NEC Table 310.16 as held here "
                        f"has no {one.material} conductor {one.size}.",
                        f"Sizes: {', '.join(AMPACITY_A[one.material])}.")
    for size, count in Counter(one.size for one in pipes).items():
        if count > 1:
            yield error(place(file, "pipes"), f"{count} pipes are of {size} in.",
                        "Leave one price for each size.")
