"""Impedance of a run of wire, and the voltage that it loses."""

from __future__ import annotations

from math import sqrt

from planner.facts.site import Raceway
from planner.physics.wire.conductor_tables import DC_OHM_PER_KFT, SIZES, Material
from planner.physics.wire.impedance_tables import AC_OHM_PER_KFT, REACTANCE_OHM_PER_KFT

BRANCH_DROP, TOTAL_DROP = 0.03, 0.05
"""NEC 210.19 and 215.2 (2017 to 2023), informational notes: recommended, not required; 3 % holds
for a feeder or a branch circuit alone, 5 % for both together."""
USUAL_POWER_FACTOR = 0.85
"""Power factor of the effective impedances that NEC Chapter 9, Table 9 (2017 to 2023) prints."""


def voltage_drop_v(amperes: float, length_ft: float, ohm_per_kft: float) -> float:
    """Give the voltage lost along a two-wire or balanced three-wire single-phase run [V].

    Parameters
    ----------
    amperes : float
        Current, not negative [A].
    length_ft : float
        One way, not negative [ft].
    ohm_per_kft : float
        Resistance, or effective impedance, of one conductor [ohm per 1000 ft].

    Notes
    -----
    V = 2·I·L·Z / 1000, there and back (derived: Ohm's law).
    """
    return 2.0 * amperes * length_ft * ohm_per_kft / 1000.0


def longest_run_ft(amperes: float, drop_v: float, ohm_per_kft: float) -> float:
    """Give the one-way length at which a run loses a voltage [ft]: `voltage_drop_v` turned round.

    Parameters
    ----------
    amperes, ohm_per_kft : float
        As there, positive [A], [ohm per 1000 ft].
    drop_v : float
        Not negative [V].

    Raises
    ------
    ValueError
        If the current or the impedance is not positive.

    Notes
    -----
    L = 1000·V / (2·I·Z) (derived).
    """
    if amperes <= 0.0 or ohm_per_kft <= 0.0:
        msg = f"Need a current and an impedance; got {amperes:g} A, {ohm_per_kft:g} ohm/kft."
        raise ValueError(msg)
    return 1000.0 * drop_v / (2.0 * amperes * ohm_per_kft)


def wire_ohm_per_kft(
    size: str, material: Material = "copper", raceway: Raceway = "PVC"
) -> complex:
    """Give resistance and reactance of one conductor in a raceway [ohm per 1000 ft].

    The printed resistances have two digits; where the direct-current resistance, printed with
    three, is above them, it counts, so that no drop is understated by a rounding.

    Parameters
    ----------
    size : str
        AWG, "14" to "4/0", or kcmil, "250" to "500".
    material : {"copper", "aluminum"}
        Of the conductor.
    raceway : {"PVC", "steel"}
        What it lies in.

    Raises
    ------
    ValueError
        If the table has no such conductor.

    References
    ----------
    NEC Chapter 9, Tables 8 and 9 (2017 to 2023), at 75 degC and 60 Hz.
    """
    resistance = AC_OHM_PER_KFT[material][raceway].get(size)
    if resistance is None:
        msg = f"NEC Chapter 9, Table 9 as held here has no {material} of size {size!r}: to 500."
        raise ValueError(msg)
    return complex(max(resistance, DC_OHM_PER_KFT[material][size]),
                   REACTANCE_OHM_PER_KFT[raceway][size])


def effective_ohm_per_kft(
    size: str, power_factor: float, material: Material = "copper", raceway: Raceway = "PVC"
) -> float:
    """Give the effective impedance of one conductor [ohm per 1000 ft].

    Parameters
    ----------
    size, material, raceway : str
        As in `wire_ohm_per_kft`.
    power_factor : float
        Of the load, 0 to 1, lagging.

    Raises
    ------
    ValueError
        If the table has no such conductor or the power factor is out of range.

    Notes
    -----
    Z = R·cosθ + X·sinθ, the rule below NEC Chapter 9, Table 9 (2017 to 2023).
    """
    if not 0.0 <= power_factor <= 1.0:
        msg = f"A power factor lies from 0 to 1, not at {power_factor:g}."
        raise ValueError(msg)
    ohm = wire_ohm_per_kft(size, material, raceway)
    return ohm.real * power_factor + ohm.imag * sqrt(1.0 - power_factor * power_factor)


def highest_ohm_per_kft(
    size: str, material: Material = "copper", raceway: Raceway = "PVC"
) -> float:
    """Give the effective impedance for a load of unknown power factor [ohm per 1000 ft].

    Parameters
    ----------
    size, material, raceway : str
        As in `wire_ohm_per_kft`.

    Returns
    -------
    float
        That at a power factor of 1 or at `USUAL_POWER_FACTOR`, whichever is more: small wire loses
        more at 1, large wire at 0.85.

    References
    ----------
    NEC Chapter 9, Table 9 (2017 to 2023), for 0.85; that both are looked at is a choice, no source.
    """
    return max(effective_ohm_per_kft(size, power_factor, material, raceway)
               for power_factor in (1.0, USUAL_POWER_FACTOR))


def size_for_drop(
    least_size: str, amperes: float, length_ft: float, allowed_v: float,
    material: Material = "copper", raceway: Raceway = "PVC",
) -> str:
    """Find the smallest conductor, not below a size, along which no more voltage is lost.

    Parameters
    ----------
    least_size : str
        What the current needs.
    amperes, length_ft : float
        As in `voltage_drop_v` [A], [ft].
    allowed_v : float
        Allowed voltage drop [V].
    material, raceway : str
        As in `wire_ohm_per_kft`.

    Raises
    ------
    ValueError
        If no single conductor up to 500 kcmil is enough.

    Notes
    -----
    The impedance falls with the size, so the first that keeps the drop is the smallest (derived).
    """
    for size in SIZES[SIZES.index(least_size):]:
        if size in AC_OHM_PER_KFT[material][raceway]:
            lost_v = voltage_drop_v(amperes, length_ft, highest_ohm_per_kft(size, material,
                                                                            raceway))
            if lost_v <= allowed_v:
                return size
    msg = (f"No single {material} conductor up to 500 kcmil keeps {amperes:.1f} A over "
           f"{length_ft:g} ft within {allowed_v:.1f} V.")
    raise ValueError(msg)
