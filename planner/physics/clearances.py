"""Distances that are kept around a generator and in front of panels."""

from __future__ import annotations

FROM_OPENINGS_FT, FROM_WALLS_FT = 5.0, 5.0
"""NFPA 37 4.1.4: an engine outdoors stands at least 5 ft from openings in walls and from walls that
burn [ft]; less where the wall resists fire for an hour, or where tests show that a fire in the
enclosure does not light what is outside (exceptions from memory)."""

WORKING_DEPTH_IN, WORKING_WIDTH_IN, WORKING_HEIGHT_IN = 36.0, 30.0, 78.0
"""NEC 110.26(A)(1) to (3) (2017 to 2023), from memory: free space in front of equipment that is
worked on alive, up to 150 V to ground: depth, width (or that of the equipment), height (6½ ft)
[in]."""
