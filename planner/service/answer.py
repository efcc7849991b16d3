"""How a load answers a falling frequency: by its nature.

Heating elements draw the square of the voltage, which falls with the frequency below the knee of
the regulator; running motors draw a little less; electronics draw the same and are the worst for
an engine that is pulled down. What a load is follows from its facts by a simple rule (common
practice, no source): what starts harder than it runs, or has a motor, is a motor; an inverter
drive, a vehicle charger and all that draws no heat by its category are electronics; what cooks,
dries or heats without a motor is an element.
"""

from __future__ import annotations

from typing import Final

from planner.facts.home import Load

RESISTIVE: Final = 0
MOTOR: Final = 1
ELECTRONIC: Final = 2

ELEMENTS = frozenset({"cooking", "dryer", "heating", "supplemental-heat"})
"""Categories of the code calculation whose loads are heating elements."""
HOT_WATER = "water heater"  # kinds whose name ends so are elements, unless a motor drives them
WITHOUT_ELEMENT = ("induction", "microwave")  # words of kinds that cook by electronics


def nature_to_engine(load: Load) -> int:
    """Say what a load is to the engine: `RESISTIVE`, `MOTOR` or `ELECTRONIC`.

    An unknown load is electronics, the safe side.
    """
    if load.is_motor or (load.motor_hp > 0.0 and not load.compressor):
        return MOTOR
    if load.compressor or any(word in load.kind for word in WITHOUT_ELEMENT):
        return ELECTRONIC  # a compressor that starts no harder than it runs has an inverter
    if load.code.category in ELEMENTS or load.kind.endswith(HOT_WATER):
        return RESISTIVE
    return ELECTRONIC
