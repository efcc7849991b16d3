"""The text of a home of which nothing is known yet, and what in it follows what is said."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

import tomlkit
from tomlkit.items import AoT, Table

from planner.case.bounds import LONGEST_TEXT
from planner.case.filling.house import filled_house
from planner.case.library import kinds
from planner.case.marks import ASSUMED, is_assumed
from planner.case.text import parse_toml
from planner.case.weather import RULES
from planner.editing.document import document_of
from planner.editing.items import items, with_items
from planner.editing.lists import Listed
from planner.editing.values import edited, marked_assumed, set_value, written
from planner.errors import CaseError
from planner.quoting import harmless, shortened

# Every figure: common practice, no source; what is marked assumed shows as such until changed.
EMPTY_HOME = """\
[home]
label = "New home"
service = "200 A"  # assumed
floor_area = "2000 ft^2"  # assumed
altitude = "500 ft"  # assumed
summer_design = "95 degF"  # assumed
winter_design = "10 degF"  # assumed
heating_set_point = "70 degF"  # assumed
cooling_set_point = "76 degF"  # assumed
fuel = "natural gas"  # assumed
transfer = ["whole-house"]  # assumed
spell = "3 days"  # assumed

[code]
edition = "2023"  # assumed
method = "optional"  # assumed
small_appliance_circuits = 2
laundry_circuits = 1

[limits]
allowed_dip = "25 %"

[[panels]]
id = "main"
feeder = "200 A"  # assumed

[[days]]
id = "hot"
label = "Hot summer day"
season = "summer"
weight = 0.4
low = "74 degF"
high = "95 degF"  # assumed

[[days]]
id = "cold"
label = "Cold winter day"
season = "winter"
weight = 0.4
low = "10 degF"  # assumed
high = "28 degF"

[[days]]
id = "between"
label = "Mild stormy day"
season = "mild"
weight = 0.2
low = "52 degF"
high = "68 degF"

[wishes]

[[loads]]
id = "lighting"
label = "Lighting and receptacles"
kind = "lighting and receptacles"
"""


def new_home_text(
    listed: Listed, label: str, price_book: str | None = None, weather: str | None = None
) -> str:
    """Write a new home with the loads of a list, and a comment for what was not understood.

    Parameters
    ----------
    listed : Listed
        From `planner.editing.lists.read_list`.
    label : str
        What the home is called.
    price_book : str, optional
        Path of its price book, relative to the file.
    weather : str, optional
        Path of its weather file, relative to the file; what that gives is left out.
    """
    changes: dict[tuple[str, ...], str | None] = {("home", "label"): label}
    if price_book is not None:
        changes["home", "price_book"] = price_book
    beginning = EMPTY_HOME if weather is None else _with_weather(EMPTY_HOME, weather)
    text = with_listed(edited(beginning, changes), listed)
    doubts = [f"# {harmless(line)}" for one in listed.findings for line in str(one).splitlines()]
    return "\n".join([text.rstrip("\n"), "", *doubts, ""]) if doubts else text


def with_listed(text: str, listed: Listed) -> str:
    """Put the loads of a list into a home, and the panels and what it says of an assumed house.

    What is already said of the house stays; so do lights that have a size of their own.
    """
    if listed.panels or listed.house:
        there = {str(row.get("id")) for row in items(text, "panels")}
        new = [row for row in listed.panels if row["id"] not in there]
        text = with_items(text, "panels", new) if new else text
        open_ = marked_assumed(text) | {("code", "small_appliance_circuits")}
        text = assumed_follow(edited(text, {path: value for path, value in listed.house
                                            if path in open_}))
    sized = {str(row.get("kind")) for row in items(text, "loads") if "size" in row}
    known = [row for row in listed.rows if row["kind"] in kinds()
             and not (kinds()[str(row["kind"])].covers_floor and "size" not in row
                      and row["kind"] in sized and listed.of_panel)]
    return _with_not_read(with_items(text, "loads", known), listed.not_read)


def _with_not_read(text: str, lines: tuple[str, ...]) -> str:
    """Let the file say which lines of the list it was made without, until somebody settles them."""
    if not lines:
        return text
    said = parse_toml(text, "the file").get("list")
    before = said.get("not_read", []) if isinstance(said, dict) else []
    plain = [shortened(harmless(one), LONGEST_TEXT) for one in (*before, *lines)]
    rows = tomlkit.array()
    rows.extend(dict.fromkeys(plain))
    return edited(text, {("list", "not_read"): rows.multiline(multiline=True)})


def not_read_in(text: str) -> list[str]:
    """Phrases of the list that a home was made of, of which it holds no load."""
    try:
        said = parse_toml(text, "the file").get("list")
    except CaseError:
        return []
    found = said.get("not_read", []) if isinstance(said, dict) else []
    return [str(one) for one in found] if isinstance(found, list) else []


def without_not_read(text: str, lines: Collection[str]) -> str:
    """The text of a home in which some of these phrases are settled."""
    left = tomlkit.array()
    left.extend([one for one in not_read_in(text) if one not in lines])
    return edited(text, {("list", "not_read"): left.multiline(multiline=True) if left else []})


def _with_weather(text: str, file: str) -> str:
    document = document_of(text)
    home: Any = document["home"]
    for key in RULES:
        home.remove(key)
    document.remove("days")
    section = tomlkit.table()
    section["file"] = file
    document["weather"] = section
    return written(document)


def completed(text: str) -> str:
    """Write into a home file, marked as assumed, what it leaves out about the house.

    The same values that the reader assumes (`planner.case.filling.house`), so the home is the same.

    Raises
    ------
    CaseError
        The text is not TOML.
    """
    filled, assumed = filled_house(parse_toml(text, "the file"))
    document = document_of(text)
    for one in assumed:
        table, _, key = one.key.partition(".")
        if not key:
            rows = tomlkit.aot()
            for row in filled[table]:
                rows.append(_marked(row))
            document.pop(table, None)
            document.append(table, rows)
            continue
        if table not in document:
            document.append(table, tomlkit.table())
        here: Any = document[table]
        here[key] = filled[table][key]
        _mark(here, key)
    return written(document)


def _marked(row: Mapping[str, Any]) -> Table:
    table = tomlkit.table()
    for key, value in row.items():
        table[key] = value
        if key not in ("id", "label", "season"):
            _mark(table, key)
    return table


def _mark(table: Any, key: str) -> None:  # noqa: ANN401 - a table of the parsed text
    table.value.item(key).comment(ASSUMED.removeprefix("# "))


def assumed_follow(text: str) -> str:
    """Let what is still assumed follow the house.

    The extremes of design days follow the design temperatures, the first panel the service.
    """
    document = document_of(text)
    home, days = document.get("home"), document.get("days")
    if isinstance(home, Table) and isinstance(days, AoT):
        for season, key, design in (("summer", "high", "summer_design"),
                                    ("winter", "low", "winter_design")):
            for day in days:
                if day.get("season") == season and is_assumed(day, key) and design in home:
                    set_value(day, key, str(home[design]), keep_mark=True)
    panels = document.get("panels")
    if isinstance(home, Table) and isinstance(panels, AoT) and panels and "service" in home \
            and is_assumed(panels[0], "feeder"):
        set_value(panels[0], "feeder", str(home["service"]), keep_mark=True)
    return written(document)
