"""Progress of long work: whoever works tells how far it is, whoever listens may end the work there.

Long work calls its listener at least every half second, with the share done as far as it is known;
what the listener raises ends the work.
"""

from __future__ import annotations

from collections.abc import Callable

LOOK_S = 0.05
"""Between two looks at who listens, for whoever waits for work beside [s]."""

OnProgress = Callable[[float], None]
"""Told the share done, 0-1."""


def unheard(share: float) -> None:
    """Listen to nothing, and let the work go on."""


def part_of(listener: OnProgress, start: float, end: float) -> OnProgress:
    """Give the listener of one part of some work.

    Parameters
    ----------
    listener : callable
        Told the share of the whole work.
    start, end : float
        Where the part begins and ends within the whole, 0-1.
    """
    return lambda share: listener(start + (end - start) * share)
