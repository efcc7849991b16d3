"""Conductors: ampacity with its corrections, next standard rating, size for a generator."""

from __future__ import annotations

from bisect import bisect_left

from planner.physics.wire.conductor_tables import (
    AMBIENT_FACTOR,
    AMPACITY_A,
    BUNDLING_FACTOR,
    DWELLING_SERVICE,
    SIZES,
    SMALL_CONDUCTOR_A,
    STANDARD_RATINGS_A,
    InsulationDegC,
    Material,
)

GENERATOR_SHARE = 1.15
"""NEC 445.13 (2017 to 2023): conductors up to the first overcurrent device, share of the nameplate
current."""

TABLE_AIR_DEGC = 30.0
"""NEC Table 310.16 (2020, 2023): the air that its ampacities are for [degC]."""
DWELLING_SHARE = 0.83
"""NEC 310.12 (2020, 2023): what the conductors of a dwelling's service carry of its rating."""

_COLUMN: dict[InsulationDegC, int] = {60: 0, 75: 1, 90: 2}


def next_standard_size_a(amperes: float) -> int:
    """Give the smallest standard overcurrent rating that is not below a current [A].

    Parameters
    ----------
    amperes : float
        Current, up to 6000 [A].

    Raises
    ------
    ValueError
        If the current is above the largest standard rating.

    References
    ----------
    NEC 240.6(A) (2017 to 2023; above 1200 A from memory).
    """
    place = bisect_left(STANDARD_RATINGS_A, amperes)
    if place == len(STANDARD_RATINGS_A):
        msg = f"No standard rating reaches {amperes:g} A (NEC 240.6(A) ends at 6000 A)."
        raise ValueError(msg)
    return STANDARD_RATINGS_A[place]


def ambient_factor(ambient_degc: float, insulation_degc: InsulationDegC) -> float:
    """Look up the correction of ampacity for the air around the conductor [1].

    Parameters
    ----------
    ambient_degc : float
        Temperature of the air, up to 55, 60 or 65 by insulation; below 10 counts as 10 [degC].
    insulation_degc : {60, 75, 90}
        What the insulation stands [degC].

    Raises
    ------
    ValueError
        If the air is hotter than the table allows for that insulation.

    References
    ----------
    NEC Table 310.15(B)(1) (numbering of 2020 and 2023).
    """
    for upper_degc, factor in AMBIENT_FACTOR[insulation_degc]:
        if ambient_degc <= upper_degc:
            return factor
    msg = (f"{ambient_degc:g} degC is too hot for {insulation_degc} degC insulation "
           "(NEC Table 310.15(B)(1)).")
    raise ValueError(msg)


def bundling_factor(current_carrying: int) -> float:
    """Look up the adjustment for more than three current-carrying conductors in one raceway [1].

    Parameters
    ----------
    current_carrying : int
        Current-carrying conductors in the raceway, at least 1.

    Raises
    ------
    ValueError
        If there is no conductor.

    References
    ----------
    NEC Table 310.15(C)(1) (numbering of 2020 and 2023); 35 % from 41 conductors on (from memory).
    """
    if current_carrying < 1:
        msg = f"Count at least one current-carrying conductor, not {current_carrying}."
        raise ValueError(msg)
    for most, factor in BUNDLING_FACTOR:
        if current_carrying <= most:
            return factor
    return 0.35


def ampacity_a(
    size: str,
    material: Material = "copper",
    insulation_degc: InsulationDegC = 75,
    ambient_degc: float = 30.0,
    current_carrying: int = 3,
) -> float:
    """Give the ampacity of a conductor where it lies [A].

    Parameters
    ----------
    size : str
        AWG ("14" to "4/0") or kcmil ("250" to "500").
    material : {"copper", "aluminum"}
        Of the conductor.
    insulation_degc : {60, 75, 90}
        Column of the table [degC].
    ambient_degc : float
        Temperature of the air around it [degC].
    current_carrying : int
        Current-carrying conductors in the raceway; the neutral of a 120/240 V feeder is none.

    Raises
    ------
    ValueError
        If the table has no such conductor, or the place is too hot.

    References
    ----------
    NEC Tables 310.16, 310.15(B)(1), 310.15(C)(1) (numbering of 2020 and 2023).
    """
    row = AMPACITY_A[material].get(size)
    if row is None:
        msg = f"NEC Table 310.16 has no {material} conductor {size!r}."
        raise ValueError(msg)
    return (row[_COLUMN[insulation_degc]] * ambient_factor(ambient_degc, insulation_degc)
            * bundling_factor(current_carrying))


def smallest_conductor(
    needed_a: float,
    material: Material = "copper",
    insulation_degc: InsulationDegC = 75,
    ambient_degc: float = 30.0,
    current_carrying: int = 3,
) -> str:
    """Find the smallest conductor whose ampacity is not below a current.

    Other parameters as in `ampacity_a`.

    Parameters
    ----------
    needed_a : float
        Current that it must carry, up to what 500 kcmil carries [A].

    Raises
    ------
    ValueError
        If no single conductor of the table carries it.

    References
    ----------
    NEC Table 310.16 (numbering of 2020 and 2023); small conductors by 240.4(D), which caps their
    overcurrent protection.
    """
    for size in SIZES:
        if size not in AMPACITY_A[material]:
            continue
        carried_a = ampacity_a(size, material, insulation_degc, ambient_degc, current_carrying)
        if min(carried_a, SMALL_CONDUCTOR_A[material].get(size, carried_a)) >= needed_a:
            return size
    msg = f"No single {material} conductor up to 500 kcmil carries {needed_a:.1f} A here."
    raise ValueError(msg)


def generator_conductor_a(nameplate_a: float) -> float:
    """Give the ampacity needed from generator terminals to the first overcurrent device [A].

    Parameters
    ----------
    nameplate_a : float
        Rated current of the generator [A].

    References
    ----------
    NEC 445.13 (2017 to 2023): 115 % of the nameplate current. The exception for designs that
    prevent overloading (100 %, from memory) is not taken.
    """
    return GENERATOR_SHARE * nameplate_a


def dwelling_conductor(
    service_a: float, material: Material = "copper", ambient_degc: float = TABLE_AIR_DEGC
) -> str:
    """Find the conductor of a service or feeder that carries an entire dwelling.

    Not for a generator feeder that carries less than the entire dwelling load (from memory).

    Parameters
    ----------
    service_a : float
        Rating of the service, 100 to 400; the next row of the table that is not below counts [A].
    material : {"copper", "aluminum"}
        Of the conductor.
    ambient_degc : float
        Air around it [degC]. Above that of Table 310.16 the table for dwellings does not hold, and
        wire of 90 degC insulation must carry 83 % of the rating after correction.

    Raises
    ------
    ValueError
        If the rating is below 100 A or above 400 A, or no single conductor carries it there.

    References
    ----------
    NEC 310.12 and Table 310.12(A) (numbering of 2020 and 2023), which follows from 83 % of the
    rating and Table 310.16 at 75 degC; Annex D, D7. That the table is for places without
    correction or adjustment is from memory.
    """
    if not 100.0 <= service_a <= 400.0:
        msg = f"NEC Table 310.12(A) holds services of 100 A to 400 A, not {service_a:g} A."
        raise ValueError(msg)
    rating = min(row for row in DWELLING_SERVICE if row >= service_a)
    copper, aluminum = DWELLING_SERVICE[rating]
    size = copper if material == "copper" else aluminum
    if ambient_degc <= TABLE_AIR_DEGC:
        return size
    corrected = smallest_conductor(DWELLING_SHARE * service_a, material, 90, ambient_degc)
    return max(size, corrected, key=SIZES.index)
