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
    task,
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

BY_NATURE: dict[str, Builder] = {
    "tank": tank, "box": box, "battery": vehicle, "pressure": pressure, "pit": pit, "task": task,
}
"""How a load works; what works by the clock follows its kind and its use."""

LARGEST_SHARE = 0.8
"""Share of the day beyond which a load has no rest that physics could fill: it is just on (a
choice, no source)."""


def part_of(setting: Setting) -> Part:
    """Set up the machine of a load on a design day."""
    if not setting.calls.any():
        return idle(setting)
    if setting.use.kind in {"cooling", "heating"}:
        return room(setting) if setting.stages else follow(setting)
    return _builder(setting)(setting)


def _builder(setting: Setting) -> Builder:
    """Pick the builder of a load that does not heat or cool by the weather."""
    load, by_use = setting.load, BY_USE[setting.use.kind]
    if load.kind in VARYING and setting.use.kind == "duty":
        return hourly
    if load.nature == "task" and setting.use.kind not in {"events", "calls"}:
        return by_use
    if load.nature in BY_NATURE:
        return BY_NATURE[load.nature]
    if setting.calls.mean() > LARGEST_SHARE:
        return by_use
    return BY_KIND.get(load.kind, by_use)
