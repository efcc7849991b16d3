"""Pressure of propane over its liquid: what a cold tank leaves for the pipe."""

from __future__ import annotations

from math import exp

from planner.physics.pipe_tables import ATMOSPHERE_PSI

ANTOINE = (15.7260, 1872.46, -25.16)
"""A, B [K] and C [K] of propane for mmHg and natural logarithms: Reid, Prausnitz, Sherwood, "The
Properties of Gases and Liquids", 3rd ed. (1977), Appendix A, for 164 to 249 K (from memory)."""
PSI_PER_MMHG = 14.6959 / 760.0
"""By definition: a standard atmosphere over 760 mm of mercury."""
FROM_DEGF, TO_DEGF = -160.0, 110.0


def propane_psi(temperature_degf: float) -> float:
    """Give the gauge pressure of propane over its liquid, at sea level [psi].

    Parameters
    ----------
    temperature_degf : float
        Of the liquid, −160 degF or warmer; above 110 degF that of 110 counts.

    Returns
    -------
    float
        Below 0 where the tank sucks air rather than gives vapour.

    Raises
    ------
    ValueError
        If it is colder.

    Notes
    -----
    ln p = A − B / (T + C), less the atmosphere. From −40 to 60 degF it lies up to 0.5 psi below
    the reference equation of state, at 110 degF 3 psi: on the safe side. Higher up a gauge reads
    more, which is left out; while vapour is drawn the liquid is colder than the air.

    References
    ----------
    As `ANTOINE`.
    """
    if temperature_degf < FROM_DEGF:
        msg = f"The pressure of propane is given from {FROM_DEGF:g} degF, not {temperature_degf:g}."
        raise ValueError(msg)
    a, b, c = ANTOINE
    kelvin = (min(temperature_degf, TO_DEGF) + 459.67) / 1.8
    return exp(a - b / (kelvin + c)) * PSI_PER_MMHG - ATMOSPHERE_PSI
