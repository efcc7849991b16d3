"""Calculated load of a dwelling by code: standard, optional, existing and measured methods."""

from planner.physics.demand.area import area_beyond_ft2
from planner.physics.demand.calculate import calculated_load, dwelling_load
from planner.physics.demand.measured import why_not_measured
from planner.physics.demand.of_a_part import measured_part
from planner.physics.demand.permitted import why_not_optional
from planner.physics.demand.sheet import (
    DemandBasis,
    DemandEntry,
    DemandLine,
    DemandSheet,
    Measurement,
)

__all__ = [
    "DemandBasis",
    "DemandEntry",
    "DemandLine",
    "DemandSheet",
    "Measurement",
    "area_beyond_ft2",
    "calculated_load",
    "dwelling_load",
    "measured_part",
    "why_not_measured",
    "why_not_optional",
]
