"""The running draw and the calculated-load entry of a load: nameplate first, then the library."""

from __future__ import annotations

from dataclasses import dataclass

from planner.case.file import LoadEntry
from planner.case.filling.charger import charging_a
from planner.case.filling.ledger import Ledger
from planner.case.filling.sizes import Size
from planner.case.library import Kind
from planner.physics.motor_tables import full_load_a
from planner.units import Quantity, magnitude

LARGEST_MOTOR_HP = 10.0
"""NEC Table 430.248 ends here."""
RLA_PER_MCA = 1.0 / 1.25  # NEC 440.33: MCA is 125 % of the largest motor's current; from memory


@dataclass(frozen=True, slots=True)
class Draw:
    """Running real and apparent power, and the voltage they are drawn at."""

    kw: float
    kva: float
    volts: int


def running_draw(
    entry: LoadEntry, kind: Kind, size: Size | None, volts: int, ledger: Ledger
) -> Draw | None:
    """Find what a load draws while it runs.

    In this order: `running`; the current that a vehicle charger is set to, or may draw behind its
    breaker where nothing else is said; the minimum circuit ampacity, whose motor share is 1/1.25;
    the library by size; the nameplate; the motor by the table of the code.

    Parameters
    ----------
    entry, kind, size
        The load, its kind, its size if there is one.
    volts : int
        120 on one leg, 240 on both.
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
    if entry.mca is not None:
        amperes = RLA_PER_MCA * magnitude(entry.mca, "A")
        ledger.assume("running", f"{amperes:.3g} A", "MCA / 1.25, NEC 440.33, from memory", 0.1)
        kva = amperes * volts / 1000.0
        return Draw(kva * factor, kva, volts)
    if size is not None:
        return _from_library(kind, size, factor, volts, ledger)
    if entry.nameplate is not None:
        draw = _from_quantity(entry.nameplate, factor, volts)
        ledger.assume("running", f"{draw.kw:.3g} kW", "taken from the nameplate", 0.2)
        return draw
    return _by_motor(entry, factor, volts, ledger)


def nameplate_va(
    entry: LoadEntry, size: Size | None, draw: Draw, ledger: Ledger
) -> float:
    """Volt-amperes that the calculated load by code counts for a load.

    In this order: `nameplate`; MCA; the library by size, unless `running` is given; the draw.
    """
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
    va = 1000.0 * draw.kva
    spread = ledger.spread_of("running")
    ledger.assume("nameplate", f"{va:.0f} VA", "taken from the running draw", spread)
    return va


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
    ledger.assume("running", f"{kva * factor:.3g} kW",
                  "full-load current of the motor, NEC Table 430.248", 0.25)
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
        kva = full_load_a(number, volts) * volts / 1000.0
        draw = Draw(kva * factor, kva, volts)
    else:
        raise LookupError(f"the library gives the running draw of {kind.name} in {curve.unit}")
    ledger.assume_given("running", f"{draw.kw:.3g} kW", curve)
    return draw
