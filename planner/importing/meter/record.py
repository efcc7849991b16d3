"""What a meter's file holds, before anything is worked out of it."""

from __future__ import annotations

from dataclasses import dataclass, field

from planner.arrays import Floats, Ints

MOST_BYTES = 64_000_000
"""Of a meter's file: chosen, no source; a year of quarters of an hour in XML takes about 20 MB."""
MOST_READINGS = 1_100_000
"""Chosen, no source: two years of minutes."""


@dataclass(frozen=True)
class Record:
    """Readings of one meter, as they stand in its file.

    Attributes
    ----------
    start_s : ndarray of int, shape (n,)
        Start of each reading, seconds since 1970 [s]; any order.
    length_s : ndarray of int, shape (n,)
        Length of its interval [s].
    kwh : ndarray of float, shape (n,)
        Energy taken from the utility; below 0 where more was given back [kWh].
    offset_s : int or None
        What local standard time is ahead of `start_s` [s]; None if the file does not say.
    gives_back : bool
        Whether the file has readings of energy given to the utility.
    notes : tuple of str
        What was left out of the file, and what had to be taken as read.
    """

    start_s: Ints
    length_s: Ints
    kwh: Floats
    offset_s: int | None = None
    gives_back: bool = False
    notes: tuple[str, ...] = field(default=())
