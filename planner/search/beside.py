"""Compiled work in threads beside the caller, who looks up now and then and may end it.

Compiled code lets other threads work but hears nothing; so the caller waits in short steps, tells
the progress, and marks the work as ended if whoever listens raises. The loops look at the mark.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import FIRST_EXCEPTION, ThreadPoolExecutor, wait
from dataclasses import dataclass, field
from typing import TypeVar

import numpy as np

from planner.arrays import Bools
from planner.progress import LOOK_S, OnProgress

Value = TypeVar("Value")

WORKERS = 2


class Ended(Exception):
    """Raised where work notices that it was ended; nobody takes its answer."""


@dataclass
class Side:
    """What a caller and the work beside it know of each other.

    Attributes
    ----------
    ended : ndarray of bool, shape (1,)
        Set by the caller to end the work; shared by all that work for the caller.
    share : float
        Share done, 0-1, set by the work.
    """

    ended: Bools = field(default_factory=lambda: np.zeros(1, dtype=np.bool_))
    share: float = 0.0

    def look(self) -> None:
        """End the work here if the caller has ended it.

        Raises
        ------
        Ended
        """
        if self.ended[0]:
            raise Ended


def beside(calls: Sequence[Callable[[Side], Value]], tick: OnProgress) -> list[Value]:
    """Do some work in threads beside and give what it gives, in the order of the calls.

    Parameters
    ----------
    calls : sequence of callable
        Each gets a `Side`, looks at its `ended`, and sets its `share`.
    tick : callable
        Told the mean share every `LOOK_S`; what it raises ends all the work.
    """
    ended = np.zeros(1, dtype=np.bool_)
    sides = [Side(ended) for _ in calls]
    pool = ThreadPoolExecutor(WORKERS)
    try:
        waiting = [pool.submit(call, side) for call, side in zip(calls, sides, strict=True)]
        while wait(waiting, LOOK_S, FIRST_EXCEPTION).not_done:
            for one in waiting:
                if one.done():
                    one.result()
            tick(sum(side.share for side in sides) / len(sides))
        return [one.result() for one in waiting]
    except BaseException:
        ended[0] = True
        raise
    finally:
        pool.shutdown(wait=False, cancel_futures=True)
