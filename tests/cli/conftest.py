"""A home file of a few loads, and a way to run the command line inside the test."""

from __future__ import annotations

import json
from dataclasses import dataclass

import pytest

from planner.cli.main import run

HOME = """
[home]
label = "Test house"
service = "200 A"
floor_area = "1500 ft^2"
altitude = "0 ft"
summer_design = "95 degF"
winter_design = "10 degF"
fuel = "natural gas"

[code]
edition = "2023"
method = "optional"

[[panels]]
id = "main"
feeder = "200 A"

[[days]]
id = "hot"
season = "summer"
weight = 1.0
low = "72 degF"
high = "97 degF"

[[loads]]
id = "air"
kind = "central air conditioner"
size = "3 ton"
requires = ["blower"]

[[loads]]
id = "blower"
kind = "furnace blower"
size = "0.5 hp"
leg = "L1"

[[loads]]
id = "heater"
kind = "electric water heater"
size = "4.5 kW"

[[loads]]
id = "lights"
kind = "lighting and receptacles"
size = "1500 ft^2"
"""


@dataclass(frozen=True)
class Outcome:
    """What a command left behind."""

    code: int
    out: str
    err: str

    @property
    def data(self):
        """Standard output as JSON."""
        return json.loads(self.out)


@pytest.fixture
def planner(capsys):
    """Run the command line with some arguments."""

    def call(*arguments):
        code = run([str(argument) for argument in arguments])
        said = capsys.readouterr()
        return Outcome(code, said.out, said.err)

    return call


@pytest.fixture
def home_file(tmp_path):
    """Write the home, with replacements, and return its path."""

    def write(*changes):
        text = HOME
        for old, new in changes:
            assert old in text
            text = text.replace(old, new, 1)
        path = tmp_path / "house.toml"
        path.write_text(text, "utf-8")
        return path

    return write
