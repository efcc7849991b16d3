"""Fuel burned by a generator, and how long a tank lasts."""

from __future__ import annotations

from planner.facts.price_book import FuelUse

BTU_PER_KWH = 3412.142
"""Heat of one kilowatt-hour [Btu] (definition, International Table Btu)."""

NATURAL_GAS_BTU_PER_FT3 = 1037.0
"""Higher heating value of pipeline natural gas [Btu/ft³]: US Energy Information Administration,
"Units and calculators explained" (title from memory, read in a copy; 1036 to 1038 by year)."""

PROPANE_BTU_PER_GAL = 91452.0
"""Higher heating value of liquid propane [Btu/gal] (the same page of the EIA)."""

PROPANE_BTU_PER_FT3 = 2488.0
"""Higher heating value of propane vapour [Btu/ft³] (NFPA 58, Annex B, properties of LP-gases, from
memory; the figure was read in a copy without its title). Others print 2500 (Federal Register, 21
March 2007) and 2516 (NFPA, from memory); the lowest asks for the largest pipe, and IFGC 2018 Table
402.4(28) follows from it within 1.2 %."""

BTU_PER_THERM = 100000.0
"""Heat of one therm [Btu] (definition)."""

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
    Straight lines through no, half and full load; an overload goes on along the upper line (common
    practice, no source: the price book gives three points).
    """
    if kw < 0.0 or rated_kw <= 0.0:
        msg = f"Need load ≥ 0 and rating > 0; got {kw:g} kW of {rated_kw:g} kW."
        raise ValueError(msg)
    share = kw / rated_kw
    if share <= 0.5:
        return use.no_load_btu_h + 2.0 * share * (use.half_load_btu_h - use.no_load_btu_h)
    return use.half_load_btu_h + (2.0 * share - 1.0) * (use.full_load_btu_h - use.half_load_btu_h)


def natural_gas_ft3_h(btu_h: float, btu_per_ft3: float = NATURAL_GAS_BTU_PER_FT3) -> float:
    """Give the volume of natural gas that carries a heat [ft³/h].

    Parameters
    ----------
    btu_h : float
        Heat on the higher heating value [Btu/h].
    btu_per_ft3 : float
        Heating value, positive [Btu/ft³]; as a rule that of the EIA.
    """
    return btu_h / btu_per_ft3


def natural_gas_therm_h(btu_h: float) -> float:
    """Give the billed quantity of natural gas that carries a heat [therm/h].

    Parameters
    ----------
    btu_h : float
        Heat on the higher heating value [Btu/h]; 100,000 to the therm (definition).
    """
    return btu_h / BTU_PER_THERM


def propane_gal_h(btu_h: float) -> float:
    """Give the volume of liquid propane that carries a heat [gal/h].

    Parameters
    ----------
    btu_h : float
        Heat on the higher heating value [Btu/h]; 91,452 to the gallon (EIA).
    """
    return btu_h / PROPANE_BTU_PER_GAL


def propane_ft3_h(btu_h: float) -> float:
    """Give the volume of propane vapour that carries a heat [ft³/h].

    Parameters
    ----------
    btu_h : float
        Heat on the higher heating value [Btu/h]; 2488 to the cubic foot (NFPA 58, from memory).
    """
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

    References
    ----------
    Limit of 80 %: NFPA 58 (from memory); reserve of 20 %: common practice, no source.
    """
    if not 0.0 <= fill_share <= FILL_LIMIT_SHARE:
        msg = f"A propane tank is filled to 80 % at most, not {100.0 * fill_share:g} % (NFPA 58)."
        raise ValueError(msg)
    return tank_gal * max(0.0, fill_share - reserve_share)


def run_time_h(fuel_gal: float, gal_h: float) -> float:
    """Give how long a quantity of fuel lasts [h].

    Parameters
    ----------
    fuel_gal : float
        What is there [gal].
    gal_h : float
        What is burned, positive [gal/h].

    Raises
    ------
    ValueError
        If nothing is burned.

    Notes
    -----
    Fuel / rate (definition).
    """
    if gal_h <= 0.0:
        msg = f"A run time needs fuel to be burned; got {gal_h:g} gal/h."
        raise ValueError(msg)
    return fuel_gal / gal_h
