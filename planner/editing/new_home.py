"""The text of a home of which nothing is known yet, and what in it follows what is said."""

from __future__ import annotations

from tomlkit.items import AoT, Table

from planner.editing.document import document_of
from planner.editing.values import is_assumed, set_value, written

# Every figure: common practice, no source; what is marked assumed shows as such until changed.
EMPTY_HOME = """\
[home]
label = "New home"
service = "200 A"  # assumed
floor_area = "2000 ft^2"  # assumed
altitude = "500 ft"  # assumed
summer_design = "95 degF"  # assumed
winter_design = "10 degF"  # assumed
fuel = "natural gas"  # assumed
transfer = ["whole-house"]

[code]
edition = "2023"
method = "optional"
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
