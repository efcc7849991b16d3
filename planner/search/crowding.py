"""What has to give way: loads that cannot all be always connected must be dropped or shed.

In every pattern of loads that can be on together, what draws too much must lose as much as is over.
The least that this costs, in dollars or in coverage, is at least that of the best fractions of
loads, the cheapest per kW or ampere first.
"""

from __future__ import annotations

import numpy as np

from planner.arrays import Bools, Floats
from planner.search.desk import Desk
from planner.search.problem import Problem
from planner.tolerances import LIMIT


class Crowding:
    """Rows of limits over the patterns of loads that can be on together, shape (L, n) and (L,)."""

    def __init__(self, problem: Problem, desk: Desk) -> None:
        house = problem.house
        caps = problem.supply.caps(house)
        patterns, days = desk.inputs.patterns, desk.inputs.pattern_day
        drawn = house.draw[days] * patterns[:, None, :]  # (U, R, n)
        over = drawn.sum(axis=2) > caps[None, :] + LIMIT
        self.drawn: Floats = drawn[over]
        self.caps: Floats = np.broadcast_to(caps, over.shape)[over]

    def least(self, firm: Bools, opened: Bools, price: Floats) -> float:
        """Give the least price of the opened loads that must give way to what is firm.

        Parameters
        ----------
        firm, opened : ndarray of bool, shape (n,)
            Always connected; those that may still be.
        price : ndarray of float, shape (n,)
            What each costs if it gives way; at least 0.
        """
        if not self.caps.size or not price.any():
            return 0.0
        return gives_way(self.drawn, self.drawn @ (firm | opened) - self.caps - LIMIT, opened,
                         price)


def gives_way(drawn: Floats, excess: Floats, opened: Bools, price: Floats) -> float:
    """Give the least price of the opened loads that must give way, by the row that asks most.

    Parameters
    ----------
    drawn : ndarray of float, shape (rows, n)
        What each load takes of each row.
    excess : ndarray of float, shape (rows,)
        What is over with all of them.
    opened : ndarray of bool, shape (n,)
    price : ndarray of float, shape (n,)
    """
    tight = excess > 0.0
    if not tight.any():
        return 0.0
    places = np.flatnonzero(opened)
    here, excess = drawn[np.ix_(tight, places)], excess[tight]
    paid = price[places]
    with np.errstate(divide="ignore", invalid="ignore"):
        per_unit = np.where(here > 0.0, paid[None, :] / here, np.inf)
    order = np.argsort(per_unit, axis=1, kind="stable")
    here = np.take_along_axis(here, order, axis=1)
    cost = np.where(here > 0.0, paid[order], 0.0)
    before = np.cumsum(here, axis=1) - here
    share = np.clip((excess[:, None] - before) / np.where(here > 0.0, here, 1.0), 0.0, 1.0)
    return float((share * cost).sum(axis=1).max())
