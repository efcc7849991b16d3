"""What a price book says of portable generators: the shape of its tables, and the parts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Annotated, get_args

from planner.case import bounds
from planner.case.book.derating import derating
from planner.case.book.file import DeratingEntry, Price, per_unit
from planner.case.fields import (
    Id,
    Money,
    Refused,
    Truth,
    Words,
    checked,
    choice,
    quantity,
    whole,
)
from planner.case.messages import Strict, error, place, warning
from planner.errors import Finding
from planner.facts.engine import GOVERNOR_S, INERTIA_S
from planner.facts.portable import (
    REACTANCE,
    RECEPTACLES_A,
    ManualKind,
    ManualTransfer,
    Portable,
    PortableParts,
    Volts,
)
from planner.physics.fuel import BTU_PER_KWH
from planner.physics.gasoline import GASOLINE_BTU_PER_GAL
from planner.quoting import quoted
from planner.units import Quantity, magnitude, parse

LIKELY_EFFICIENCY = (0.10, 0.35)
"""Of a portable set at full load on the higher heating value (common practice, no source)."""
MAY_BE_UNSTATED = ("reactance", "inertia", "governor_lag")


def _volts(value: object) -> Volts:
    for volts in get_args(Volts):
        if value == f"{volts} V":
            return volts  # type: ignore[no-any-return]
    raise Refused(f"{quoted(value)} is no voltage of a portable generator.",
                  'Write "240 V" for one that gives 120 and 240 V, "120 V" for 120 V alone.')


def _receptacle(value: object) -> float:
    amperes = magnitude(parse(value, "current"), "A")
    if amperes not in RECEPTACLES_A:
        ratings = ", ".join(f"{one:g}" for one in RECEPTACLES_A)
        raise Refused(f"{quoted(value)} is no rating of a receptacle.", f"Ratings: {ratings} A.")
    return amperes


GalPerHour = Annotated[Quantity, quantity(bounds.FUEL_RATE)]
Voltage = Annotated[Volts, checked(_volts)]
Receptacle = Annotated[float, checked(_receptacle)]


class PortableEntry(Strict):
    """A portable generator on gasoline."""

    id: Id
    label: Words
    voltage: Voltage
    power: Annotated[Quantity, quantity(bounds.GENERATOR_KW)]
    apparent: Annotated[Quantity, quantity(bounds.GENERATOR_KVA)]
    receptacle: Receptacle
    tank: Annotated[Quantity, quantity(bounds.PORTABLE_TANK)]
    no_load: GalPerHour
    half_load: GalPerHour
    full_load: GalPerHour
    derating: DeratingEntry
    neutral_bonded: Truth
    price: Price
    reactance: Annotated[float, checked(per_unit)] | None = None
    inertia: Annotated[Quantity, quantity(bounds.INERTIA)] | None = None
    governor_lag: Annotated[Quantity, quantity(bounds.GOVERNOR_LAG)] | None = None
    electric_start: Truth = False
    co_shutoff: Truth = False
    noise: Annotated[Quantity, quantity(bounds.LOUDNESS)] | None = None
    propane_power: Annotated[Quantity, quantity(bounds.GENERATOR_KW)] | None = None


class ManualTransferEntry(Strict):
    """Manual transfer equipment with its inlet and cord."""

    id: Id
    label: Words
    kind: Annotated[ManualKind, choice(*get_args(ManualKind))]
    voltage: Voltage
    inlet: Receptacle
    positions: Annotated[int, whole(0, 84)] = 0
    switches_neutral: Truth | None = None
    price: Price
    installation: Money
    cord: Money


def portable_parts(
    portables: Sequence[PortableEntry], transfers: Sequence[ManualTransferEntry],
    gasoline: Quantity | None,
) -> PortableParts:
    """Make the parts of what could be read."""
    return PortableParts(
        tuple(map(_portable, portables)),
        tuple(ManualTransfer(e.id, e.label, e.kind, e.voltage, e.inlet, e.positions,
                             magnitude(e.price, "USD"), magnitude(e.installation, "USD"),
                             magnitude(e.cord, "USD"), e.switches_neutral) for e in transfers),
        None if gasoline is None else magnitude(gasoline, "USD/gal"))


def _portable(entry: PortableEntry) -> Portable:
    return Portable(
        entry.id, entry.label, entry.voltage, magnitude(entry.power, "kW"),
        magnitude(entry.apparent, "kVA"), entry.receptacle, magnitude(entry.tank, "gal"),
        _gal_h(entry), derating(entry.derating), entry.neutral_bonded,
        magnitude(entry.price, "USD"),
        reactance=REACTANCE.value if entry.reactance is None else entry.reactance,
        inertia_s=INERTIA_S.value if entry.inertia is None else magnitude(entry.inertia, "s"),
        governor_s=(GOVERNOR_S.value if entry.governor_lag is None
                    else magnitude(entry.governor_lag, "s")),
        electric_start=entry.electric_start, co_shutoff=entry.co_shutoff,
        noise_db=None if entry.noise is None else magnitude(entry.noise, "dB"),
        propane_kw=(None if entry.propane_power is None
                    else magnitude(entry.propane_power, "kW")),
        unstated=tuple(key for key in MAY_BE_UNSTATED if getattr(entry, key) is None))


def _gal_h(entry: PortableEntry) -> tuple[float, float, float]:
    no, half, full = (magnitude(one, "gal/h")
                      for one in (entry.no_load, entry.half_load, entry.full_load))
    return no, half, full


def portables_are_sound(
    file: str, portables: Sequence[PortableEntry], transfers: Sequence[ManualTransferEntry],
    *, has_price: bool,
) -> Iterator[Finding]:
    """Check ratings, fuel and positions, that each can be connected, and that fuel has a price."""
    for one in portables:
        yield from _is_sound(place(file, f"portable {one.id}"), one)
        if not any(fits(one.voltage, one.receptacle, t.voltage, t.inlet) for t in transfers):
            yield warning(place(file, f"portable {one.id}"), "no manual transfer equipment of the "
                          f"book takes its {one.receptacle:g} A, {one.voltage} V receptacle: it "
                          "cannot be offered.", "Add one with [[manual_transfers]].")
    for transfer in transfers:
        if (transfer.kind == "switch") != bool(transfer.positions):
            yield error(place(file, f"manual transfer {transfer.id}", "positions"),
                        "a switch needs positions, an interlock has none.",
                        "Write how many poles a switch takes, and leave it out of an interlock.")
    if portables and not has_price:
        yield error(place(file, "book", "gasoline"), "portable generators burn gasoline, and the "
                    "book has no price of it.", 'Add gasoline = "3.50 USD/gal".')


def fits(volts: int, receptacle_a: float, transfer_volts: int, inlet_a: float) -> bool:
    """Whether a receptacle and an inlet are of one kind: same voltage, same rating."""
    return volts == transfer_volts and receptacle_a == inlet_a


def _is_sound(where: str, one: PortableEntry) -> Iterator[Finding]:
    kw, kva = magnitude(one.power, "kW"), magnitude(one.apparent, "kVA")
    if kva < kw - 1e-9:
        yield error(f"{where}: apparent", f"{kva:g} kVA is below {kw:g} kW; real power is never "
                    "above apparent power.", "Are the two swapped?")
    no, half, full = _gal_h(one)
    if not no < half < full:
        yield error(f"{where}: full_load", f"fuel does not rise with load: {no:g}, {half:g}, "
                    f"{full:g} gal/h at no, half, full load.", "Check the order of the three.")
        return
    low, high = LIKELY_EFFICIENCY
    efficiency = kw * BTU_PER_KWH / (full * GASOLINE_BTU_PER_GAL)
    if not low <= efficiency <= high:
        yield warning(f"{where}: full_load", f"{efficiency:.0%} efficiency at full load is outside "
                      f"the likely {low:.0%} to {high:.0%}.", "Check the fuel data.")
