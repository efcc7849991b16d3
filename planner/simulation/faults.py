"""What may be broken in an outage, and what must then happen."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """Faults of one outage; none by default.

    Attributes
    ----------
    stuck_open : str, optional
        Load whose module never closes. Safe outcome: it stays dark, the others are served as if
        it did not call.
    stuck_closed : str, optional
        Load whose module never opens. Safe outcome: it is counted in what is measured, so the
        others wait or are shed to make room.
    sensor_lost : bool
        The measured load is missing. Safe outcome: the controller adds up the rated draw of
        every connected load that could run, the worst case, and closes only what still fits;
        the falling frequency remains as a sign of overload.
    failed_starts : int
        How many starts of the engine fail. Safe outcome: it is tried again after a rest; after the
        last try the house stays dark until the utility returns, and the log says so.
    """

    stuck_open: str | None = None
    stuck_closed: str | None = None
    sensor_lost: bool = False
    failed_starts: int = 0


NO_FAULT = Fault()
