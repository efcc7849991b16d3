"""Alternating-current resistance and reactance of wire in a raceway, as the code prints them."""

from __future__ import annotations

from collections.abc import Mapping

from planner.facts.site import Raceway
from planner.physics.wire.conductor_tables import Material

REACTANCE_OHM_PER_KFT: Mapping[Raceway, Mapping[str, float]] = {
    "PVC": {
        "14": 0.058, "12": 0.054, "10": 0.050, "8": 0.052, "6": 0.051, "4": 0.048, "3": 0.047,
        "2": 0.045, "1": 0.046, "1/0": 0.044, "2/0": 0.043, "3/0": 0.042, "4/0": 0.041,
        "250": 0.041, "300": 0.041, "350": 0.040, "400": 0.040, "500": 0.039,
    },
    "steel": {
        "14": 0.073, "12": 0.068, "10": 0.063, "8": 0.065, "6": 0.064, "4": 0.060, "3": 0.059,
        "2": 0.057, "1": 0.057, "1/0": 0.055, "2/0": 0.054, "3/0": 0.052, "4/0": 0.051,
        "250": 0.052, "300": 0.051, "350": 0.050, "400": 0.049, "500": 0.048,
    },
}
"""NEC Chapter 9, Table 9: reactance at 60 Hz of either metal, by raceway [ohm/kft] (from memory;
steel is about 1.25 times PVC)."""

AC_OHM_PER_KFT: Mapping[Material, Mapping[Raceway, Mapping[str, float]]] = {
    "copper": {
        "PVC": {
            "14": 3.1, "12": 2.0, "10": 1.2, "8": 0.78, "6": 0.49, "4": 0.31, "3": 0.25,
            "2": 0.19, "1": 0.15, "1/0": 0.12, "2/0": 0.10, "3/0": 0.077, "4/0": 0.062,
            "250": 0.052, "300": 0.044, "350": 0.038, "400": 0.033, "500": 0.027,
        },
        "steel": {
            "14": 3.1, "12": 2.0, "10": 1.2, "8": 0.78, "6": 0.49, "4": 0.31, "3": 0.25,
            "2": 0.20, "1": 0.16, "1/0": 0.12, "2/0": 0.10, "3/0": 0.079, "4/0": 0.063,
            "250": 0.054, "300": 0.045, "350": 0.039, "400": 0.035, "500": 0.029,
        },
    },
    "aluminum": {
        "PVC": {
            "12": 3.2, "10": 2.0, "8": 1.3, "6": 0.81, "4": 0.51, "3": 0.40, "2": 0.32,
            "1": 0.25, "1/0": 0.20, "2/0": 0.16, "3/0": 0.13, "4/0": 0.10, "250": 0.085,
            "300": 0.071, "350": 0.061, "400": 0.054, "500": 0.043,
        },
        "steel": {
            "12": 3.2, "10": 2.0, "8": 1.3, "6": 0.81, "4": 0.51, "3": 0.40, "2": 0.32,
            "1": 0.25, "1/0": 0.20, "2/0": 0.16, "3/0": 0.13, "4/0": 0.10, "250": 0.086,
            "300": 0.072, "350": 0.063, "400": 0.055, "500": 0.045,
        },
    },
}
"""NEC Chapter 9, Table 9: resistance at 75 degC and 60 Hz, uncoated, by raceway [ohm/kft]; copper
in PVC partly from the table, the rest from memory."""
