"""Steady draw: apparent power, real power, amperes on each leg of a 120/240 V system."""

from __future__ import annotations

from planner.facts.home import Leg

LEG_VOLTS = 120.0
LINE_VOLTS = 240.0
"""NEC 220.5(A) (2017 to 2023, from memory): voltages that loads are calculated with [V]."""


def amperes(kva: float, volts: float) -> float:
    """Give the current of a single-phase load [A].

    Parameters
    ----------
    kva : float
        Apparent power [kVA].
    volts : float
        Voltage across the load, positive [V].

    Raises
    ------
    ValueError
        If the voltage is not positive.

    Notes
    -----
    I = 1000·S / V (definition of apparent power).
    """
    if volts <= 0.0:
        msg = f"A voltage must be positive, not {volts:g} V."
        raise ValueError(msg)
    return 1000.0 * kva / volts


def leg_amperes(kva: float, leg: Leg) -> tuple[float, float]:
    """Give the current that a load draws on legs L1 and L2 [A].

    A 240 V load draws on both legs, a 120 V load on its own. Currents of several loads are added
    arithmetically, as in NEC Annex D, D1(b) (2005), which never understates a leg.

    Parameters
    ----------
    kva : float
        Apparent power [kVA].
    leg : {"L1", "L2", "both"}
        Where the load is connected.
    """
    if leg == "both":
        both_a = amperes(kva, LINE_VOLTS)
        return both_a, both_a
    own_a = amperes(kva, LEG_VOLTS)
    return (own_a, 0.0) if leg == "L1" else (0.0, own_a)


def real_kw(kva: float, power_factor: float) -> float:
    """Turn apparent into real power [kW] with the power factor in view.

    Parameters
    ----------
    kva : float
        Apparent power [kVA].
    power_factor : float
        Above 0 and at most 1.

    Raises
    ------
    ValueError
        If the power factor is not above 0 and at most 1.

    Notes
    -----
    P = S·pf (definition of the power factor).
    """
    return kva * _checked(power_factor)


def _checked(power_factor: float) -> float:
    if not 0.0 < power_factor <= 1.0:
        msg = f"A power factor lies above 0 and at most at 1, not at {power_factor:g}."
        raise ValueError(msg)
    return power_factor
