"""Fuel burned by a generator, and how long a tank lasts."""

from __future__ import annotations

from planner.facts.price_book import FuelUse

BTU_PER_KWH = 3412.142
"""Heat of one kilowatt-hour [Btu] (definition, International Table Btu)."""

NATURAL_GAS_BTU_PER_FT3 = 1037.0
"""Higher heating value of pipeline natural gas [Btu/ft³] (EIA; 1036 to 1038 by year)."""

PROPANE_BTU_PER_GAL = 91452.0
"""Higher heating value of liquid propane [Btu/gal] (EIA)."""

PROPANE_BTU_PER_FT3 = 2488.0
"""Higher heating value of propane vapour [Btu/ft³] (older LP-gas property table). Others print 2500
(Federal Register, 2007) and 2516; the lowest asks for the largest pipe, and IFGC Table 402.4(28)
follows from it within 1 %."""

BTU_PER_THERM = 100000.0

FILL_LIMIT_SHARE, RESERVE_SHARE = 0.80, 0.20
"""Share of its water capacity to which a tank is filled (NFPA 58, from memory), and what is kept
in reserve (common practice, no source)."""


def fuel_btu_h(kw: float, rated_kw: float, use: FuelUse) -> float:
    """Give the heat of the fuel burned at a load [Btu/h, higher heating value].

    Parameters
    ----------
    kw : float
        Electrical load [kW]; not negative.
    rated_kw : float
        Load to which the full-load figure belongs, before derating [kW]; positive.
    use : FuelUse
        Figures at no, half and full load.

    Raises
    ------
    ValueError
        If the load is negative or the rating is not positive.

    Notes
    -----
    Straight lines through no, half and full load; an overload goes on along the upper line.
    """
    if kw < 0.0 or rated_kw <= 0.0:
        msg = f"Need load ≥ 0 and rating > 0; got {kw:g} kW of {rated_kw:g} kW."
        raise ValueError(msg)
    share = kw / rated_kw
    if share <= 0.5:
        return use.no_load_btu_h + 2.0 * share * (use.half_load_btu_h - use.no_load_btu_h)
    return use.half_load_btu_h + (2.0 * share - 1.0) * (use.full_load_btu_h - use.half_load_btu_h)


def fuel_btu_h_from_efficiency(kw: float, efficiency: float) -> float:
    """Give the heat burned at a load and an efficiency [Btu/h, higher heating value].

    Raises
    ------
    ValueError
        If the efficiency is not above 0 and at most 1.
    """
    if not 0.0 < efficiency <= 1.0:
        msg = f"An efficiency lies above 0 and at most at 1, not at {efficiency:g}."
        raise ValueError(msg)
    return kw * BTU_PER_KWH / efficiency


def natural_gas_ft3_h(btu_h: float, btu_per_ft3: float = NATURAL_GAS_BTU_PER_FT3) -> float:
    """Give the volume of natural gas that carries a heat [ft³/h]."""
    return btu_h / btu_per_ft3


def natural_gas_therm_h(btu_h: float) -> float:
    """Give the billed quantity of natural gas that carries a heat [therm/h]."""
    return btu_h / BTU_PER_THERM


def propane_gal_h(btu_h: float) -> float:
    """Give the volume of liquid propane that carries a heat [gal/h]."""
    return btu_h / PROPANE_BTU_PER_GAL


def propane_ft3_h(btu_h: float) -> float:
    """Give the volume of propane vapour that carries a heat [ft³/h]."""
    return btu_h / PROPANE_BTU_PER_FT3


def usable_gal(
    tank_gal: float, fill_share: float = FILL_LIMIT_SHARE, reserve_share: float = RESERVE_SHARE
) -> float:
    """Give the propane that a tank gives before its reserve is touched [gal].

    Parameters
    ----------
    tank_gal : float
        Water capacity [gal].
    fill_share, reserve_share : float
        How full it is at the start, at most 0.80, and what stays in it, as shares of the capacity.

    Raises
    ------
    ValueError
        If it is filled above the limit.
    """
    if not 0.0 <= fill_share <= FILL_LIMIT_SHARE:
        msg = f"A propane tank is filled to 80 % at most, not {100.0 * fill_share:g} % (NFPA 58)."
        raise ValueError(msg)
    return tank_gal * max(0.0, fill_share - reserve_share)


def run_time_h(fuel_gal: float, gal_h: float) -> float:
    """Give how long a quantity of fuel lasts [h].

    Raises
    ------
    ValueError
        If nothing is burned.
    """
    if gal_h <= 0.0:
        msg = f"A run time needs fuel to be burned; got {gal_h:g} gal/h."
        raise ValueError(msg)
    return fuel_gal / gal_h
