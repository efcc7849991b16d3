"""Voltage drop along a single-phase run."""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt

from planner.physics.conductor_tables import CIRCULAR_MILS, PVC_OHM_PER_KFT, Material

BRANCH_DROP, TOTAL_DROP = 0.03, 0.05
"""NEC 210.19 and 215.2 (2017 to 2023), informational notes: recommended, not required."""

_K_OHM_CMIL_PER_FT: Mapping[Material, float] = {"copper": 12.9, "aluminum": 21.2}
"""Resistance of a wire of one circular mil and one foot at 75 degC [ohm] (common practice, no
source; within 2 % of NEC Chapter 9, Table 8)."""


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


def voltage_drop_by_constant_v(
    amperes: float, length_ft: float, size: str, material: Material = "copper"
) -> float:
    """Give the voltage lost along a run from its cross section [V].

    Parameters
    ----------
    amperes, length_ft : float
        Current [A]; one-way length [ft].
    size : str
        AWG, "14" to "4/0".
    material : {"copper", "aluminum"}
        Of the conductor.

    Raises
    ------
    ValueError
        If the table has no such size.

    Notes
    -----
    V = 2·K·I·L / CM with K = 12.9 (copper), 21.2 (aluminum) (common practice, no source); CM by NEC
    Chapter 9, Table 8 (2017 to 2023).
    """
    if size not in CIRCULAR_MILS:
        msg = f"NEC Chapter 9, Table 8 as held here has no size {size!r}: 14 to 4/0."
        raise ValueError(msg)
    return 2.0 * _K_OHM_CMIL_PER_FT[material] * amperes * length_ft / CIRCULAR_MILS[size]


def effective_ohm_per_kft(size: str, power_factor: float) -> float:
    """Give the effective impedance of copper in PVC conduit [ohm per 1000 ft].

    Parameters
    ----------
    size : str
        AWG, "14" to "4/0".
    power_factor : float
        Of the load, 0 to 1, lagging.

    Raises
    ------
    ValueError
        If the table has no such size or the power factor is out of range.

    Notes
    -----
    Z = R·cosθ + X·sinθ, the rule below NEC Chapter 9, Table 9 (2017 to 2023).
    """
    if size not in PVC_OHM_PER_KFT:
        msg = f"NEC Chapter 9, Table 9 as held here has no size {size!r}: 14 to 4/0."
        raise ValueError(msg)
    if not 0.0 <= power_factor <= 1.0:
        msg = f"A power factor lies from 0 to 1, not at {power_factor:g}."
        raise ValueError(msg)
    resistance, reactance = PVC_OHM_PER_KFT[size]
    return resistance * power_factor + reactance * sqrt(1.0 - power_factor * power_factor)
