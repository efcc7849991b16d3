"""The running draw and the calculated-load entry of a load: nameplate first, then the library."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from planner.case.file import LoadEntry
from planner.case.filling.by_weather import (
    PLATE_OVER_DRAW,
    PLATE_SPREAD,
    Weather,
    draws_by_weather,
)
from planner.case.filling.charger import charging_a
from planner.case.filling.ledger import Ledger
from planner.case.filling.sizes import Size
from planner.case.library import Kind
from planner.facts.home import Use
from planner.physics.motor_tables import full_load_a
from planner.units import Quantity, magnitude

LARGEST_MOTOR_HP = 10.0
"""NEC Table 430.248 ends here."""
FULL_LOAD = "full-load current of the motor, NEC Table 430.248"
FROM_THE_DRAW = "taken from the running draw"
DEFROST_PLATE = "its defrost heater at power factor 1, more than its compressor draws"
HEATER_PF = 1.0  # a heating element is a resistor (by definition), whatever the compressor's is
TABLE_SPREAD = 0.1  # of a nameplate beside the table of the code; common practice, no source
RLA_PER_MCA = 1.0 / 1.25  # NEC 440.33: MCA is 125 % of the largest motor's current; from memory


@dataclass(frozen=True, slots=True)
class Draw:
    """Running real and apparent power, and the voltage they are drawn at."""

    kw: float
    kva: float
    volts: int
    by_day: Mapping[str, tuple[float, float]] = field(default_factory=dict)
    plate_kva: float = 0.0
    mean_kw: float = 0.0
    mean_kva: float = 0.0
    tons: float = 0.0

    @property
    def motor_kva(self) -> float:
        """Apparent power of the motor that starts: without a heater that runs in its place."""
        return self.mean_kva or self.kva


def running_draw(
    entry: LoadEntry, kind: Kind, size: Size | None, volts: int, ledger: Ledger, *,
    uses: Mapping[str, Use], weather: Weather,
) -> Draw | None:
    """Find what a load draws while it runs.

    In this order: `running`; the current that a vehicle charger is set to, or may draw behind its
    breaker where nothing else is said; for what moves heat its capacity over its efficiency, where
    the size is known; the minimum circuit ampacity, whose motor share is 1/1.25; the library by
    size; the nameplate; the motor by the table of the code.

    Parameters
    ----------
    entry, kind, size
        The load, its kind, its size if there is one.
    volts : int
        120 on one leg, 240 on both.
    uses : mapping
        When it is used, by day, season or ``every``.
    weather : Weather
        The design days of the home.
    ledger : Ledger
        Takes the assumptions.

    Returns
    -------
    Draw or None
        None if nothing says what it draws; a finding has been made then.
    """
    factor = entry.power_factor
    if factor is None:
        factor = kind.power_factor.value
        ledger.assume_given("power_factor", f"{factor:g}", kind.power_factor)
    if entry.running is not None:
        return _from_quantity(entry.running, factor, volts)
    charging = charging_a(entry, kind, size, ledger)
    if charging is not None:
        kva = charging * volts / 1000.0
        return Draw(kva * factor, kva, volts)
    moves_heat = kind.sizes[0].running.unit == "ton"
    if moves_heat and size is not None:
        return _by_weather(entry, kind, size, factor, volts, ledger, uses, weather)
    if entry.mca is not None:
        return _by_mca(entry.mca, factor, volts, ledger, moves_heat=moves_heat)
    if size is not None:
        return _from_library(kind, size, factor, volts, ledger)
    return _by_nameplate(entry, factor, volts, ledger) or _by_motor(entry, factor, volts, ledger)


def nameplate_va(
    entry: LoadEntry, size: Size | None, draw: Draw, ledger: Ledger
) -> float:
    """Volt-amperes that the calculated load by code counts for a load.

    In this order: `nameplate`; MCA; the library by size, unless `running` is given; the full-load
    current of a motor that draws another; the draw. A motor that is sized by its horsepower counts
    no less than the table of the code has for it, however little it draws.

    References
    ----------
    NEC 430.6(A)(1) (2017 to 2023), from memory: the table, not the nameplate of the motor, except
    for a listed appliance that is marked with its own current; the larger is safe for both.
    """
    va = _marked_va(entry, size, draw, ledger)
    if size is None or size.option.running.unit != "full-load":
        return va
    hp = size.option.running.at(size.value)
    table_va = full_load_a(hp, draw.volts) * draw.volts
    if va >= table_va - 0.5:
        return va
    key = "running" if entry.nameplate is None else "nameplate"
    ledger.note(key, f"{va:.0f} VA are less than the {table_va:.0f} VA of a {hp:.2g} hp motor at "
                f"{draw.volts} V (NEC Table 430.248); by 430.6(A) the calculated load counts the "
                "table.", "Leave the size out if this is the marking of a listed appliance.")
    return table_va


def _marked_va(entry: LoadEntry, size: Size | None, draw: Draw, ledger: Ledger) -> float:
    if entry.nameplate is not None:
        return 1000.0 * _from_quantity(entry.nameplate, 1.0, draw.volts).kva
    if entry.mca is not None:
        return magnitude(entry.mca, "A") * draw.volts
    if entry.current_setting is not None:
        return magnitude(entry.current_setting, "A") * draw.volts
    curve = size.option.nameplate_va if size is not None else None
    if size is not None and curve is not None and entry.running is None:
        va = curve.at(size.value)
        ledger.assume_given("nameplate", f"{va:.0f} VA", curve)
        return va
    if draw.plate_kva > 0.0 and draw.plate_kva != draw.kva:
        va = 1000.0 * draw.plate_kva
        by_motor = size is not None and size.option.running.unit == "full-load"
        ledger.assume("nameplate", f"{va:.0f} VA", FULL_LOAD if by_motor else "by its size",
                      TABLE_SPREAD if by_motor else 0.0)
        return va
    va, spread, source = 1000.0 * draw.kva, ledger.spread_of("running"), FROM_THE_DRAW
    if 0.0 < draw.mean_kva < draw.kva:
        spread, source = 0.0, DEFROST_PLATE
    ledger.assume("nameplate", f"{va:.0f} VA", source, spread)
    return va


def _by_mca(
    mca: Quantity, factor: float, volts: int, ledger: Ledger, *, moves_heat: bool
) -> Draw:
    """Draw of the motor behind a minimum circuit ampacity; what moves heat draws less than that."""
    kva = RLA_PER_MCA * magnitude(mca, "A") * volts / 1000.0
    if moves_heat:
        drawn = kva / PLATE_OVER_DRAW
        ledger.assume("running", f"{drawn * factor:.3g} kW", "MCA / 1.25 (NEC 440.33, from memory);"
                      " a nameplate is 30 to 45 % above the draw at 95 degF (from memory)",
                      PLATE_SPREAD)
        return Draw(drawn * factor, drawn, volts, plate_kva=kva)
    ledger.assume("running", f"{1000.0 * kva / volts:.3g} A",
                  "MCA / 1.25, NEC 440.33, from memory", 0.1)
    return Draw(kva * factor, kva, volts)


def _by_nameplate(
    entry: LoadEntry, factor: float, volts: int, ledger: Ledger
) -> Draw | None:
    if entry.nameplate is None:
        return None
    draw = _from_quantity(entry.nameplate, factor, volts)
    ledger.assume("running", f"{draw.kw:.3g} kW", "taken from the nameplate", 0.2)
    return draw


def _by_motor(entry: LoadEntry, factor: float, volts: int, ledger: Ledger) -> Draw | None:
    """Full-load current of the motor that is given, where nothing else says what the load draws."""
    if entry.motor is None or entry.size is not None or "motor" in ledger.refused:
        return None
    hp = magnitude(entry.motor, "hp")
    if hp > LARGEST_MOTOR_HP:
        ledger.refuse("motor", f"{hp:g} hp is above the {LARGEST_MOTOR_HP:g} hp at which the table "
                      "of single-phase motors ends.", 'Give the nameplate: running = "... A".')
        return None
    kva = full_load_a(hp, volts) * volts / 1000.0
    ledger.assume("running", f"{kva * factor:.3g} kW", FULL_LOAD, 0.25)
    return Draw(kva * factor, kva, volts)


def _from_quantity(value: Quantity, factor: float, volts: int) -> Draw:
    unit = str(value.units)
    if unit == "ampere":
        kva = magnitude(value, "A") * volts / 1000.0
    elif unit in {"kilowatt", "watt"}:
        kva = magnitude(value, "kW") / factor
    else:
        kva = magnitude(value, "kVA")
    return Draw(kva * factor, kva, volts)


def _from_library(kind: Kind, size: Size, factor: float, volts: int, ledger: Ledger) -> Draw:
    curve = size.option.running
    number = curve.at(size.value)
    if curve.unit == "kW":
        draw = Draw(number, number / factor, volts)
    elif curve.unit == "kVA":
        draw = Draw(number * factor, number, volts)
    elif curve.unit == "full-load":
        plate_kva = full_load_a(number, volts) * volts / 1000.0
        kva = plate_kva * (kind.loading.value if kind.loading is not None else 1.0)
        draw = Draw(kva * factor, kva, volts, plate_kva=plate_kva)
    else:
        raise LookupError(f"the library gives the running draw of {kind.name} in {curve.unit}")
    ledger.assume_given("running", f"{draw.kw:.3g} kW", kind.loading or curve)
    if kind.defrost is not None and draw.kw < kind.defrost.value:
        kw = kind.defrost.value
        ledger.assume("defrost", f"{kw:g} kW", kind.defrost.source)
        return replace(draw, kw=kw, kva=max(kw / HEATER_PF, draw.kva), mean_kw=draw.kw,
                       mean_kva=draw.kva)
    return draw


def _by_weather(
    entry: LoadEntry, kind: Kind, size: Size, factor: float, volts: int, ledger: Ledger,
    uses: Mapping[str, Use], weather: Weather,
) -> Draw:
    plate_kva = _plate_kva(entry, size, volts)
    limit_kw = plate_kva * factor if entry.mca is not None else None
    found = draws_by_weather(entry, kind, size.option.running.at(size.value), uses, weather,
                             ledger, limit_kw)
    by_day = {day: (kw, kw / factor) for day, kw in found.by_day.items()}
    return Draw(found.largest_kw, found.largest_kw / factor, volts, by_day, plate_kva,
                tons=found.tons)


def _plate_kva(entry: LoadEntry, size: Size, volts: int) -> float:
    """Give what the nameplate lets a unit draw: MCA / 1.25, or the usual nameplate of its size."""
    if entry.mca is not None:
        return RLA_PER_MCA * magnitude(entry.mca, "A") * volts / 1000.0
    curve = size.option.nameplate_va
    return RLA_PER_MCA * curve.at(size.value) / 1000.0 if curve is not None else 0.0
