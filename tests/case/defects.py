"""A sound home, a sound price book, and a way to break each in one place and to mend it again."""

from __future__ import annotations

from dataclasses import dataclass

Edits = tuple[tuple[str, str], ...]
"""What is taken out, and what is put in its place; an empty text is the end of the file."""


@dataclass(frozen=True)
class Defect:
    """One thing wrong: how it comes about, what is said, and how the remedy is carried out."""

    broken: Edits
    severity: str
    where: str
    sentence: str
    remedy: str
    mended: Edits

    def __str__(self) -> str:
        return f"{self.where}: {self.sentence}"


def edited(text: str, edits: Edits) -> str:
    """Carry out edits, each at the one place where its text stands."""
    for old, new in edits:
        if old and text.count(old) != 1:
            message = f"{old!r} stands {text.count(old)} times in the text"
            raise LookupError(message)
        text = text.replace(old, new) if old else text + new
    return text


def error(broken: Edits, where: str, sentence: str, remedy: str, mended: Edits) -> Defect:
    """Make a defect that keeps the file from being read."""
    return Defect(broken, "error", where, sentence, remedy, mended)


def warning(broken: Edits, where: str, sentence: str, remedy: str, mended: Edits) -> Defect:
    """Make a defect that is warned of."""
    return Defect(broken, "warning", where, sentence, remedy, mended)


def note(broken: Edits, where: str, sentence: str, remedy: str, mended: Edits) -> Defect:
    """Make a defect that is noted."""
    return Defect(broken, "note", where, sentence, remedy, mended)


def one(old: str, new: str) -> Edits:
    """Make a single edit."""
    return ((old, new),)


HOME = """\
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

[limits]
allowed_dip = "30 %"

[[panels]]
id = "main"
feeder = "200 A"

[[panels]]
id = "sub"
feeder = "60 A"
fed_from = "main"

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

[[loads]]
id = "lights"
kind = "lighting and receptacles"

[[loads]]
id = "air"
kind = "central air conditioner"
size = "3 ton"
requires = ["blower"]

[[loads]]
id = "blower"
kind = "furnace blower"
leg = "both"

[[loads]]
id = "pump"
kind = "well pump"
size = "1 hp"

[[loads]]
id = "oven"
kind = "range"
wait = "30 min"

[[loads]]
id = "spa"
kind = "spa"
importance = 1

[wishes]
order = "free"
"""

BOOK = """\
[book]
label = "A price book for a test"
notice = "Invented prices."
relocation = "400 USD"
permits = "350 USD"
maintenance_per_year = "175 USD"
natural_gas = "1.25 USD/therm"
propane = "2.50 USD/gal"

[[generators]]
id = "ten"
label = "Generator, 10 kW"
cooling = "air"
reactance = 0.2
short_time = "105 %"
price = "3000 USD"
installation = "2500 USD"
[generators.derating]
altitude = "3 % per 1000 ft"
altitude_from = "500 ft"
temperature = "1 % per 10 degF"
temperature_from = "85 degF"
[generators.ratings.propane]
power = "10 kW"
apparent = "12 kVA"
current = "50 A"
no_load = "50000 Btu/h"
half_load = "100000 Btu/h"
full_load = "160000 Btu/h"

[[transfers]]
id = "whole"
label = "Switch"
kind = "whole-house"
rating = "200 A"
price = "800 USD"
installation = "700 USD"

[[transfers]]
id = "some"
label = "Panel"
kind = "selected-circuits"
rating = "100 A"
positions = 10
price = "500 USD"
installation = "500 USD"

[[modules]]
id = "contactor"
label = "Contactor module"
action = "contactor"
poles = 2
current = "60 A"
motor = "5 hp"
price = "150 USD"
installation = "100 USD"

[[modules]]
id = "thermostat"
label = "Thermostat module"
action = "thermostat"
price = "90 USD"
installation = "90 USD"

[[controllers]]
id = "controller"
label = "Controller"
modules = 8
price = "200 USD"
installation = "100 USD"

[[soft_starters]]
id = "soft"
label = "Soft starter"
factor = "40 %"
current = "40 A"
price = "250 USD"
installation = "80 USD"
"""
