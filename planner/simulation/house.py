"""Which state machine stands behind a load: by its kind where that has physics of its own."""

from __future__ import annotations

from collections.abc import Callable

from planner.simulation.build import (
    VARYING,
    Part,
    Setting,
    event,
    follow,
    hourly,
    idle,
    steady,
)
from planner.simulation.needs import pit, pressure, store, vehicle
from planner.simulation.thermal import box, room, tank

Builder = Callable[[Setting], Part]

BY_USE: dict[str, Builder] = {
    "always": steady, "events": event, "calls": event, "duty": store,
}

BY_KIND: dict[str, Builder] = {
    "electric water heater": tank,
    "heat pump water heater": tank,
    "refrigerator": box,
    "freezer": box,
    "well pump": pressure,
    "variable-speed well pump": pressure,
    "booster pump": pressure,
    "sump pump": pit,
    "sewage ejector": pit,
    "grinder pump": pit,
    "vehicle charger": vehicle,
}
"""Kinds of the appliance library with physics of their own."""

LARGEST_SHARE = 0.8
"""Share of the day beyond which a load has no rest that physics could fill: it is just on (a
choice, no source)."""


def part_of(setting: Setting) -> Part:
    """Set up the machine of a load on a design day."""
    if not setting.calls.any():
        return idle(setting)
    if setting.use.kind in {"cooling", "heating"}:
        return room(setting) if setting.stages else follow(setting)
    if setting.load.kind in VARYING and setting.use.kind == "duty":
        return hourly(setting)
    builder = BY_KIND.get(setting.load.kind)
    if builder is not None and setting.calls.mean() <= LARGEST_SHARE:
        return builder(setting)
    return BY_USE[setting.use.kind](setting)
