"""The limits of a size that are numbers: what each gives, and how to move it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from planner.physics.demand import calculated_load
from planner.search.problem import Problem
from planner.service.choice import NO_STARTER
from planner.service.house import KW_ROW, L1_ROW, L2_ROW
from planner.service.loops.inputs import NEVER_KW


@dataclass(frozen=True)
class Limit:
    """One limit of the service rule.

    Attributes
    ----------
    key : str
        Short name for data.
    name : str
        As the trade calls it, to stand behind a number with its unit.
    unit : str
        Of what it allows.
    given, ample : callable
        From a problem to what it allows, and to a value that cannot bind.
    moved : callable
        From a problem and a value to the problem with that limit.
    """

    key: str
    name: str
    unit: str
    given: Callable[[Problem], float]
    ample: Callable[[Problem], float]
    moved: Callable[[Problem, float], Problem]


def limits_of(problem: Problem) -> tuple[Limit, ...]:
    """Every limit of a problem that is a number, those of its panels included."""
    panels = dict.fromkeys(name.partition(",")[0] for name in problem.house.row_names[3:])
    return (*MACHINE, *(_feeder(panel) for panel in panels))


def _all_kw(problem: Problem) -> float:
    """All loads at once, on the day on which they draw most."""
    return float(problem.house.draw[:, KW_ROW].sum(axis=1).max())


def _all_a(problem: Problem) -> float:
    return float(problem.house.draw[:, [L1_ROW, L2_ROW]].sum(axis=2).max())


def _all_starts_kva(problem: Problem) -> float:
    return float(problem.supply.start_kva[:, NO_STARTER].sum())


def _least_room_kw(problem: Problem) -> float:
    """Other load beside which the hardest start succeeds."""
    rooms = problem.supply.room_kw[:, NO_STARTER]
    return float(rooms.min()) if (rooms < NEVER_KW).any() else _all_kw(problem)


def _roomier(problem: Problem, kw: float) -> Problem:
    supply = problem.supply
    return replace(problem, supply=replace(supply, room_kw=np.maximum(supply.room_kw, kw)))


def _whole_calculated_kva(problem: Problem) -> float:
    return calculated_load(problem.house.home).total_va / 1000.0


MACHINE = (
    Limit("running", "of running power", "kW", lambda p: p.supply.capacity_kw, _all_kw,
          lambda p, kw: replace(p, supply=replace(p.supply, capacity_kw=kw))),
    Limit("legs", "on a leg", "A", lambda p: p.supply.leg_a, _all_a,
          lambda p, amperes: replace(p, supply=replace(p.supply, leg_a=amperes))),
    Limit("start-power", "of other load beside the hardest start", "kW", _least_room_kw, _all_kw,
          _roomier),
    Limit("start-dip", "of motor starts within the allowed dip", "kVA",
          lambda p: p.supply.startable_kva, _all_starts_kva,
          lambda p, kva: replace(p, supply=replace(p.supply, startable_kva=kva))),
    Limit("takeover", "of motor starts at once when the generator takes over", "kVA",
          lambda p: p.supply.takeover_kva, _all_starts_kva,
          lambda p, kva: replace(p, supply=replace(p.supply, takeover_kva=kva))),
    Limit("pick-up", "of load that it stands until modules have opened", "kW",
          lambda p: p.supply.pick_kw,
          lambda p: _all_kw(p) + float(p.supply.start_kw[:, NO_STARTER].sum()),
          lambda p, kw: replace(p, supply=replace(p.supply, pick_kw=kw))),
    Limit("average", "on average over 24 h", "kW", lambda p: p.supply.average_kw, _all_kw,
          lambda p, kw: replace(p, supply=replace(p.supply, average_kw=kw))),
    Limit("fuel", "on average over 24 h, for the fuel of the site", "kW",
          lambda p: float(p.supply.fuel_kw.min()), _all_kw,
          lambda p, kw: replace(p, supply=replace(
              p.supply, fuel_kw=np.maximum(p.supply.fuel_kw, kw)))),
    Limit("code", "of calculated load by code, for what is always connected", "kVA",
          lambda p: p.supply.derated_kw, _whole_calculated_kva,
          lambda p, kw: replace(p, supply=replace(p.supply, derated_kw=kw))),
)


def _feeder(panel: str) -> Limit:
    """Both legs of one panel."""

    def rows(problem: Problem) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
        return np.array([name.partition(",")[0] == panel for name in problem.house.row_names[3:]])

    def moved(problem: Problem, amperes: float) -> Problem:
        house = problem.house
        caps = np.where(rows(problem), amperes, house.panel_caps_a)
        menu = replace(problem.menu, house=replace(house, panel_caps_a=caps))
        return replace(problem, menu=menu)

    return Limit(
        f"feeder of {panel}", f"on the feeder of {panel}", "A",
        lambda p: float(p.house.panel_caps_a[rows(p)].min()),
        lambda p: float(p.house.draw[:, 3:][:, rows(p)].sum(axis=2).max()), moved)
