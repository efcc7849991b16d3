"""How hard a load starts: surge steps, locked-rotor amperes, code letter, or the library."""

from __future__ import annotations

from dataclasses import dataclass

from planner.case.file import LoadEntry
from planner.case.filling.ledger import Ledger
from planner.case.filling.running import Draw
from planner.case.filling.sizes import Size
from planner.case.library import Curve, Given, Kind
from planner.facts.home import SurgeStep
from planner.physics.motor_start import (
    locked_rotor_kva,
    locked_rotor_kva_from_code_letter,
    surge_profile,
)
from planner.physics.motor_tables import CODE_LETTER_KVA_PER_HP, equivalent_hp, full_load_a
from planner.units import magnitude

SMALL_COMPRESSOR = Given(value=0.7, spread=0.2,
                         source="WECC composite load model, motor D (single-phase compressor) at "
                                "locked rotor, from memory")
A_SHORT_START = Given(value=0.5, source="common practice, no source", spread=0.5)


@dataclass(frozen=True, slots=True)
class Start:
    """Locked-rotor values at full voltage; `kva` is 0 for a load without a surge."""

    kva: float
    power_factor: float
    surge: tuple[SurgeStep, ...]
    motor_hp: float


def start_of(
    entry: LoadEntry, kind: Kind, size: Size | None, draw: Draw, ledger: Ledger
) -> Start:
    """Find how hard a load starts.

    In this order: `surge`; `locked_rotor`; `code_letter` with the horsepower; the library by
    size; the library's ratio to the running current. A kind without a start (an inverter, a
    heating element) has none unless the nameplate gives one.

    Returns
    -------
    Start
        Findings about what was refused are in the ledger.
    """
    hp = _motor_hp(entry, size)
    plate_a = 1000.0 * max(draw.motor_kva, draw.plate_kva) / draw.volts
    if entry.surge is not None:
        return _from_steps(entry, draw, hp, plate_a, ledger)
    kva = _locked_rotor_kva(entry, kind, size, draw, hp=hp, ledger=ledger)
    if kva <= draw.kva:
        if entry.locked_rotor is not None and kva < draw.kva - 1e-9:
            ledger.refuse("locked_rotor", f"{kva:.3g} kVA at locked rotor is below the "
                          f"{draw.kva:.3g} kVA it runs at.", "Check both nameplate currents.")
        return Start(0.0, 1.0, (), hp or 0.0)
    factor = entry.start_power_factor
    if factor is None:
        given = kind.start_power_factor or SMALL_COMPRESSOR
        factor = given.value
        ledger.assume_given("start_power_factor", f"{factor:g}", given)
    given = kind.start_seconds or A_SHORT_START
    ledger.assume_given("start_seconds", f"{given.value:g} s", given)
    if hp is None:
        hp = equivalent_hp(plate_a, draw.volts)
        ledger.assume("motor", f"{hp:.2g} hp", "NEC 440.12(A) with Table 430.248, from memory", 0.2)
    return Start(kva, factor, surge_profile(kva, factor, given.value, draw.kva), hp)


def _motor_hp(entry: LoadEntry, size: Size | None) -> float | None:
    if entry.motor is not None:
        return magnitude(entry.motor, "hp")
    if size is not None and size.option.unit == "hp":
        return size.value
    if size is not None and size.option.motor is not None:
        return size.option.motor.at(size.value)
    return None


def _from_steps(
    entry: LoadEntry, draw: Draw, hp: float | None, plate_a: float, ledger: Ledger
) -> Start:
    steps = tuple(
        SurgeStep(
            magnitude(step.seconds, "s"), magnitude(step.kw, "kW"), magnitude(step.kva, "kVA")
        )
        for step in entry.surge or ()
    )
    for step in steps:
        if step.kw > step.kva + 1e-9:
            ledger.refuse("surge", f"{step.kw:g} kW is above {step.kva:g} kVA; real power is never "
                          "above apparent power.", "Check which of the two is which.")
    if not steps:
        return Start(0.0, 1.0, (), hp or 0.0)
    hardest = max(steps, key=lambda step: step.kva)
    if hardest.kva <= draw.kva:
        ledger.refuse("surge", f"its highest step, {hardest.kva:g} kVA, is not above the "
                      f"{draw.kva:.3g} kVA it runs at.", "Leave surge out if it starts softly.")
    if hp is None:
        hp = equivalent_hp(plate_a, draw.volts)
        ledger.assume("motor", f"{hp:.2g} hp", "NEC 440.12(A) with Table 430.248, from memory", 0.2)
    return Start(hardest.kva, min(1.0, hardest.kw / hardest.kva), steps, hp)


def _locked_rotor_kva(
    entry: LoadEntry, kind: Kind, size: Size | None, draw: Draw, *, hp: float | None, ledger: Ledger
) -> float:
    if entry.locked_rotor is not None:
        return locked_rotor_kva(magnitude(entry.locked_rotor, "A"), draw.volts)
    if entry.code_letter is not None:
        return _from_code_letter(entry.code_letter, hp, ledger)
    if kind.blower and _blower(entry, ledger) == "ecm":
        return 0.0
    curve = size.option.starting if size is not None else None
    if size is not None and curve is not None:
        kva = _from_curve(curve, size, draw, hp)
    elif kind.starting is not None:
        kva, curve = kind.starting.value * draw.motor_kva, None
    else:
        return 0.0
    amperes = 1000.0 * kva / draw.volts
    ledger.assume_given("locked_rotor", f"{amperes:.3g} A", curve or kind.starting or A_SHORT_START)
    return kva


def _blower(entry: LoadEntry, ledger: Ledger) -> str:
    """Kind of a fan's motor; the one that starts harder where the file does not say."""
    if entry.blower is None:
        ledger.assume("blower", "psc", "the motor that starts harder; common practice, no source")
    return entry.blower or "psc"


def _from_curve(curve: Curve, size: Size, draw: Draw, hp: float | None) -> float:
    number = curve.at(size.value)
    if curve.unit == "A":
        return locked_rotor_kva(number, draw.volts)
    if curve.unit == "x full-load":
        return locked_rotor_kva(number * full_load_a(hp or size.value, draw.volts), draw.volts)
    return number * draw.kva


def _from_code_letter(letter: str, hp: float | None, ledger: Ledger) -> float:
    if hp is None:
        ledger.refuse("code_letter", "a code letter is kVA per horsepower, and no horsepower is "
                      "given.", 'Add motor = "... hp", or give locked_rotor = "... A" instead.')
        return 0.0
    if CODE_LETTER_KVA_PER_HP[letter][1] is None:
        ledger.refuse("code_letter", f'code letter "{letter}" has no upper end.',
                      'Give the locked-rotor current of the nameplate: locked_rotor = "... A".')
        return 0.0
    return locked_rotor_kva_from_code_letter(hp, letter)
