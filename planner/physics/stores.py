"""What keeps a level and can catch up: tanks, cold boxes, pressure tanks, pits, batteries of cars.

Where nothing is cited: common practice, no source.
"""

from __future__ import annotations

import math

import numpy as np

from planner.physics.fuel import BTU_PER_KWH
from planner.physics.thermal import WATER_BTU_PER_GAL_DEGF

TANK_SET_DEGF, TANK_BAND_DEGF = 125.0, 8.0
"""Thermostat of a water heater and its differential [degF]."""
SHOWER_DEGF, SHOWER_GAL = 105.0, 16.0
"""A shower: 16 gal at 105 degF."""
INLET_DEGF, AROUND_DEGF = 58.0, 70.0
"""Cold water, and the room in which a tank or a box stands [degF]."""
TANK_MEAN_DEGF = TANK_SET_DEGF - 0.4 * TANK_BAND_DEGF
"""Mean of a tank in use, as the simulation finds it [degF]."""
TANK_LOSS_BTU_H_DEGF = 2.5
"""Chosen from the 2 to 4 of the feeders that PNNL made for GridLAB-D."""
ELEMENT_EFFICIENCY = 0.98
"""Heat into the water per electricity of an element."""
HOT_SHARE = 0.7
"""Of its heat above the inlet, what a tank gives before the water is no longer hot: the share of
the first-hour rating formula (10 CFR 430 Subpart B App. E, from memory)."""

FRIDGE_DEGF, FREEZER_DEGF = 37.0, 0.0
"""Set points of a refrigerator and a freezer [degF]."""
FRIDGE_WARM_DEGF, FREEZER_WARM_DEGF = 40.0, 32.0
"""Beyond these food warms: unsafe, thawed (US Food and Drug Administration, food safety during
power outages, from memory) [degF]."""
FRIDGE_SAFE_H, FREEZER_SAFE_H = 4.0, 48.0
"""Closed without power: a refrigerator for 4 h, a full freezer for 48 h (the same) [h]."""
FREEZER_LOST_DEGF = 28.0
"""A freezer's food is thawing above it [degF]."""
DOOR_SHARE = 0.15
"""Of the heat that comes into a box, what its doors let in."""

PUMP_GAL_MIN, DRAWDOWN_GAL = 8.0, 10.0
"""Flow of a well pump, and its pressure tank between cut-in and cut-out."""
PIT_MIN = 4.0
"""What a pit holds between the lowest and the highest water, in minutes of pumping."""
KWH_PER_MILE = 0.3
BATTERY_KWH = 60.0
SPARE_MILES = 10.0
"""What a family wants in the car beyond the day's use [mile]."""


def tank_gal(kw: float) -> float:
    """Give the usual tank of an element [gal].

    Parameters
    ----------
    kw : float
        Of the element [kW].

    Notes
    -----
    A straight line between usual sizes (common practice, no source).
    """
    return float(np.interp(kw, [1.5, 2.5, 4.5, 5.5], [10.0, 20.0, 50.0, 80.0]))


def tank_kwh(gal: float) -> float:
    """Give the heat of a full tank above its inlet [kWh].

    Parameters
    ----------
    gal : float
        Contents [gal].

    Notes
    -----
    Contents · heat capacity · (mean in use − inlet) (derived).
    """
    return gal * WATER_BTU_PER_GAL_DEGF * (TANK_MEAN_DEGF - INLET_DEGF) / BTU_PER_KWH


def shower_kwh() -> float:
    """Give the heat of a shower above the inlet [kWh].

    Notes
    -----
    Contents · heat capacity · (shower − inlet) (derived).
    """
    return SHOWER_GAL * WATER_BTU_PER_GAL_DEGF * (SHOWER_DEGF - INLET_DEGF) / BTU_PER_KWH


def box_constant_h(*, freezer: bool) -> float:
    """Give the time constant of the food in a closed box without power [h].

    Parameters
    ----------
    freezer : bool
        Frozen food, or chilled.

    Notes
    -----
    Such that it reaches its limit in the hours that it is said to keep: set + (room − set)·
    (1 − exp(−hours / constant)) = limit (derived).
    """
    start = FREEZER_DEGF if freezer else FRIDGE_DEGF
    warm = FREEZER_WARM_DEGF if freezer else FRIDGE_WARM_DEGF
    hours = FREEZER_SAFE_H if freezer else FRIDGE_SAFE_H
    return -hours / math.log(1.0 - (warm - start) / (AROUND_DEGF - start))
