"""Tables and constants of gas pipe, as printed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

Gas = Literal["natural gas", "propane"]

GAS_FACTOR: Mapping[Gas, float] = {"natural gas": 0.6094, "propane": 1.2462}
"""Cr of NFPA 54 and IFGC 402.4 (2018) for specific gravity 0.60 and 1.50 (from memory)."""

GRAVITY: Mapping[Gas, float] = {"natural gas": 0.60, "propane": 1.50}
"""Specific gravities of those factors: what a part passes goes with their square root (derived from
the law of an orifice)."""

INSIDE_DIAMETER_IN: Mapping[str, float] = {
    "1/2": 0.622, "3/4": 0.824, "1": 1.049, "1-1/4": 1.380, "1-1/2": 1.610, "2": 2.067,
    "2-1/2": 2.469, "3": 3.068, "4": 4.026,
}
"""Schedule 40 steel pipe, inside diameter [in] by nominal size [in] (IFGC 2018, Tables 402.4(2) to
(5); above 2 in ASME B36.10, from memory)."""

USUAL_DROP_IN_WC = 0.5
"""Pressure drop of IFGC 2018 Table 402.4(2) [in w.c.]."""

LOW_PRESSURE_PSI = 1.5
"""Below this the low-pressure equation holds (NFPA 54 and IFGC 402.4, from memory) [psi]."""
ATMOSPHERE_PSI = 14.7
IN_WC_PER_PSI = 27.6799
"""Inches of water to a pound per square inch: 6894.757 Pa over the conventional inch of
249.0889 Pa, by definition (NIST SP 811, 2008, B.8)."""
MOST_IN_WC = 14.0
"""What an appliance takes; above it a line regulator stands before it (NFPA 54 ch. 5, from memory)
[in w.c.]."""
GUARDED_PSI = 2.0
"""Above this a line regulator has overpressure protection (NFPA 54 5.8, from memory) [psi]."""
INDOORS_PSI = 5.0
"""Most in a pipe inside a building, but for exceptions (NFPA 54 ch. 5, from memory) [psi]."""
COMPRESSIBILITY: Mapping[Gas, float] = {"natural gas": 0.9992, "propane": 0.9910}
"""Y of NFPA 54 and IFGC 402.4 (2018) (from memory)."""

PRINTED_SIZES = ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2")
PRINTED_FT3_H: Mapping[int, tuple[int, ...]] = {
    10: (172, 360, 678, 1390, 2090, 4020), 20: (118, 247, 466, 957, 1430, 2760),
    30: (95, 199, 374, 768, 1150, 2220), 40: (81, 170, 320, 657, 985, 1900),
    50: (72, 151, 284, 583, 873, 1680), 60: (65, 137, 257, 528, 791, 1520),
    70: (60, 126, 237, 486, 728, 1400), 80: (56, 117, 220, 452, 677, 1300),
    90: (52, 110, 207, 424, 635, 1220), 100: (50, 104, 195, 400, 600, 1160),
    125: (44, 92, 173, 355, 532, 1020), 150: (40, 83, 157, 322, 482, 928),
    200: (34, 71, 134, 275, 412, 794),
}
"""IFGC 2018 Table 402.4(2) (NFPA 54, tables of 6.2): natural gas below 2 psi, 0.5 in w.c., by
length [ft] and `PRINTED_SIZES` [ft³/h]; the row of 10 ft read by that of 60 ft of Table 402.4(3),
the others from memory."""
SURE_LOW, SURE_HIGH = 0.985, 0.88
"""What of the equations is taken where no row is printed: the lowest of printed over equation, of
the rows above and those of Table 402.4(28), and of Table 402.4(5), 2 psi, 1 psi drop, 10 and 60 ft
(derived)."""
