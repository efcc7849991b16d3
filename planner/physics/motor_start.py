"""What starts hard: locked-rotor kVA, voltage dip, and what a start draws from the engine.

A motor at standstill is a constant impedance behind the transient reactance X'd of the generator.
Two forms of the dip are in use: with the motor taken as purely reactive, which overstates the dip
a little and decides; and with its power factor, which is reported.
"""

from __future__ import annotations

from cmath import rect
from math import acos

from planner.facts.home import SurgeStep
from planner.physics.draw import LINE_VOLTS, real_kw
from planner.physics.motor_tables import CODE_LETTER_KVA_PER_HP


def locked_rotor_kva(amperes: float, volts: float) -> float:
    """Give the apparent power of a single-phase motor held at standstill [kVA].

    Parameters
    ----------
    amperes : float
        Locked-rotor current, not negative [A]; from the nameplate where there is one.
    volts : float
        Nominal voltage, positive [V].

    Notes
    -----
    S = V·I / 1000 (definition of apparent power).
    """
    return amperes * volts / 1000.0


def locked_rotor_kva_from_code_letter(hp: float, letter: str) -> float:
    """Give the highest locked-rotor kVA that a code letter allows [kVA].

    Parameters
    ----------
    hp : float
        Rated shaft power, positive [hp].
    letter : str
        Code letter of the nameplate, A to U.

    Raises
    ------
    ValueError
        If the letter does not exist; or is V, whose range has no upper end, so that only the
        locked-rotor amperes of the nameplate tell; or if the horsepower is not positive.

    References
    ----------
    NEC Table 430.7(B) (2017 to 2023).
    """
    if hp <= 0.0:
        msg = f"A motor has a positive horsepower, not {hp:g} hp."
        raise ValueError(msg)
    key = letter.strip().upper()
    if key not in CODE_LETTER_KVA_PER_HP:
        msg = f"NEC Table 430.7(B) has no code letter {letter!r}: A to V without I, O and Q."
        raise ValueError(msg)
    highest = CODE_LETTER_KVA_PER_HP[key][1]
    if highest is None:
        msg = (f"Code letter {key} means 22.4 kVA per hp or more, without an upper end "
               "(NEC Table 430.7(B)): give the locked-rotor amperes of the nameplate.")
        raise ValueError(msg)
    return highest * hp


def voltage_dip(reactance: float, starting_kva: float, generator_kva: float) -> float:
    """Give the voltage dip at a start with the motor taken as reactive, share of the voltage [0–1].

    Parameters
    ----------
    reactance : float
        X'd per unit on the kVA of the generator; not negative.
    starting_kva : float
        Locked-rotor apparent power at full voltage [kVA]; not negative.
    generator_kva : float
        Rated apparent power of the generator [kVA]; positive.

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    dip = X·s / (1 + X·s) with s = starting kVA / generator kVA: a voltage divider of two
    reactances at rated internal voltage (derived from the circuit).
    """
    pull = reactance * _per_unit(reactance, starting_kva, generator_kva)
    return pull / (1.0 + pull)


def voltage_dip_with_power_factor(
    reactance: float, starting_kva: float, generator_kva: float, power_factor: float
) -> float:
    """Give the voltage dip at a start with the power factor of the motor [0–1].

    Never above `voltage_dip`, and equal to it at a power factor of 0.

    Parameters
    ----------
    reactance, starting_kva, generator_kva : float
        As there: per unit; at full voltage, rated [kVA].
    power_factor : float
        Of the motor at standstill, 0 to 1.

    Raises
    ------
    ValueError
        If an argument is out of range; the power factor lies from 0 to 1.

    Notes
    -----
    dip = 1 − |Z / (Z + jX)| with Z = (1/s)∠acos(pf), derived from the circuit.
    """
    per_unit = _per_unit(reactance, starting_kva, generator_kva)
    if not 0.0 <= power_factor <= 1.0:
        msg = f"A power factor lies from 0 to 1, not at {power_factor:g}."
        raise ValueError(msg)
    if per_unit == 0.0:
        return 0.0
    impedance = rect(1.0 / per_unit, acos(power_factor))
    return 1.0 - abs(impedance / (impedance + 1j * reactance))


def startable_kva(generator_kva: float, reactance: float, allowed_dip: float) -> float:
    """Give the locked-rotor kVA that a generator starts at an allowed dip [kVA].

    Parameters
    ----------
    generator_kva : float
        Rated apparent power [kVA].
    reactance : float
        X'd per unit on that kVA; positive.
    allowed_dip : float
        From 0 to below 1.

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    S·d / ((1 − d)·X), the inverse of `voltage_dip` (derived).
    """
    if not 0.0 <= allowed_dip < 1.0 or reactance <= 0.0 or generator_kva <= 0.0:
        msg = (f"Need 0 ≤ dip < 1, X'd > 0 and kVA > 0; got dip {allowed_dip:g}, "
               f"X'd {reactance:g}, {generator_kva:g} kVA.")
        raise ValueError(msg)
    return generator_kva * allowed_dip / ((1.0 - allowed_dip) * reactance)


def ohm_base(generator_kva: float) -> float:
    """Give the impedance that is 1 per unit on a generator of 240 V [ohm].

    Parameters
    ----------
    generator_kva : float
        Rated apparent power, positive [kVA].

    Notes
    -----
    Z = V² / S (definition of the per-unit system).
    """
    return LINE_VOLTS * LINE_VOLTS / (1000.0 * generator_kva)


def engine_start_kw(
    starting_kva: float, power_factor: float, reactance: float, generator_kva: float
) -> float:
    """Give the real power that a starting motor takes from the engine [kW].

    Parameters
    ----------
    starting_kva : float
        Locked-rotor apparent power at full voltage, not negative [kVA].
    power_factor : float
        Of the motor at standstill, above 0 and at most 1.
    reactance, generator_kva : float
        X'd per unit, not negative, and the kVA it refers to, positive [kVA].

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    P = S·pf·(1 − dip)²: a constant impedance at the dipped voltage (derived), dip by `voltage_dip`.
    It rises with the starting kVA only up to X·s = 1 and falls beyond, where the voltage collapses;
    the dip limit has refused such a start long before.
    """
    left = 1.0 - voltage_dip(reactance, starting_kva, generator_kva)
    return real_kw(starting_kva, power_factor) * left * left


def surge_profile(
    starting_kva: float,
    starting_pf: float,
    seconds: float,
    running_kva: float = 0.0,
    factor: float = 1.0,
) -> tuple[SurgeStep, ...]:
    """Turn one locked-rotor figure into a starting profile at full voltage.

    One step at locked-rotor draw for the whole start: the current of an induction motor falls only
    near full speed, so a single step is on the safe side (common practice, no source).

    Parameters
    ----------
    starting_kva, starting_pf : float
        Locked-rotor apparent power [kVA] and its power factor, above 0 and at most 1.
    seconds : float
        Length of the start [s]; positive.
    running_kva : float
        Running draw [kVA]; a motor that starts no harder than it runs has no surge.
    factor : float
        What a soft starter leaves of the locked-rotor kVA, above 0; 1 without one.

    Returns
    -------
    tuple of SurgeStep
        Empty if there is no surge.

    Raises
    ------
    ValueError
        If a surge lasts no time, the factor is not in (0, 1], or the power factor is out of range.
    """
    if not 0.0 < factor <= 1.0:
        msg = f"A soft starter leaves a part in (0, 1] of the starting kVA, not {factor:g}."
        raise ValueError(msg)
    kva = starting_kva * factor
    if kva <= running_kva:
        return ()
    if seconds <= 0.0:
        msg = f"A start takes time; got {seconds:g} s."
        raise ValueError(msg)
    return (SurgeStep(seconds, real_kw(kva, starting_pf), kva),)


def _per_unit(reactance: float, starting_kva: float, generator_kva: float) -> float:
    if reactance < 0.0 or starting_kva < 0.0 or generator_kva <= 0.0:
        msg = (f"Need X'd ≥ 0, starting kVA ≥ 0 and generator kVA > 0; got X'd {reactance:g}, "
               f"{starting_kva:g} kVA, {generator_kva:g} kVA.")
        raise ValueError(msg)
    return starting_kva / generator_kva
