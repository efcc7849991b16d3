"""What a machine brings into a room, and what it draws, by the outdoor temperature.

A load's draw on a design day is that at the day's extreme; from there the draw of a compressor
follows the outdoor temperature, and its heat with it. Only the proportion between the machines of
one room matters: a room is sized by what serves it.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from planner.arrays import Floats
from planner.facts.home import DesignDay, Load
from planner.physics.fuel import BTU_PER_KWH
from planner.physics.heat_pump import (
    BTU_H_PER_TON,
    cooling_capacity_share,
    cooling_power_share,
    heating_capacity_share,
    heating_cop,
)

BTU_PER_WH = 10.0  # of an air conditioner at 95 degF; common practice, no source
EVAPORATIVE_BTU_PER_WH = 50.0  # of an evaporative cooler; common practice, no source
FUEL_BTU_PER_WH = 150.0
"""Heat of fuel per electricity of the blower or the pump that brings it into the room: 80 kBtu/h
for 0.45 to 0.6 kW (common practice, no source)."""

EVAPORATIVE = frozenset({"evaporative cooler"})
FUEL_FIRED = frozenset({"furnace blower", "gas furnace", "gas boiler", "boiler circulator"})
BY_THE_GROUND = frozenset({"geothermal heat pump"})
"""Compressors that work against the ground, not against the outdoor air."""

COOLING_RATED_DEGF, HEATING_RATED_DEGF = 95.0, 47.0
"""Outdoor temperatures of the rating points (AHRI 210/240, from memory) [degF]."""

OUTDOOR_DEGF = np.arange(-90.0, 151.0)
"""Where the curves are tabled, with straight lines between [degF]."""


def follows_weather(load: Load) -> bool:
    """Whether heat and draw follow the outdoor temperature."""
    return load.compressor and load.kind not in BY_THE_GROUND


def draw_kw(load: Load, direction: str, day: DesignDay, outdoor_degf: Floats) -> Floats:
    """Give what a load draws while it runs [kW].

    Parameters
    ----------
    load : Load
        The machine.
    direction : str
        ``cooling`` or ``heating``.
    day : DesignDay
        The day at whose extreme it draws what `Load.kw_on` says.
    outdoor_degf : ndarray of float
        Outdoor temperature [degF].
    """
    if not follows_weather(load):
        return np.full_like(outdoor_degf, load.kw_on(day.id))
    _, power = _curves(direction, load.inverter)
    return np.asarray(_rated_kw(load, direction, day) * _at(outdoor_degf, power))


def heat_btu_h(load: Load, direction: str, day: DesignDay, outdoor_degf: Floats) -> Floats:
    """Give the heat that a load moves while it runs, not below 0 [Btu/h]; see `draw_kw`.

    By its rated capacity where that is known, else by its draw and a usual efficiency.
    """
    if not follows_weather(load):
        return 1000.0 * _btu_per_wh(load, direction) * draw_kw(load, direction, day, outdoor_degf)
    capacity, _ = _curves(direction, load.inverter)
    rated = BTU_H_PER_TON * load.tons or (
        1000.0 * _btu_per_wh(load, direction) * _rated_kw(load, direction, day))
    return np.asarray(rated * _at(outdoor_degf, capacity))


def _btu_per_wh(load: Load, direction: str) -> float:
    """Heat per electricity; of a compressor at its rating point."""
    if direction == "cooling":
        return EVAPORATIVE_BTU_PER_WH if load.kind in EVAPORATIVE else BTU_PER_WH
    cop = heating_cop(HEATING_RATED_DEGF, inverter=load.inverter) if follows_weather(load) else 1.0
    return FUEL_BTU_PER_WH if load.kind in FUEL_FIRED else cop * BTU_PER_KWH / 1000.0


def _rated_kw(load: Load, direction: str, day: DesignDay) -> float:
    """Draw of a compressor at its rating point, from that at the extreme of the day."""
    extreme_degf = day.high_degf if direction == "cooling" else day.low_degf
    _, power = _curves(direction, load.inverter)
    return load.kw_on(day.id) / float(_at(extreme_degf, power))


def _at(outdoor_degf: Floats | float, curve: Floats) -> Floats:
    return np.asarray(np.interp(outdoor_degf, OUTDOOR_DEGF, curve))


@lru_cache(maxsize=4)
def _curves(direction: str, inverter: bool) -> tuple[Floats, Floats]:
    """Capacity and draw of a compressor over `OUTDOOR_DEGF`, both 1 at the rating point."""
    if direction == "cooling":
        return (np.array([cooling_capacity_share(one) for one in OUTDOOR_DEGF]),
                np.array([cooling_power_share(one) for one in OUTDOOR_DEGF]))
    share = np.array([heating_capacity_share(one, inverter=inverter) for one in OUTDOOR_DEGF])
    cop = np.array([heating_cop(one, inverter=inverter) for one in OUTDOOR_DEGF])
    return share, share / cop * heating_cop(HEATING_RATED_DEGF, inverter=inverter)
