"""Random numbers that depend on names and a seed, never on the order of a file."""

from __future__ import annotations

from hashlib import blake2b

import numpy as np


def generator_of(seed: int, *names: str) -> np.random.Generator:
    """Make the random generator of one purpose.

    Parameters
    ----------
    seed : int
        The realisation.
    *names : str
        What it is for: home, day, load. The same names and seed give the same numbers on any
        machine.
    """
    text = "\x1f".join((str(seed), *names)).encode()
    return np.random.default_rng(int.from_bytes(blake2b(text, digest_size=16).digest(), "big"))


def wander(
    numbers: np.random.Generator, count: int, amplitude: float, every: int
) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Draw a factor around 1 that changes smoothly, one value for each minute.

    Parameters
    ----------
    numbers : Generator
        Source of randomness.
    count : int
        Minutes.
    amplitude : float
        The factor lies within 1 ± amplitude, evenly, so its mean is 1.
    every : int
        Minutes between independent values; straight lines between them.
    """
    knots = numbers.uniform(1.0 - amplitude, 1.0 + amplitude, count // every + 2)
    return np.interp(np.arange(count), np.arange(len(knots)) * every, knots)
