"""How far the frequency fell in an outage: when, after which start, how low and for how long."""

from __future__ import annotations

from dataclasses import dataclass

from planner.simulation import tally
from planner.simulation.generator import NOMINAL_HZ, STEP_S
from planner.simulation.outage import Outage


@dataclass(frozen=True, slots=True)
class Drop:
    """One drop of the frequency below the controller's fast level.

    Attributes
    ----------
    second : float
        When it crossed that level, from midnight before the loss of the utility [s].
    who : int
        Place of the load that began last before it, the hardest start of several; -1 if none did.
    began : float
        When that load began, from the same midnight [s].
    cause : int
        A code of `planner.simulation.falls`.
    lowest_hz, level_hz : float
        Lowest frequency, and the level [Hz].
    level_s, protection_s : float
        Time below that level; longest time on end below the frequency at which the engine's
        protection counts [s].
    """

    second: float
    who: int
    began: float
    cause: int
    lowest_hz: float
    level_hz: float
    level_s: float
    protection_s: float


def drops_in(outage: Outage) -> tuple[Drop, ...]:
    """List the drops of an outage, in order of time."""
    rows = outage.tally.drops[: int(outage.tally.drops_count[0])]
    first_s = 3600.0 * outage.start_h
    return tuple(Drop(
        second=first_s + float(row[tally.DROP_SECOND]), who=int(row[tally.DROP_WHO]),
        began=first_s + float(row[tally.DROP_BEGAN]), cause=int(row[tally.DROP_CAUSE]),
        lowest_hz=NOMINAL_HZ * float(row[tally.DROP_LOWEST]),
        level_hz=NOMINAL_HZ * float(row[tally.DROP_LEVEL]),
        level_s=STEP_S * float(row[tally.DROP_LEVEL_TICKS]),
        protection_s=STEP_S * float(row[tally.DROP_TICKS])) for row in rows)
