"""What room is worth: prices of the power and start rows, from the model's linear relaxation.

They serve the search over orders as tolls (Lagrangian relaxation). Any prices that are not negative
give a valid bound, so nothing rests on the solver's accuracy; good prices give a low one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pulp
from numpy.typing import NDArray

from planner.model.build import build
from planner.model.rules.power import plain
from planner.model.solver import solve
from planner.model.tables import Tables
from planner.model.variables import short
from planner.service.house import KW_ROW

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Tolls:
    """Prices in coverage.

    Attributes
    ----------
    rows : ndarray of float, shape (R, T)
        Per kW, or per ampere, that what is on adds to a row in a slot.
    start : ndarray of float, shape (n, T)
        Per kW of a motor's starting adder while it is on.
    room : float
        What all the generator's room is worth at these prices.
    """

    rows: Floats
    start: Floats
    room: float


def no_tolls(tables: Tables) -> Tolls:
    """Prices of nought, which leave the search with its first bound."""
    house = tables.house
    return Tolls(np.zeros((house.draw.shape[0], house.slots)),
                 np.zeros((house.count, house.slots)), 0.0)


def tolls_of(tables: Tables) -> Tolls:
    """Price the room of one size when every load that may take turns does.

    Parameters
    ----------
    tables : Tables
        With one generator.
    """
    model = build(tables, whole_slots=False)
    for i in tables.may_shed:
        direct = model.chosen.direct[i]
        if not isinstance(direct, float):
            direct.upBound = 0.0
    model.problem.sense = pulp.LpMinimize
    model.problem.setObjective(-1.0 * model.coverage)
    if not solve(model.problem, relaxed=True).proven:
        return no_tolls(tables)
    house, supply = tables.house, tables.supplies[0]
    rows, start = np.zeros((house.draw.shape[0], house.slots)), np.zeros(house.calls.shape)
    prices = {row.name: max(0.0, -(row.pi or 0.0)) for row in model.problem.constraints()}
    for t in range(house.slots):
        for r, name in enumerate(house.row_names):
            rows[r, t] = prices.get(f"row_{plain(name)}_{t}", 0.0)
        for i in np.flatnonzero(house.starting_kva):
            motor = f"{short(house.ids[i])}_{short(supply.generator.id)}"
            start[i, t] = prices.get(f"start_{motor}_{t}", 0.0)
    room = float(supply.caps(house) @ rows.sum(axis=1) + supply.short_time_kw * start.sum())
    rows[KW_ROW] += start.sum(axis=0)
    return Tolls(rows, start, room)
