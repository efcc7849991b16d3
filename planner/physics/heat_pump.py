"""What an air conditioner or a heat pump draws and gives, by its age and the outdoor temperature.

The nameplate is a maximum for conductors and breakers; what the machine draws on a day follows from
its capacity and its efficiency at that day's temperature. All curves are straight lines between
rating points and are held at their ends.
"""

from __future__ import annotations

from planner.physics.fuel import BTU_PER_KWH

BTU_H_PER_TON = 12000.0
COOLING_DEGF = (65.0, 125.0)
"""Outdoor temperatures between which the cooling curves run [degF]; held beyond."""

HEATING_DEGF = (-20.0, 65.0)
"""Outdoor temperatures between which the heating curves run [degF]; held beyond."""

_SINCE = (
    (2015, 11.85),  # SEER 14: EER 11.7 to 12 (from memory)
    (2006, 11.0),  # SEER 13 (from memory)
    (1992, 8.75),  # SEER 10: EER 8.5 to 9 (from memory)
    (0, 8.0),  # before any minimum; common practice, no source
)
_POWER_SPREAD = 0.10  # of units of one age; common practice, no source

_CAPACITY_PER_DEGF, _POWER_PER_DEGF = 0.00515, 0.011
_HEATING = {  # inverter: (low degF, capacity share there, COP there), COP at 47 degF
    False: ((17.0, 0.625, 2.35), 3.4),
    True: ((5.0, 0.70, 1.75), 3.6),
}


def eer_at_95(year: int | None, since: int = 1992) -> tuple[float, float, float]:
    """Give the least, the middle and the greatest energy efficiency ratio at 95 degF [Btu/(h·W)].

    Parameters
    ----------
    year : int or None
        Year of make; None where it is not known: every age from `since` on.
    since : int
        Year from which on such units are usual; the first minimum is of 1992.

    Returns
    -------
    tuple of float
        Low, middle, high. The middle is the one whose power is halfway between the powers at the
        ends, so that the power is the middle one's, more or less by one share.

    Notes
    -----
    A unit of the least efficiency that could be sold in its year: SEER 10 from 1992, 13 from 2006,
    14 (in the south) from 2015, SEER2 13.4 and 13.8 from 2023, which is no higher than SEER 14
    (2006 and SEER2: 16 CFR 305 App. H; 1992, 2015 and the EER of each SEER from memory). Units of
    one age draw 10 % more or less (common practice, no source).
    """
    if year is not None:
        middle = next(eer for first, eer in _SINCE if year >= first)
        return middle / (1.0 + _POWER_SPREAD), middle, middle / (1.0 - _POWER_SPREAD)
    low, high = eer_at_95(since)[0], eer_at_95(2015)[2]
    return low, 2.0 * low * high / (low + high), high


def cooling_capacity_share(outdoor_degf: float) -> float:
    """Give the cooling capacity as a share of that at 95 degF [0.85-1.15].

    Parameters
    ----------
    outdoor_degf : float
        Outdoor temperature [degF].

    Notes
    -----
    1 − 0.00515·(T − 95): the slope of the residential model of GridLAB-D (PNNL, from memory).
    """
    return 1.0 - _CAPACITY_PER_DEGF * (_held(outdoor_degf, COOLING_DEGF) - 95.0)


def cooling_power_share(outdoor_degf: float) -> float:
    """Give the power drawn while it cools as a share of that at 95 degF [0.67-1.33].

    Parameters
    ----------
    outdoor_degf : float
        Outdoor temperature [degF].

    Notes
    -----
    1 + 0.011·(T − 95). Derived: a single-speed unit has SEER = EER at 82 degF · (1 − C_D / 2)
    (AHRI 210/240, from memory) with C_D 0.15 to 0.25, so SEER 13 with EER 11 has 1.28 to 1.35 times
    its EER at 82 degF, and SEER 10 with 8.75 has 1.24 to 1.31; with 1.067 times the capacity the
    power there is 0.79 to 0.86. The flattest of these counts at 82 degF, where it is the cautious
    one; above 95 degF it is common practice (1 to 1.2 % a degree), no source.
    """
    return 1.0 + _POWER_PER_DEGF * (_held(outdoor_degf, COOLING_DEGF) - 95.0)


def heating_capacity_share(outdoor_degf: float, *, inverter: bool = False) -> float:
    """Give the heating capacity as a share of that at 47 degF [0.16-1.23].

    Parameters
    ----------
    outdoor_degf : float
        Outdoor temperature [degF].
    inverter : bool
        Whether it is made for the cold, with a variable-speed compressor.

    Notes
    -----
    A straight line through the rating points of AHRI 210/240: a single-speed unit has 0.6 to 0.65
    at 17 degF (from memory); a cold-climate unit at least 0.70 at 5 degF (the requirement of a
    programme, seen second-hand: from memory).
    """
    (low_degf, share, _), _ = _HEATING[inverter]
    return _line(_held(outdoor_degf, HEATING_DEGF), low_degf, share, 1.0)


def heating_cop(outdoor_degf: float, *, inverter: bool = False) -> float:
    """Give the coefficient of performance while it heats, heat over electricity [1-4.4].

    Parameters
    ----------
    outdoor_degf : float
        Outdoor temperature [degF].
    inverter : bool
        Whether it is made for the cold, with a variable-speed compressor.

    Notes
    -----
    A straight line through the rating points of AHRI 210/240, never below 1: single-speed 3.2 to
    3.6 at 47 degF and 2.2 to 2.5 at 17 (from memory); cold-climate 3.6 at 47 (the upper end of the
    same) and at least 1.75 at 5 degF (the requirement of a programme, seen second-hand: from
    memory).
    """
    (low_degf, _, low_cop), cop = _HEATING[inverter]
    return max(1.0, _line(_held(outdoor_degf, HEATING_DEGF), low_degf, low_cop, cop))


def cooling_kw(tons: float, eer: float, outdoor_degf: float) -> float:
    """Give the power that a unit draws while it cools, compressor and fans [kW].

    Parameters
    ----------
    tons : float
        Capacity at 95 degF, not negative [ton].
    eer : float
        Energy efficiency ratio at 95 degF, positive [Btu/(h·W)].
    outdoor_degf : float
        Outdoor temperature [degF].

    Raises
    ------
    ValueError
        If the efficiency is not positive.

    Notes
    -----
    capacity / EER (definition of the ratio), times the share of `cooling_power_share`.
    """
    if eer <= 0.0:
        msg = f"An energy efficiency ratio is positive, not {eer:g}."
        raise ValueError(msg)
    return BTU_H_PER_TON * tons / eer / 1000.0 * cooling_power_share(outdoor_degf)


def heating_kw(tons: float, outdoor_degf: float, *, inverter: bool = False) -> float:
    """Give the power that a heat pump draws while it heats, compressor and fans [kW].

    Parameters
    ----------
    tons : float
        Capacity at 47 degF, usually that of its cooling, not negative [ton].
    outdoor_degf : float
        Outdoor temperature [degF].
    inverter : bool
        Whether it is made for the cold, with a variable-speed compressor.

    Notes
    -----
    capacity · share / COP (definition of the coefficient).
    """
    heat_kw = BTU_H_PER_TON * tons / BTU_PER_KWH * heating_capacity_share(
        outdoor_degf, inverter=inverter)
    return heat_kw / heating_cop(outdoor_degf, inverter=inverter)


def _held(outdoor_degf: float, ends_degf: tuple[float, float]) -> float:
    return min(max(outdoor_degf, ends_degf[0]), ends_degf[1])


def _line(outdoor_degf: float, low_degf: float, at_low: float, at_47: float) -> float:
    return at_low + (at_47 - at_low) * (outdoor_degf - low_degf) / (47.0 - low_degf)
