"""How fast a propane tank makes vapour: a cold, nearly empty tank starves an engine.

Two methods differ by about two. The rule D·L·K (from memory) is for intermittent draw, the table
(common practice, no source: read in a scanned copy without its title) nearer to steady draw; an
outage of days is steady, so the table counts, and the supplier decides.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from functools import lru_cache

TABLE_TANK_GAL, LARGEST_TANK_GAL = 500.0, 1000.0
FILL_SHARES = (0.10, 0.20, 0.30, 0.40, 0.60, 0.80)
FROM_EMPTY = (0.0, *FILL_SHARES)
VAPORISATION_BTU_H: Mapping[float, tuple[float, ...]] = {
    -20.0: (22750.0, 29125.0, 38250.0, 45150.0, 56250.0, 75100.0),
    -10.0: (45000.0, 59150.0, 77350.0, 91000.0, 113750.0, 150150.0),
    0.0: (91000.0, 113750.0, 154700.0, 182000.0, 236600.0, 295750.0),
    10.0: (136500.0, 182000.0, 227500.0, 273000.0, 364000.0, 455000.0),
    20.0: (182000.0, 236600.0, 304850.0, 364000.0, 447750.0, 591500.0),
}
"""500 gal tank of 41 in by 8 ft 8 in [Btu/h] by temperature [degF] and fill (common practice, no
source). The copy has 614,250 in the last cell; twice the row of 0 degF, 2 · 295,750, as elsewhere,
is on the safe side. So is its 447,750 at 20 degF and 60 %, where twice that row is 473,200."""

BOILING_DEGF = -44.0
"""Propane does not boil below this at atmospheric pressure [degF] (NFPA 58, Annex B, properties of
LP-gases, from memory; the figure was read in a copy without its title)."""

RULE_K: Mapping[float, float] = {0.10: 45.0, 0.20: 60.0, 0.30: 70.0, 0.40: 80.0, 0.50: 90.0,
                                 0.60: 100.0}
RULE_MULTIPLIER: Mapping[float, float] = {-15.0: 0.25, -10.0: 0.50, -5.0: 0.75, 0.0: 1.0,
                                          5.0: 1.25, 10.0: 1.50, 15.0: 1.75, 20.0: 2.00}
"""Rule D·L·K for intermittent draw, K by fill and multiplier by degF (from memory)."""


def vaporisation_btu_h(tank_gal: float, fill_share: float, temperature_degf: float) -> float:
    """Give the heat of the vapour that an above-ground tank gives steadily [Btu/h].

    Parameters
    ----------
    tank_gal : float
        Water capacity, above 0 and up to 1000 [gal].
    fill_share : float
        How full it is, 0 to 0.80; take the reserve, not the start.
    temperature_degf : float
        Of the air; above 20 degF the row of 20 degF counts, below −20 degF a line to nothing at
        −44 degF.

    Raises
    ------
    ValueError
        If the tank or the fill is out of range.

    Notes
    -----
    Bilinear between the cells of the table of a 500 gal tank, in proportion to the capacity. A
    smaller tank has more surface per gallon than that; for 1000 gal at 20 degF and 20 % fill the
    copy says 477,350, this 473,200.

    References
    ----------
    Common practice, no source: a table read in a scanned copy without its title.
    """
    if not 0.0 < tank_gal <= LARGEST_TANK_GAL:
        msg = f"The table reaches tanks of 1000 gal, not {tank_gal:g} gal: ask the supplier."
        raise ValueError(msg)
    if not 0.0 <= fill_share <= FILL_SHARES[-1]:
        msg = f"A fill lies from 0 to 80 %, not at {100.0 * fill_share:g} %."
        raise ValueError(msg)
    at_500_gal = _between(FROM_EMPTY, _at_500_gal(temperature_degf), fill_share)
    return at_500_gal * tank_gal / TABLE_TANK_GAL


@lru_cache(maxsize=256)
def _at_500_gal(temperature_degf: float) -> tuple[float, ...]:
    """Give the heat of the vapour of the table's tank by the fills of `FROM_EMPTY` [Btu/h]."""
    temperatures = (BOILING_DEGF, *VAPORISATION_BTU_H)
    columns = zip(*VAPORISATION_BTU_H.values(), strict=True)
    return (0.0, *(_between(temperatures, (0.0, *column), temperature_degf)
                   for column in columns))


def least_fill_share(all_gal: float, btu_h: float, temperature_degf: float) -> float | None:
    """Find the fill from which on tanks give a heat of vapour steadily; None if not even at 80 %.

    Parameters
    ----------
    all_gal : float
        Water capacity of all tanks, filled alike [gal].
    btu_h : float
        At least 0 [Btu/h].
    temperature_degf : float
        As `vaporisation_btu_h` takes it.

    Notes
    -----
    The table rises with the fill and is straight between its fills, so a piece of it is inverted.
    """
    fills, given = FROM_EMPTY, [all_gal / TABLE_TANK_GAL * gives
                                for gives in _at_500_gal(temperature_degf)]
    if given[-1] < btu_h:
        return None
    upper = next(place for place, gives in enumerate(given) if gives >= btu_h)
    if upper == 0:
        return 0.0
    below, above = given[upper - 1], given[upper]
    share = (btu_h - below) / (above - below)
    return fills[upper - 1] + share * (fills[upper] - fills[upper - 1])


def intermittent_vaporisation_btu_h(
    diameter_in: float, length_in: float, fill_share: float, temperature_degf: float
) -> float:
    """Give the rule-of-thumb vaporisation for intermittent draw [Btu/h].

    About twice what a steady draw may take: never size a standby tank by it.

    Parameters
    ----------
    diameter_in, length_in : float
        Outside diameter and overall length, positive [in].
    fill_share : float
        0.10 to 0.60; interpolated.
    temperature_degf : float
        −15 to 20; interpolated [degF].

    Raises
    ------
    ValueError
        If fill or temperature lies outside the rule.

    Notes
    -----
    D·L·K times the multiplier of the temperature (from memory).
    """
    if not 0.10 <= fill_share <= 0.60 or not -15.0 <= temperature_degf <= 20.0:
        msg = (f"The rule holds for 10 % to 60 % fill and −15 to 20 degF, not for "
               f"{100.0 * fill_share:g} % at {temperature_degf:g} degF.")
        raise ValueError(msg)
    factor = _between(tuple(RULE_K), tuple(RULE_K.values()), fill_share)
    multiplier = _between(tuple(RULE_MULTIPLIER), tuple(RULE_MULTIPLIER.values()), temperature_degf)
    return diameter_in * length_in * factor * multiplier


def _between(places: Sequence[float], values: Sequence[float], place: float) -> float:
    """Interpolate on a line, flat beyond both ends."""
    if place <= places[0]:
        return values[0]
    if place >= places[-1]:
        return values[-1]
    upper = bisect_right(places, place)
    share = (place - places[upper - 1]) / (places[upper] - places[upper - 1])
    return values[upper - 1] + share * (values[upper] - values[upper - 1])
