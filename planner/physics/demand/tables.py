"""Constants and tables of the calculated load, by edition.

Values were read in secondary copies of the NEC, except what is marked from memory; where no edition
is named, they are the same from 2017 to 2023.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

from planner.facts.home import CodeEdition

CIRCUIT_VA = 1500.0
"""NEC 220.52(A) and (B): each small-appliance and each laundry branch circuit [VA]."""

LEAST_SMALL_APPLIANCE_CIRCUITS, LEAST_LAUNDRY_CIRCUITS = 2, 1
"""NEC 220.52(A) and (B), 220.82(B)(2)."""

LIGHTING_VA_PER_FT2: Mapping[CodeEdition, float] = {
    "2017": 3.0, "2020": 3.0, "2023": 3.0, "2026": 2.0}
"""NEC 220.12 (2017), 220.14(J) (2020), 220.41 (2023): 3 VA/ft²; Article 120 (2026): 2 VA/ft²."""

LIGHTING_CLAUSE: Mapping[CodeEdition, str] = {
    "2017": "220.12", "2020": "220.14(J)", "2023": "220.41", "2026": "120.41"}
"""Where the NEC has the load by area; the moves from memory."""

LIGHTING_TABLE: Mapping[CodeEdition, str] = {
    "2017": "Table 220.42", "2020": "Table 220.42", "2023": "Table 220.45", "2026": "Table 120.45"}
"""Where the NEC has its demand factors; the moves from memory."""

LIGHTING_STEPS: tuple[tuple[float, float], ...] = (
    (3000.0, 1.0), (120000.0, 0.35), (float("inf"), 0.25))
"""NEC Table 220.42 (2020), 220.45 (2023), dwellings: (upper end [VA], share)."""

FIRST_STEP_VA: Mapping[CodeEdition, float] = {
    "2017": 10000.0, "2020": 10000.0, "2023": 10000.0, "2026": 8000.0}
"""NEC 220.82(B): what counts in full; 8 kVA in 120.82(B) of 2026."""

EXISTING_FIRST_STEP_VA = 8000.0
"""NEC 220.83: what counts in full in an existing dwelling."""

OPTIONAL_LEAST_A = 100.0
"""NEC 220.82(A): the optional method is for a service or feeder of at least this [A]."""

REST_SHARE = 0.40
"""NEC 220.82(B), 220.83: what counts of the rest."""

FIXED_APPLIANCE_COUNT, FIXED_APPLIANCE_SHARE = 4, 0.75
"""NEC 220.53: four or more appliances fastened in place count at 75 %."""

FIXED_APPLIANCE_LEAST_VA: Mapping[CodeEdition, float] = {
    "2017": 0.0, "2020": 500.0, "2023": 500.0, "2026": 500.0}
"""NEC 220.53 from 2020 on: smaller appliances are not among the four (from memory)."""

DRYER_LEAST_VA = 5000.0
"""NEC 220.54: each dryer counts at least 5000 VA."""

VEHICLE_LEAST_VA = 7200.0
"""NEC 220.57 (2023): each vehicle supply equipment counts at least 7200 VA; not in 2026."""

LARGEST_MOTOR_SHARE = 0.25
"""NEC 220.50 and 430.24: added for the largest motor."""

NEUTRAL_SHARE, NEUTRAL_FULL_VA = 0.70, 200.0 * 240.0
"""NEC 220.61(B): 70 % of cooking and dryers, and of the unbalanced load above 200 A."""

DRYER_SHARE: tuple[float, ...] = (1.0, 1.0, 1.0, 1.0, 0.85, 0.75, 0.65, 0.60, 0.55, 0.50, 0.47)
"""NEC Table 220.54: demand factor of 1 to 11 dryers."""

COOKING_SMALL_SHARE: tuple[float, ...] = (
    0.80, 0.75, 0.70, 0.66, 0.62, 0.59, 0.56, 0.53, 0.51, 0.49, 0.47, 0.45, 0.43, 0.41, 0.40,
    0.39, 0.38, 0.37, 0.36, 0.35, 0.34, 0.33, 0.32, 0.31, 0.30)
"""NEC Table 220.55, Column A (1¾ to below 3½ kW), 1 to 25 units; 11 to 23 from memory."""

COOKING_MIDDLE_SHARE: tuple[float, ...] = (
    0.80, 0.65, 0.55, 0.50, 0.45, 0.43, 0.40, 0.36, 0.35, 0.34, 0.32, 0.32, 0.32, 0.32, 0.32,
    0.28, 0.28, 0.28, 0.28, 0.28, 0.26, 0.26, 0.26, 0.26, 0.26)
"""NEC Table 220.55, Column B (3½ to 8¾ kW), 1 to 25 units; 11 to 23 from memory."""

COOKING_DEMAND_KW: tuple[float, ...] = (8.0, 11.0, 14.0, 17.0, 20.0, 21.0, 22.0, 23.0, 24.0, 25.0)
"""NEC Table 220.55, Column C (up to 12 kW): maximum demand of 1 to 10 units [kW]."""


@lru_cache(maxsize=256)
def clause(edition: CodeEdition, number: str) -> str:
    """Name a clause by the numbering of an edition: Article 220 became Article 120 in 2026.

    The suffixes are kept (120.82, 120.83, 120.87, 120.57), by secondary summaries of NEC 2026.

    Parameters
    ----------
    edition : CodeEdition
        Of the code.
    number : str
        The clause by the numbering of 2017 to 2023.
    """
    return number.replace("220.", "120.") if edition == "2026" else number


def small_cooking_share(units: int) -> float:
    """Look up the demand factor of small cooking appliances, 1¾ to below 3½ kW [1].

    Parameters
    ----------
    units : int
        Appliances, at least 1.

    Raises
    ------
    ValueError
        If there is no unit.

    References
    ----------
    NEC Table 220.55 (2017 to 2023), Column A; 11 to 23 units from memory.
    """
    return _at(COOKING_SMALL_SHARE, units)


def middle_cooking_share(units: int) -> float:
    """Look up the demand factor of middle cooking appliances, 3½ to 8¾ kW [1].

    Parameters
    ----------
    units : int
        Appliances, at least 1.

    Raises
    ------
    ValueError
        If there is no unit.

    References
    ----------
    NEC Table 220.55 (2017 to 2023), Column B; 11 to 23 units from memory.
    """
    for most, share in ((25, None), (30, 0.24), (40, 0.22), (50, 0.20), (60, 0.18)):
        if units <= most:
            return share or _at(COOKING_MIDDLE_SHARE, units)
    return 0.16


def cooking_demand_kw(units: int) -> float:
    """Look up the maximum demand of ranges above 8¾ and up to 12 kW [kW].

    Parameters
    ----------
    units : int
        Appliances, at least 1.

    Raises
    ------
    ValueError
        If there is no unit.

    References
    ----------
    NEC Table 220.55 (2017 to 2023), Column C. 11 to 40 units: 15 + n; from 41 on: 25 + ¾·n (the
    change at 41 from memory: a copy of the table has it at 31, where the two do not meet).
    """
    if units <= len(COOKING_DEMAND_KW):
        return _at(COOKING_DEMAND_KW, units)
    return 15.0 + units if units <= 40 else 25.0 + 0.75 * units


def dryer_share(units: int) -> float:
    """Look up the demand factor of clothes dryers [1].

    Parameters
    ----------
    units : int
        Dryers, at least 1.

    Raises
    ------
    ValueError
        If there is no dryer.

    References
    ----------
    NEC Table 220.54 (2017 to 2023); above 11 dryers from memory.
    """
    if units <= len(DRYER_SHARE):
        return _at(DRYER_SHARE, units)
    if units <= 23:
        return (47.0 - (units - 11)) / 100.0
    return (35.0 - 0.5 * (units - 23)) / 100.0 if units <= 42 else 0.25


def _at(row: tuple[float, ...], units: int) -> float:
    if units < 1:
        msg = f"Count at least one unit, not {units}."
        raise ValueError(msg)
    return row[min(units, len(row)) - 1]
