"""What a family misses of each comfort in one outage, beside the same outage with the utility.

A loss is that of the service rule, measured on the machines that are played:

| comfort | loss | shown |
|---|---|---|
| room, per slot | 0 within 3 degF of the set point, linear to 1 at the livable limit | worst air |
| hot water, per draw by its kWh | heat that the draw lacked | cold showers a day |
| meals, other tasks, each | 1 if lost | lost a day |
| car, per departure | share missing of what the family wants in it | fewest miles |
| food | 1 once it has been too warm for 2 h on end | 1 if so |
| running water, per slot with need | time in which taps ran dry | hours dry a day |
| pit | 1 once it has overflowed | 1 if so |
| clock, per slot | share of what is wanted that is dark | hours dark a day |

What is kept is judged on the last 24 h before the utility returns, what is shown is the worst of
the whole outage until then. `losable` is what would be lost with none of its loads running.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import nan

import numpy as np
from numpy.typing import NDArray

from planner.arrays import Floats
from planner.facts.comfort import Comfort, ComfortKind
from planner.facts.home import SLOT_H, SLOTS_PER_DAY
from planner.physics.stores import KWH_PER_MILE, shower_kwh
from planner.simulation.appliances.losing import SLOT_S
from planner.simulation.columns import (
    BATTERY,
    EVENT,
    PRESSURE,
    ROOM,
    SET,
    SIGN,
    STEADY,
    STORE,
    VEHICLE,
    WANTED_KWH,
    WORST,
)
from planner.simulation.outage import Outage

IN_SECONDS = (ROOM, PRESSURE, STEADY, EVENT, STORE)  # machines whose loss is a time

Rows = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class ComfortOutage:
    """One comfort in one outage.

    Attributes
    ----------
    id : str
        Of the comfort.
    lost, losable : float
        On the judged day, above what is lost with the utility: slots, kWh, tasks, departures or
        once; what of it would be lost with none of its loads.
    worst, utility_worst : float
        Worst of the outage, and of the same with the utility, in the unit that
        `planner.service.kept` gives the comfort; NaN if it is not used.
    beside : float
        What stands beside the worst: set point [degF], showers, tasks or hours wanted a day, miles
        wanted; NaN for others.
    cooled : bool
        Of a room: whether it is cooled or heated.
    by_hour, utility_by_hour : float
        Fewest miles in a car at the hour by which they are promised, and with the utility; NaN
        where no hour is promised.
    """

    id: str
    lost: float
    losable: float
    worst: float
    utility_worst: float
    beside: float = nan
    cooled: bool = False
    by_hour: float = nan
    utility_by_hour: float = nan


def comforts_in(outage: Outage) -> tuple[ComfortOutage, ...]:
    """Give what each comfort of the home came to, in its order."""
    return tuple(_comfort(outage, one) for one in outage.comforts)


def _comfort(outage: Outage, comfort: Comfort) -> ComfortOutage:
    rows = np.array([outage.ids.index(one) for one in comfort.loads], dtype=np.intp)
    until = max(1, outage.return_s // SLOT_S)
    lost, utility, dark = _by_slot(outage, comfort, rows, until)
    judged = [_judged(comfort.kind, found) for found in (lost, utility, dark)]
    losable = float(np.maximum(0.0, judged[2] - judged[1]).sum())
    above = min(losable, float(np.maximum(0.0, judged[0] - judged[1]).sum()))
    if comfort.kind in {"room", "car"}:
        return _by_depth(outage, comfort, rows, until, above, losable)
    if not dark.any() and not outage.wanted_s[rows].any():
        return ComfortOutage(comfort.id, above, losable, nan, nan)
    share = {"hot water": 1.0 / shower_kwh(), "running water": SLOT_H, "clock": SLOT_H}
    worst, utility_worst, wanted = (
        share.get(comfort.kind, 1.0) * float(_by_day(found).max())
        for found in (lost, utility, dark))
    if comfort.kind in {"food", "pit"}:
        return ComfortOutage(comfort.id, above, losable, min(1.0, worst), min(1.0, utility_worst))
    return ComfortOutage(comfort.id, above, losable, worst, utility_worst, wanted)


def _by_slot(
    outage: Outage, comfort: Comfort, rows: Rows, until: int
) -> tuple[Floats, Floats, Floats]:
    """Give the losses of a comfort by slot: played, with the utility, and without any power."""
    timed = np.isin(outage.machines.kind[rows], IN_SECONDS)[:, None]
    lost, utility, dark = (
        (np.where(timed, 1.0 / SLOT_S, 1.0) * found[rows, :until]).sum(axis=0)
        for found in (outage.loss, outage.utility.loss, outage.dark_loss))
    if comfort.kind == "clock":  # a share of what is wanted together
        together = np.maximum(1.0, dark)
        return lost / together, utility / together, dark / together
    return lost, utility, dark


def _judged(kind: ComfortKind, slots: Floats) -> Floats:
    """Give what is judged: by slot of the last day, or its sum where a later loss is the same."""
    if kind in {"food", "pit"}:
        return np.array([float(slots.sum() > 0.0)])
    if kind in {"meals", "task", "car"}:
        return np.array([slots[-SLOTS_PER_DAY:].sum()])
    return np.asarray(slots[-SLOTS_PER_DAY:])


def _by_day(slots: Floats) -> Floats:
    """Add up slots by day, counted back from the return of the utility."""
    whole = np.concatenate((np.zeros(-len(slots) % SLOTS_PER_DAY), slots))
    return np.asarray(whole.reshape(-1, SLOTS_PER_DAY).sum(axis=1))


def _by_depth(
    outage: Outage, comfort: Comfort, rows: Rows, until: int, lost: float, losable: float
) -> ComfortOutage:
    """Give the worst of what is told by how far it went: a room, a car."""
    kind = ROOM if comfort.kind == "room" else VEHICLE
    depth, utility = (found[:, :until].max(axis=1)
                      for found in (outage.depth, outage.utility.depth))
    found = [i for i in rows if outage.machines.kind[i] == kind and np.isfinite(depth[i])]
    if not found:
        return ComfortOutage(comfort.id, lost, losable, nan, nan)
    parameters = outage.machines.parameters
    if comfort.kind == "room":
        i = found[0]
        set_degf, sign = float(parameters[i, SET]), float(parameters[i, SIGN])
        return ComfortOutage(comfort.id, lost, losable, set_degf + sign * float(depth[i]),
                             set_degf + sign * float(utility[i]), set_degf, sign > 0.0)
    i = max(found, key=lambda one: depth[one])
    full, wanted = parameters[i, BATTERY], float(parameters[i, WANTED_KWH])
    by_hour, utility_by_hour = (
        nan if comfort.promise is None or comfort.promise.by_h is None
        else float(min(parameters[k, BATTERY] - state[k, WORST] for k in found)) / KWH_PER_MILE
        for state in (outage.state, outage.with_utility))
    return ComfortOutage(comfort.id, lost, losable, float(full - depth[i]) / KWH_PER_MILE,
                         float(full - utility[i]) / KWH_PER_MILE, wanted / KWH_PER_MILE,
                         by_hour=by_hour, utility_by_hour=utility_by_hour)
