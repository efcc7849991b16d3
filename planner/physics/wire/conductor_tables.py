"""Conductor and overcurrent tables of the code, as printed.

Read in secondary copies whose edition was not noted, except what is marked from memory. Numbers of
tables are those of 2020 and 2023; up to 2017 some bear others.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

Material = Literal["copper", "aluminum"]
InsulationDegC = Literal[60, 75, 90]

SIZES = ("14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0",
         "250", "300", "350", "400", "500", "600")
"""AWG, from 250 on kcmil, smallest first."""

AMPACITY_A: Mapping[Material, Mapping[str, tuple[int, int, int]]] = {
    "copper": {
        "14": (15, 20, 25), "12": (20, 25, 30), "10": (30, 35, 40), "8": (40, 50, 55),
        "6": (55, 65, 75), "4": (70, 85, 95), "3": (85, 100, 110), "2": (95, 115, 130),
        "1": (110, 130, 145), "1/0": (125, 150, 170), "2/0": (145, 175, 195),
        "3/0": (165, 200, 225), "4/0": (195, 230, 260), "250": (215, 255, 290),
        "300": (240, 285, 320), "350": (260, 310, 350), "400": (280, 335, 380),
        "500": (320, 380, 430),
    },
    "aluminum": {
        "12": (15, 20, 25), "10": (25, 30, 35), "8": (30, 40, 45), "6": (40, 50, 55),
        "4": (55, 65, 75), "3": (65, 75, 85), "2": (75, 90, 100), "1": (85, 100, 115),
        "1/0": (100, 120, 135), "2/0": (115, 135, 150), "3/0": (130, 155, 175),
        "4/0": (150, 180, 205), "250": (170, 205, 230), "300": (190, 230, 255),
        "350": (210, 250, 280), "400": (225, 270, 305), "500": (260, 310, 350),
    },
}
"""NEC Table 310.16 (310.15(B)(16) up to 2017): ampacity [A] at 60, 75 and 90 degC insulation, up
to three current-carrying conductors, 30 degC. Two values are printed in two ways, and the lower of
each stands here: 1 AWG copper at 90 degC 150 in a secondary copy, 145 from memory; 8 AWG aluminum
at 60 degC 30 in that copy, 35 from memory."""

SMALL_CONDUCTOR_A: Mapping[Material, Mapping[str, int]] = {
    "copper": {"14": 15, "12": 20, "10": 30},
    "aluminum": {"12": 15, "10": 25},
}
"""NEC 240.4(D) (2017 to 2023): largest overcurrent protection of small conductors [A]."""

AMBIENT_FACTOR: Mapping[InsulationDegC, tuple[tuple[int, float], ...]] = {
    60: ((10, 1.29), (15, 1.22), (20, 1.15), (25, 1.08), (30, 1.00), (35, 0.91), (40, 0.82),
         (45, 0.71), (50, 0.58), (55, 0.41)),
    75: ((10, 1.20), (15, 1.15), (20, 1.11), (25, 1.05), (30, 1.00), (35, 0.94), (40, 0.88),
         (45, 0.82), (50, 0.75), (55, 0.67), (60, 0.58)),
    90: ((10, 1.15), (15, 1.12), (20, 1.08), (25, 1.04), (30, 1.00), (35, 0.96), (40, 0.91),
         (45, 0.87), (50, 0.82), (55, 0.76), (60, 0.71), (65, 0.65)),
}
"""NEC Table 310.15(B)(1): (upper end of the band [degC], factor). 31 to 45 degC at 75 degC from
the table; the rest from memory and by the equation of 310.15(B), which gives all of them."""

BUNDLING_FACTOR: tuple[tuple[int, float], ...] = (
    (3, 1.0), (6, 0.80), (9, 0.70), (20, 0.50), (30, 0.45), (40, 0.40))
"""NEC Table 310.15(C)(1): (most current-carrying conductors, factor); above 20 from memory."""

STANDARD_RATINGS_A = (
    15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300,
    350, 400, 450, 500, 600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000)
"""NEC 240.6(A) (2017 to 2023), standard ratings of fuses and inverse-time breakers [A]; above 1200
from memory."""

DWELLING_SERVICE: Mapping[int, tuple[str, str]] = {
    100: ("4", "2"), 110: ("3", "1"), 125: ("2", "1/0"), 150: ("1", "2/0"), 175: ("1/0", "3/0"),
    200: ("2/0", "4/0"), 225: ("3/0", "250"), 250: ("4/0", "300"), 300: ("250", "350"),
    350: ("350", "500"), 400: ("400", "600"),
}
"""NEC Table 310.12(A) (83 % rule; Annex D, D7): service rating [A] -> size in copper, aluminum."""

CIRCULAR_MILS: Mapping[str, int] = {
    "14": 4110, "12": 6530, "10": 10380, "8": 16510, "6": 26240, "4": 41740, "3": 52620,
    "2": 66360, "1": 83690, "1/0": 105600, "2/0": 133100, "3/0": 167800, "4/0": 211600,
    "250": 250000, "300": 300000, "350": 350000, "400": 400000, "500": 500000, "600": 600000,
}
"""NEC Chapter 9, Table 8: cross section [circular mil]; from 250 kcmil on the size itself."""

DC_OHM_PER_KFT: Mapping[Material, Mapping[str, float]] = {
    "copper": {
        "14": 3.14, "12": 1.98, "10": 1.24, "8": 0.778, "6": 0.491, "4": 0.308, "3": 0.245,
        "2": 0.194, "1": 0.154, "1/0": 0.122, "2/0": 0.0967, "3/0": 0.0766, "4/0": 0.0608,
        "250": 0.0515, "300": 0.0429, "350": 0.0367, "400": 0.0321, "500": 0.0258,
    },
    "aluminum": {
        "12": 3.25, "10": 2.04, "8": 1.28, "6": 0.808, "4": 0.508, "3": 0.403, "2": 0.319,
        "1": 0.253, "1/0": 0.201, "2/0": 0.159, "3/0": 0.126, "4/0": 0.100, "250": 0.0847,
        "300": 0.0707, "350": 0.0605, "400": 0.0529, "500": 0.0424,
    },
}
"""NEC Chapter 9, Table 8: direct-current resistance at 75 degC, stranded, uncoated [ohm/kft];
12 AWG copper from the table, the rest from memory."""
