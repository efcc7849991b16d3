"""The standard atmosphere up to 36,000 ft: why an engine gives less power higher up."""

from __future__ import annotations

from dataclasses import dataclass

M_PER_FT = 0.3048
SEA_LEVEL_K, SEA_LEVEL_PA, SEA_LEVEL_KG_M3 = 288.15, 101325.0, 1.225
LAPSE_K_PER_M, PRESSURE_EXPONENT = 0.0065, 5.25588
"""ICAO Doc 7488 (third edition, 1993, from memory): sea level values, lapse of the troposphere."""

HIGHEST_FT, LOWEST_FT = 36089.0, -2000.0


@dataclass(frozen=True, slots=True)
class Air:
    """State of the standard atmosphere [K, Pa, kg/m³]; the ratios are to sea level [1]."""

    temperature_k: float
    pressure_pa: float
    density_kg_m3: float

    @property
    def pressure_ratio(self) -> float:
        """Pressure over that at sea level [1]."""
        return self.pressure_pa / SEA_LEVEL_PA

    @property
    def density_ratio(self) -> float:
        """Density over that at sea level [1]."""
        return self.density_kg_m3 / SEA_LEVEL_KG_M3


def standard_air(altitude_ft: float) -> Air:
    """Give the standard atmosphere at an altitude.

    Parameters
    ----------
    altitude_ft : float
        Geopotential altitude, −2000 to 36,089 ft [ft].

    Raises
    ------
    ValueError
        Outside that range.

    Notes
    -----
    T = 288.15 − 0.0065·h, p = p0·(T/T0)^5.25588, density ratio = (p/p0)·(T0/T).

    References
    ----------
    ICAO Doc 7488, Manual of the ICAO Standard Atmosphere (third edition, 1993, from memory).
    """
    if not LOWEST_FT <= altitude_ft <= HIGHEST_FT:
        msg = f"The standard atmosphere here holds −2000 to 36,089 ft, not {altitude_ft:g} ft."
        raise ValueError(msg)
    temperature_k = SEA_LEVEL_K - LAPSE_K_PER_M * altitude_ft * M_PER_FT
    warmth = temperature_k / SEA_LEVEL_K
    pressure_ratio: float = warmth**PRESSURE_EXPONENT
    return Air(temperature_k, SEA_LEVEL_PA * pressure_ratio,
               SEA_LEVEL_KG_M3 * pressure_ratio / warmth)
