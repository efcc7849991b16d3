"""What is assumed of an engine whose maker does not state it, each value with its range."""

from __future__ import annotations

from typing import NamedTuple


class Usual(NamedTuple):
    """A usual value, and from where to where it lies."""

    value: float
    low: float
    high: float


INERTIA_S = Usual(0.5, 0.3, 1.0)
"""Energy in the turning parts at full speed over the kVA (H) [s]; common practice, no source. The
class of ISO 8528-5 only hints at it."""
GOVERNOR_S = Usual(0.2, 0.1, 0.4)
"""Lag of governor and intake [s]; common practice, no source."""
DROOP = Usual(0.03, 0.0, 0.08)
"""Fall of the frequency from no load to full load; common practice, no source. ISO 8528-5 permits
8, 5 and 3 % in the classes G1, G2 and G3 (5 % read in a quotation, the others from memory)."""
LOW_HZ = Usual(54.0, 50.0, 57.0)
LOW_HZ_S = Usual(5.0, 2.0, 30.0)
"""Under-frequency protection [Hz, s]; common practice, no source."""
LOW_VOLTAGE = Usual(0.75, 0.70, 0.90)
LOW_VOLTAGE_S = Usual(5.0, 2.0, 15.0)
"""Under-voltage protection [share, s]; common practice, no source."""
SOFT_START_TIMES = Usual(2.0, 1.0, 4.0)
"""How much longer a start takes behind a soft starter; common practice, no source."""
COMES_UP_S = 5.0
"""Over so many seconds the charger of a car comes up to its draw (common practice, no source)."""
