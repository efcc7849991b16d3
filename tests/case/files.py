"""Home files for tests: a plain home, to which a test adds the loads that it is about."""

from __future__ import annotations

from pathlib import Path

from planner.case.read import read_home
from planner.facts.home import Home, Load

HEAD = """\
[home]
label = "A house for a test"
service = "200 A"
floor_area = "1800 ft^2"
altitude = "600 ft"
summer_design = "93 degF"
winter_design = "5 degF"
heating_set_point = "69 degF"
cooling_set_point = "77 degF"
fuel = "natural gas"
transfer = ["whole-house"]
spell = "3 days"

[code]
edition = "2023"
method = "optional"

[[panels]]
id = "main"
feeder = "200 A"

[[days]]
id = "hot"
season = "summer"
weight = 1
low = "70 degF"
high = "95 degF"

[[days]]
id = "cold"
season = "winter"
weight = 3
low = "0 degF"
high = "20 degF"
"""


def load_text(load_id: str, kind: str, *lines: str) -> str:
    """Text of one load."""
    return "\n".join(["", "[[loads]]", f'id = "{load_id}"', f'kind = "{kind}"', *lines, ""])


def read_text(folder: Path, text: str) -> Home:
    """Read a home from text."""
    path = folder / "house.toml"
    path.write_text(text, encoding="utf-8")
    return read_home(path)[0]


def read_load(folder: Path, kind: str, *lines: str) -> Load:
    """Read a home with one load of a kind, and give that load."""
    return read_text(folder, HEAD + load_text("it", kind, *lines)).load("it")
