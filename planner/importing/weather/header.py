"""The lines above the hours of a weather file: where it is, what many years say, its periods."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from planner.errors import Finding, Severity
from planner.quoting import quoted

HEADER_LINES = 40
"""Lines among which the header is looked for: EPW has 8, some writers break the comments."""
LOCATION_CELLS = 10
LOWEST_M, HIGHEST_M = -90.0, 4500.0
"""Elevations that are believed, about where people live: chosen, no source [m]."""


@dataclass(frozen=True, slots=True)
class Header:
    """What stands above the hours; None for what is not said, or not believed.

    `many_years_degc` is the 1 % cooling and the 99 % heating dry bulb of many years [degC],
    `first_row` the number of header lines, so the place of the first hour.
    """

    place: str
    latitude_deg: float | None
    longitude_deg: float | None
    elevation_m: float | None
    many_years_degc: tuple[float, float] | None
    first_row: int


def header_of(lines: Sequence[str], name: str, findings: list[Finding]) -> Header:
    """Read the header of an EPW file.

    Parameters
    ----------
    lines : sequence of str
        Of the whole file.
    name : str
        Of the file, for findings.
    findings : list of Finding
        Takes what is wrong. An error where this is no EPW or its hours are not hours; a warning
        where only the place is in doubt.

    Notes
    -----
    EPW as the auxiliary programs manual of its format describes it (from memory, seen in files):
    LOCATION, city, region, country, source, number, latitude, longitude, time zone, elevation [m];
    DATA PERIODS, their number, records in an hour.
    """
    rows = [[cell.strip() for cell in line.split(",")] for line in lines[:HEADER_LINES]]
    keys = [row[0].upper() for row in rows]
    if keys[:1] != ["LOCATION"]:
        findings.append(_error(
            name, f"its first line begins with {quoted(lines[0][:24] if lines else '')}, and a "
            "weather file of the form EPW begins with LOCATION and a comma.",
            "Give the .epw file as it was downloaded."))
        location: list[str] = []
    else:
        location = rows[0]
    place, latitude_deg, longitude_deg, elevation_m = _location(location, name, findings)
    design = rows[keys.index("DESIGN CONDITIONS")] if "DESIGN CONDITIONS" in keys else []
    if "DATA PERIODS" in keys:
        first_row = keys.index("DATA PERIODS") + 1
        _periods(rows[first_row - 1], name, findings)
    else:
        findings.append(_error(name, "there is no line DATA PERIODS above its hours.",
                               "Give the .epw file as it was downloaded."))
        first_row = next((at for at, key in enumerate(keys) if re.fullmatch(r"\d{4}", key)), 8)
    return Header(place, latitude_deg, longitude_deg, elevation_m, many_years_degc(design),
                  first_row)


def many_years_degc(cells: Sequence[str]) -> tuple[float, float] | None:
    """Find the design temperatures of many years in the line DESIGN CONDITIONS [degC].

    Parameters
    ----------
    cells : sequence of str
        Of the line.

    Returns
    -------
    tuple or None
        1 % cooling and 99 % heating dry bulb; None where the cells are not in the order of the
        ASHRAE tables of 2009 (seen in files; no source): Heating, coldest month, 99.6 %,
        99 %; Cooling, hottest month, range, then 0.4 %, 1 % and 2 %, each with its wet bulb.
    """
    if "Heating" not in cells or "Cooling" not in cells:
        return None
    heat, cool = list(cells).index("Heating"), list(cells).index("Cooling")
    try:
        month, rare, cold = map(float, cells[heat + 1:heat + 4])
        hot_month, _, rarest, _, hot, _, usual = map(float, cells[cool + 1:cool + 8])
    except ValueError:
        return None
    told = {month, hot_month} <= set(range(1, 13)) and rare <= cold < usual <= hot <= rarest
    return (hot, cold) if told else None


def _location(
    cells: Sequence[str], name: str, findings: list[Finding]
) -> tuple[str, float | None, float | None, float | None]:
    names = [cell for cell in cells[1:4] if cell not in ("", "-")]
    place = ", ".join(names) or "a place without name"
    known = list(cells)
    while known and not known[-1]:
        known.pop()
    if not cells:
        return place, None, None, None
    if len(known) != LOCATION_CELLS:
        findings.append(_warning(
            name, f"its line LOCATION has {len(known)} values where {LOCATION_CELLS} belong (a "
            "comma in a number?): its elevation is not taken.",
            "Write altitude in [home], or correct the line."))
        return place, None, None, None
    return (place, _number(known[6], "latitude", (-90.0, 90.0), name, findings),
            _number(known[7], "longitude", (-180.0, 180.0), name, findings),
            _number(known[9], "elevation in m", (LOWEST_M, HIGHEST_M), name, findings))


def _number(
    cell: str, what: str, ends: tuple[float, float], name: str, findings: list[Finding]
) -> float | None:
    try:
        value = float(cell)
    except ValueError:
        value = float("nan")
    if ends[0] <= value <= ends[1]:
        return value
    remedy = "Write altitude in [home]." if "elevation" in what else "Correct the line LOCATION."
    findings.append(_warning(name, f"{quoted(cell)} is no {what} from {ends[0]:g} to {ends[1]:g}; "
                             "it is not taken.", remedy))
    return None


def _periods(cells: Sequence[str], name: str, findings: list[Finding]) -> None:
    said = cells[2] if len(cells) > 2 else ""
    if said != "1":
        findings.append(_error(name, f"it has {quoted(said)} records in an hour.",
                               "Give a file of hours, with one record in each."))


def _error(name: str, sentence: str, remedy: str) -> Finding:
    return Finding(Severity.ERROR, name, sentence, remedy)


def _warning(name: str, sentence: str, remedy: str) -> Finding:
    return Finding(Severity.WARNING, name, sentence, remedy)
