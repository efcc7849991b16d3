"""A home file taken apart: every table that could be read, and the ids that the file speaks of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from planner.case.attendance import AttendanceSection
from planner.case.bounds import MOST_DAYS, MOST_LOADS, MOST_PANELS
from planner.case.fields import did_you_mean
from planner.case.file import (
    CodeSection,
    ComfortEntry,
    DayEntry,
    HomeSection,
    LimitsSection,
    ListSection,
    LoadEntry,
    PanelEntry,
    WeatherSection,
    WishesSection,
)
from planner.case.messages import TABLE, Strict, error, place, places_around, validate
from planner.case.site.file import SiteSection
from planner.errors import Finding
from planner.quoting import quoted

TABLES = ("home", "code", "weather", "limits", "panels", "days", "wishes", "comforts", "loads",
          "site", "portable", "list", "expected")
MOST = {"panels": MOST_PANELS, "days": MOST_DAYS, "comforts": MOST_LOADS, "loads": MOST_LOADS}
MAY_BE_EMPTY = frozenset({"comforts"})
Table = TypeVar("Table", bound=Strict)


@dataclass(frozen=True, slots=True)
class Draft:
    """What could be read of a home file; ids are listed even where their table was refused."""

    file: str
    home: HomeSection | None
    code: CodeSection | None
    weather: WeatherSection | None
    limits: LimitsSection
    wishes: WishesSection
    site: SiteSection | None
    attendance: AttendanceSection | None
    made_from: ListSection
    panels: tuple[PanelEntry, ...]
    days: tuple[DayEntry, ...]
    comforts: tuple[ComfortEntry, ...]
    loads: tuple[LoadEntry, ...]
    panel_ids: tuple[str, ...]
    day_ids: tuple[str, ...]
    load_ids: tuple[str, ...]
    comfort_ids: tuple[str, ...]
    expected: Mapping[str, object]

    refused: frozenset[str]  # places of refused values, and of what they are parts of

    def is_refused(self, where: str) -> bool:
        """Whether a value at a place, or below it, was refused: then it is not missing."""
        return where in self.refused

    def at_comfort(self, comfort_id: str, key: str = "") -> str:
        """Place of a comfort's key, for findings."""
        return place(self.file, f"comfort {comfort_id}", key)

    def at_load(self, load_id: str, key: str = "") -> str:
        """Place of a load's key, for findings."""
        return place(self.file, f"load {load_id}", key)


def take_apart(raw: Mapping[str, Any], file: str) -> tuple[Draft, tuple[Finding, ...]]:
    """Read each table of a parsed home file by itself.

    Parameters
    ----------
    raw : mapping
        The file as the TOML parser gave it.
    file : str
        Its name, for findings.

    Returns
    -------
    tuple
        The draft, and the findings of the tables.
    """
    findings: list[Finding] = []
    for key in raw:
        if key not in TABLES:
            hint = did_you_mean(key, TABLES) or f"Tables: {', '.join(TABLES)}."
            findings.append(error(place(file, key), "there is no such table.", hint))
    expected = raw.get("expected", {})
    if not isinstance(expected, dict):
        findings.append(error(place(file, "expected"), f"{quoted(expected)} is not a table.",
                              TABLE))
        expected = {}
    draft = Draft(
        file=file,
        home=_section(HomeSection, raw, "home", file, findings),
        code=_section(CodeSection, raw, "code", file, findings),
        weather=_section(WeatherSection, raw, "weather", file, findings),
        limits=_section(LimitsSection, raw, "limits", file, findings) or LimitsSection(),
        wishes=_section(WishesSection, raw, "wishes", file, findings) or WishesSection(),
        site=_section(SiteSection, raw, "site", file, findings),
        attendance=_section(AttendanceSection, raw, "portable", file, findings),
        made_from=_section(ListSection, raw, "list", file, findings) or ListSection(),
        panels=_items(PanelEntry, raw, "panels", file, findings),
        days=_items(DayEntry, raw, "days", file, findings),
        comforts=_items(ComfortEntry, raw, "comforts", file, findings),
        loads=_items(LoadEntry, raw, "loads", file, findings),
        panel_ids=_ids(raw, "panels"), day_ids=_ids(raw, "days"), load_ids=_ids(raw, "loads"),
        comfort_ids=_ids(raw, "comforts"),
        expected=expected,
        refused=places_around(findings),
    )
    return draft, tuple(findings)


def _section(
    model: type[Table], raw: Mapping[str, Any], key: str, file: str, findings: list[Finding]
) -> Table | None:
    if key not in raw:
        if key in ("home", "code"):
            findings.append(error(place(file, key), "this table is missing.", f"Add [{key}]."))
        return None
    table, found = validate(model, raw[key], place(file, key))
    findings.extend(found)
    return table


def _items(
    model: type[Table], raw: Mapping[str, Any], key: str, file: str, findings: list[Finding]
) -> tuple[Table, ...]:
    singular = key.removesuffix("s")
    rows = raw.get(key)
    if rows is None or rows == []:
        if key in MAY_BE_EMPTY:
            return ()
        remedy = f"Add one with [[{key}]]."
        findings.append(error(place(file, key), f"there is no {singular}.", remedy))
        return ()
    if not isinstance(rows, list):
        findings.append(error(place(file, key), f"{quoted(rows)} stands where a list of tables is "
                              "expected.", f"Write [[{key}]], with two brackets."))
        return ()
    if len(rows) > MOST[key]:
        findings.append(error(place(file, key), f"{len(rows):,} {key} are too many.",
                              f"At most {MOST[key]:,}."))
        return ()
    tables: list[Table] = []
    for number, row in enumerate(rows, start=1):
        name = row.get("id") if isinstance(row, dict) else None
        title = f"{singular} {name}" if isinstance(name, str) else f"{singular} number {number}"
        table, found = validate(model, row, place(file, title))
        findings.extend(found)
        if table is not None:
            tables.append(table)
    return tuple(tables)


def _ids(raw: Mapping[str, Any], key: str) -> tuple[str, ...]:
    rows = raw.get(key)
    if not isinstance(rows, list):
        return ()
    return tuple(row["id"] for row in rows
                 if isinstance(row, dict) and isinstance(row.get("id"), str))
