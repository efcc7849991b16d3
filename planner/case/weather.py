"""A weather file beside a home that it names: days, design temperatures and altitude out of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from planner.case.fields import Refused
from planner.case.file import whole_days
from planner.case.filling.house import default_days
from planner.case.marks import marked
from planner.case.messages import note, place, warning
from planner.case.records import moved
from planner.errors import CaseError, Finding
from planner.facts.assumption import Assumption
from planner.facts.comfort import SPELL_DAYS
from planner.facts.weather import Weather
from planner.importing.weather.read import read_weather
from planner.units import UnitError, magnitude, parse, written

FAR_DEGF = 9.0
"""5 K between a temperature by hand and the file's: chosen, no source; climates differ by less."""
FAR_FT = 1000.0
"""Between altitudes: chosen, no source; an engine loses 3 to 4 % over it (the price book's)."""
RULES = {"summer_design": "1 % of its hours are warmer", "winter_design": "1 % of its hours are "
         "colder", "altitude": "elevation in its header"}


@dataclass(frozen=True, slots=True)
class Weathered:
    """A parsed home file with what a weather file gives it.

    Attributes
    ----------
    raw : mapping
        The file, with what it leaves out.
    assumed : tuple of Assumption
        What was taken from the weather file, with its source.
    findings : tuple of Finding
        Of the file, and of what was written by hand against it.
    weather : Weather or None
        What it says, with the days that the home takes from it; None where no file was read.
    """

    raw: Mapping[str, Any]
    assumed: tuple[Assumption, ...] = ()
    findings: tuple[Finding, ...] = ()
    weather: Weather | None = None

    def still_holds(self, mark: Assumption) -> bool:
        """Whether a value that the text marks as assumed did not give way to the file's."""
        return all(mark.key != one.key and not mark.key.startswith(f"{one.key}.")
                   for one in self.assumed)


def with_weather(raw: Mapping[str, Any], text: str, name: str, folder: Path | None) -> Weathered:
    """Put what a weather file says where a home names one and says nothing else by hand.

    Parameters
    ----------
    raw : mapping
        The home's file as the TOML parser gave it; left as it is.
    text : str
        The same as text: a value that it marks as assumed is not by hand.
    name : str
        Its name, for findings.
    folder : Path or None
        Where it lies; None if only its text is known, and then no file can be opened beside it.

    Notes
    -----
    By hand are the temperatures and the altitude that stand in the file without the mark, and days
    that are not those which the planner itself would assume.
    """
    section, home = raw.get("weather"), raw.get("home", {})
    file = section.get("file") if isinstance(section, Mapping) else None
    if not isinstance(file, str) or not file.strip() or not isinstance(home, Mapping):
        return Weathered(raw)  # refused where the table is read, if it is there
    where = place(name, "weather", "file")
    if folder is None:
        return Weathered(raw, findings=(warning(
            where, "only the text of the home is at hand, so the file is not read: what it would "
            "say is assumed.", "Write days, summer_design, winter_design and altitude by hand, or "
            "read the home from its folder."),))
    path = folder / file.strip()
    try:
        weather, found = read_weather(path, _spell(home))
    except CaseError as problem:
        return Weathered(raw, findings=tuple(moved(problem, where, path)))
    findings = [replace(one, where=where, sentence=f"{path.name}: {one.sentence}") for one in found]
    by_hand = {key for key in RULES if key in home} - {
        one.key.removeprefix("home.") for one in marked(text)}
    given = {key: value for key, value in _values(weather).items() if key not in by_hand}
    source = f"{weather.file}, {weather.place}"
    assumed = [Assumption(f"home.{key}", value, f"{source}: {RULES[key]}")
               for key, value in given.items()]
    made: dict[str, Any] = {**raw, "home": {**home, **given}}
    if raw.get("days", []) in ([], default_days(home)):
        made["days"] = _rows(weather)
        assumed.append(Assumption("days", ", ".join(one.label for one in weather.days),
                                  f"{source}: {_dates(weather)}"))
    else:
        findings.extend(_far_days(raw["days"], weather, name))
        weather = replace(weather, days=())
    findings.extend(_far(home, by_hand, weather, name))
    findings.append(note(where, _said(weather, given)))
    return Weathered(made, tuple(assumed), tuple(findings), weather)


def _spell(home: Mapping[str, Any]) -> int:
    try:
        return whole_days(home["spell"]) if "spell" in home else SPELL_DAYS
    except (Refused, UnitError):
        return SPELL_DAYS  # refused where the table is read


def _values(weather: Weather) -> dict[str, str]:
    values = {"summer_design": written(weather.summer_degf, "degF"),
              "winter_design": written(weather.winter_degf, "degF")}
    if weather.altitude_ft is not None:
        values["altitude"] = written(weather.altitude_ft, "ft")
    return values


def _rows(weather: Weather) -> list[dict[str, Any]]:
    return [{"id": one.id, "label": one.label, "season": one.season, "weight": one.days,
             "low": written(one.low_degf, "degF"), "high": written(one.high_degf, "degF")}
            for one in weather.days]


def _dates(weather: Weather) -> str:
    return ", ".join(f"{one.id} of {one.dates}" for one in weather.days)


def _said(weather: Weather, given: Mapping[str, str]) -> str:
    """What was taken from the file, and what in it says more than that."""
    taken = [f"{key} {value}" for key, value in given.items()]
    if weather.days:
        taken.append(f"days ({_dates(weather)})")
    parts = [f"{weather.file} is of {weather.place}, {weather.hours:,} hours from "
             f"{weather.lowest_degf:g} to {weather.highest_degf:g} degF; taken from it: "
             f"{', '.join(taken) or 'nothing, all is written by hand'}"]
    if weather.days:
        parts += [f"the {what} hour falls outside of the days" for what, beyond in (
            ("coldest", weather.lowest_degf < min(one.low_degf for one in weather.days)),
            ("hottest", weather.highest_degf > max(one.high_degf for one in weather.days)))
            if beyond]
    if weather.many_years_degf is not None:
        parts.append("its header has {:g} and {:g} degF of many years".format(
            *weather.many_years_degf))
    return f"{'; '.join(parts)}."


def _far(
    home: Mapping[str, Any], by_hand: set[str], weather: Weather, name: str
) -> Iterator[Finding]:
    """Warn of what stands by hand far from what the file says."""
    for key, unit, dimension, said, far in (
            ("summer_design", "degF", "temperature", weather.summer_degf, FAR_DEGF),
            ("winter_design", "degF", "temperature", weather.winter_degf, FAR_DEGF),
            ("altitude", "ft", "length", weather.altitude_ft, FAR_FT)):
        value = _read(home.get(key), dimension, unit) if key in by_hand else None
        if value is not None and said is not None and abs(value - said) > far:
            side = "above" if value > said else "below"
            yield warning(place(name, "home", key), f"{written(value, unit)} is "
                          f"{abs(value - said):,.0f} {unit} {side} what {weather.file} gives "
                          f"({written(said, unit)}: {RULES[key]}); it counts as it stands.",
                          "Is it the weather file of this place?")


def _far_days(rows: object, weather: Weather, name: str) -> Iterator[Finding]:
    """Warn of days by hand that are much milder than those of the file."""
    tables = [row for row in rows if isinstance(row, Mapping)] if isinstance(rows, list) else []
    for chosen, key, sign in (("hot", "high", 1.0), ("cold", "low", -1.0)):
        values = [value for row in tables
                  if (value := _read(row.get(key), "temperature", "degF")) is not None]
        theirs = next((one for one in weather.days if one.id == chosen), None)
        if theirs is None or not values:
            continue
        said = theirs.high_degf if chosen == "hot" else theirs.low_degf
        most = sign * max(sign * value for value in values)
        if sign * (said - most) > FAR_DEGF:
            yield warning(place(name, "days"), f"no {key} is beyond {written(most, 'degF')}, and "
                          f"{weather.file} has {written(said, 'degF')} on {theirs.dates}; the days "
                          "count as they stand.", "Take the days out to have the file's.")


def _read(value: object, dimension: str, unit: str) -> float | None:
    try:
        return None if value is None else magnitude(parse(value, dimension), unit)
    except UnitError:
        return None  # refused where the table is read
