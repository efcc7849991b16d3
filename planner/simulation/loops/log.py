"""Writing into the log of an outage."""

from __future__ import annotations

from planner.compiled import compiled
from planner.simulation.events import Log


@compiled
def note(log: Log, second: int, code: int, load: int, other: int, value: float) -> None:
    """Write one entry, if there is room."""
    place = log.written[0]
    log.written[0] += 1
    if place < log.rows.shape[0]:
        log.rows[place, 0] = second
        log.rows[place, 1] = code
        log.rows[place, 2] = load
        log.rows[place, 3] = other
        log.rows[place, 4] = value
