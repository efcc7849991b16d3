"""A mean over seeds and its interval."""

from __future__ import annotations

from dataclasses import dataclass

from planner.arrays import Floats

NORMAL_95 = 1.959963984540054


@dataclass(frozen=True, slots=True)
class Mean:
    """A mean over seeds, and how far it may be off: half of its 95 % interval.

    `half` is None where one seed cannot tell.
    """

    value: float
    half: float | None


def mean_of(values: Floats) -> Mean:
    """Mean and half width of its 95 % interval by Student's t.

    Parameters
    ----------
    values : ndarray of float, shape (seeds,)
        Independent values.
    """
    n = len(values)
    if n < 2:
        return Mean(float(values.mean()), None)
    error = float(values.std(ddof=1)) / n**0.5
    return Mean(float(values.mean()), student_95(n - 1) * error)


def student_95(freedom: int) -> float:
    """Two-sided 95 % point of Student's t.

    Notes
    -----
    Expansion about the normal point in 1/ν (Abramowitz and Stegun 26.7.5, from memory), within
    1 % from ν = 3; exact values for ν = 1 and 2 (from memory).
    """
    if freedom <= 2:
        return (12.706, 4.303)[freedom - 1]
    z, v = NORMAL_95, float(freedom)
    return (z + (z**3 + z) / (4 * v) + (5 * z**5 + 16 * z**3 + 3 * z) / (96 * v**2)
            + (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / (384 * v**3))
