"""A weather file, from its path to what it says."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from planner.errors import CaseError, Finding, Severity
from planner.facts.weather import Weather
from planner.importing.content import opened, refusal
from planner.importing.weather.days import chosen_days, design_degf, in_degf
from planner.importing.weather.header import Header, header_of
from planner.importing.weather.hours import hours_of

MOST_BYTES = 8_000_000
"""Of a weather file: chosen, no source; a year of hours takes 1.5 to 2 MB."""
FT_PER_M = 1.0 / 0.3048


def read_weather(path: Path, spell: int) -> tuple[Weather, tuple[Finding, ...]]:
    """Read a year of hourly weather in the form EPW.

    Parameters
    ----------
    path : Path
        The file, of at most `MOST_BYTES`.
    spell : int
        Equal days of an outage, for the rule of `planner.importing.weather.days`.

    Returns
    -------
    tuple
        What it says, and the warnings beside it.

    Raises
    ------
    CaseError
        It cannot be read, is no EPW, or is no whole year; with every finding at once.
    """
    with opened(path, MOST_BYTES) as stream:
        content = stream.read(MOST_BYTES + 1)
    lines = _text(content, path.name).replace("\r\n", "\n").replace("\r", "\n").split("\n")
    findings: list[Finding] = []
    header = header_of(lines, path.name, findings)
    degf = in_degf(hours_of(lines, header.first_row, path.name, findings))
    if any(one.severity is Severity.ERROR for one in findings):
        raise CaseError(f"{path.name} is no weather file that can be used.", findings)
    return _weather(path.name, header, degf, spell), tuple(findings)


def _text(content: bytes, name: str) -> str:
    if content.startswith(b"PK"):
        raise refusal(name, "this is a packed archive.", "Unpack it and give the .epw file in it.")
    if content.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\0" in content:
        raise refusal(name, "this is not a text file of one byte to a sign.", "Save it as UTF-8.")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return content.decode("latin-1")  # names of places; all else is ASCII


def _weather(name: str, header: Header, degf: np.ndarray, spell: int) -> Weather:
    summer_degf, winter_degf = design_degf(degf)
    many_years = header.many_years_degc
    summer, winter = (round(degc * 1.8 + 32.0, 1) for degc in many_years or (0.0, 0.0))
    return Weather(
        file=name, place=header.place, latitude_deg=header.latitude_deg,
        longitude_deg=header.longitude_deg,
        altitude_ft=(None if header.elevation_m is None
                     else float(round(header.elevation_m * FT_PER_M))),
        hours=int((~np.isnan(degf)).sum()),
        summer_degf=round(summer_degf, 1), winter_degf=round(winter_degf, 1),
        highest_degf=round(float(np.nanmax(degf)), 1), lowest_degf=round(float(np.nanmin(degf)), 1),
        many_years_degf=(None if many_years is None else (summer, winter)),
        days=chosen_days(degf, spell))
