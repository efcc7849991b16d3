"""How sure a share is that was counted: its exact 95 % interval."""

from __future__ import annotations

from collections.abc import Callable
from math import comb

TAIL = 0.025  # on either side
HALVINGS = 60


def share_interval(count: int, of: int) -> tuple[float, float]:
    """Give the 95 % interval of a share that was counted (Clopper and Pearson), each 0-1.

    Parameters
    ----------
    count, of : int
        How many of how many; `of` positive.

    Raises
    ------
    ValueError
        If there is nothing to count, or more was counted than there is.

    Notes
    -----
    The lower end is the share at which `count` or more come up in 2.5 of 100 cases, the upper end
    that at which `count` or fewer do (definition).
    """
    if not 0 <= count <= of or of < 1:
        msg = f"{count} of {of} is no share."
        raise ValueError(msg)

    def at_most(most: int, share: float) -> float:
        return sum(comb(of, k) * share**k * (1.0 - share)**(of - k) for k in range(most + 1))

    low = 0.0 if count == 0 else _root(lambda share: 1.0 - at_most(count - 1, share) < TAIL)
    high = 1.0 if count == of else _root(lambda share: at_most(count, share) > TAIL)
    return low, high


def _root(below: Callable[[float], bool]) -> float:
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if below(middle) else (low, middle)
    return low
