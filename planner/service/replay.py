"""The service rule: what a choice delivers on the design days, slot by slot.

Given a generator (K capacity kW, A amperes per leg, Ks short-time kW, V startable kVA):

1. All direct loads that call are on, with what they wake. They must fit: ΣkW ≤ K, each leg ≤ A,
   each panel leg within its rating. They may all start at once when the generator takes over, so
   also ΣkW + Σ(starting − running kW of their motors) ≤ Ks and Σ starting kVA ≤ V. Nothing that is
   never on together may be on together. If any slot fails, the choice is not valid.
2. Then, in priority order, each module load with a pending call no older than its wait is admitted
   with what it wakes, if nothing on excludes it and all that are then on fit: ΣkW ≤ K, legs and
   panels, and for every motor m that is then on: (ΣkW of the others) + starting kW of m ≤ Ks and
   starting kVA of m ≤ V. It serves its oldest pending call; else it stays pending.
3. Pending calls are dropped at the end of the day. Service = served / called, weighted by day.

Rule 2 looks at every motor that is on, direct ones too: a sump pump that is always connected
starts when the water rises, not when the controller has room.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from planner.arrays import Floats, Ints
from planner.facts.home import SLOTS_PER_DAY
from planner.service import loops
from planner.service.choice import DIRECT, MODULE, Choice
from planner.service.house import KW_ROW, House
from planner.service.supply import Supply
from planner.tolerances import SAME_COVERAGE

EPS_KW = 1e-6  # a limit missed by a milliwatt is met


@dataclass(frozen=True)
class Refusal:
    """Why the direct loads do not fit: the rule, the slot and the numbers behind it."""

    rule: str
    day: str
    hour: float
    demand: float
    limit: float
    unit: str

    def __str__(self) -> str:
        clock = f"{int(self.hour):02d}:{round(self.hour % 1 * 60):02d}"
        return (
            f"{self.rule} on {self.day} at {clock}: {self.demand:.1f} {self.unit} needed, "
            f"{self.limit:.1f} {self.unit} allowed"
        )


@dataclass(frozen=True)
class Service:
    """What a valid choice delivers.

    Attributes
    ----------
    service : ndarray of float, shape (n,)
        Share of calls served; 1 for a connected load that never calls, 0 for one that is off.
    coverage : float
        Importance-weighted mean of service (1 if no load has importance).
    served : ndarray of int, shape (n, D)
        Calls served by day.
    waits : ndarray of int, shape (n, T)
        Slots that the call served in a slot had waited; -1 where none was served by turn.
    marks : ndarray of uint8, shape (n, T)
        The timeline: quiet, running, waiting, dropped, woken (constants of `_kernel`).
    load_kw : ndarray of float, shape (T,)
        Real power of all that is on.
    unmet : tuple of str
        Must-run loads that wait or miss a call; a plan must have none.
    """

    service: Floats
    coverage: float
    served: Ints
    waits: Ints
    marks: NDArray[np.uint8]
    load_kw: Floats
    unmet: tuple[str, ...]


def replay(house: House, supply: Supply, choice: Choice) -> Service | Refusal:
    """Play a choice through every slot of every design day.

    Parameters
    ----------
    house : House
        The home as arrays.
    supply : Supply
        One generator's limits and starts at this home.
    choice : Choice
        Connections, soft starters, order.

    Returns
    -------
    Service or Refusal
        A refusal if the direct loads do not fit in some slot.

    Raises
    ------
    ValueError
        If a connected load needs one that is not connected, or a direct load one that is shed.
    """
    _check_wakes(house, choice)
    connection = choice.connection_array()
    start_kw, start_kva = chosen_starts(supply, choice)
    adder = start_kw - house.draw[KW_ROW]
    caps = supply.caps(house)
    needs, foes = relations(house)
    sums = np.zeros((house.draw.shape[0], house.slots))
    top = np.zeros(house.slots)
    on = np.zeros((house.count, house.slots), dtype=np.bool_)
    reason, slot, row = loops.place_direct(
        connection, house.calls, house.draw, caps, adder, start_kva, supply.short_time_kw,
        supply.startable_kva, needs, foes, sums, top, on,
    )
    if reason != loops.FITS:
        return _refusal(house, supply, reason, slot, row, sums, caps, adder, start_kva, on)
    served = np.zeros((house.count, len(house.weights)), dtype=np.int64)
    waits = np.full((house.count, house.slots), -1, dtype=np.int64)
    marks = np.where(on, loops.RUNNING, loops.QUIET).astype(np.uint8)
    marks[on & ~house.calls] = loops.WOKEN
    loops.replay_order(
        choice.order_array(), house.calls, house.wait_slots, house.draw, caps, adder, start_kva,
        supply.short_time_kw, supply.startable_kva, needs, foes, sums, top, on, served, waits,
        marks,
    )
    direct = connection == DIRECT
    by_day = house.calls.reshape(house.count, -1, SLOTS_PER_DAY).sum(axis=2)
    served[direct] = by_day[direct]
    marks[(on & ~house.calls) & direct[:, None]] = loops.WOKEN
    service = _shares(house, connection, served)
    return Service(
        service=service,
        coverage=coverage_of(house, service),
        served=served,
        waits=waits,
        marks=marks,
        load_kw=sums[0],
        unmet=_unmet(house, connection, service, waits),
    )


def coverage_of(house: House, service: Floats) -> float:
    """Importance-weighted mean of service; 1.0 if no load carries importance."""
    total = float(house.importance.sum())
    return float(service @ house.importance) / total if total else 1.0


def chosen_starts(supply: Supply, choice: Choice) -> tuple[Floats, Floats]:
    """Starting kW and kVA of each load with the soft starter chosen for it, shape (n,) each."""
    rows = np.arange(len(choice.soft_start))
    columns = np.array(choice.soft_start, dtype=np.int64)
    return supply.start_kw[rows, columns], supply.start_kva[rows, columns]


def relations(house: House) -> tuple[Ints, Ints]:
    """List per load what it wakes (itself first) and what excludes it, padded with -1."""
    return _relations(house.closure.tobytes(), house.exclusive.tobytes(), house.count)


@lru_cache(maxsize=64)
def _relations(closure: bytes, exclusive: bytes, count: int) -> tuple[Ints, Ints]:
    woken = np.frombuffer(closure, dtype=np.bool_).reshape(count, count)
    barred = np.frombuffer(exclusive, dtype=np.bool_).reshape(count, count)
    return (
        _padded([[i, *np.flatnonzero(row)] for i, row in enumerate(woken)]),
        _padded([list(np.flatnonzero(row)) for row in barred]),
    )


def _padded(rows: list[list[int]]) -> Ints:
    width = max(1, *(len(row) for row in rows))
    return np.array([row + [-1] * (width - len(row)) for row in rows], dtype=np.int64)


def _check_wakes(house: House, choice: Choice) -> None:
    for i, how in enumerate(choice.connection):
        for k in np.flatnonzero(house.closure[i]) if how else ():
            if choice.connection[k] < DIRECT or (how == DIRECT and choice.connection[k] == MODULE):
                msg = f"{house.ids[i]} needs {house.ids[k]}, which is not connected as firmly"
                raise ValueError(msg)


def _shares(house: House, connection: Ints, served: Ints) -> Floats:
    got = served @ house.weights
    share = np.where(house.called > 0, got / np.maximum(house.called, 1e-12), 1.0)
    share[connection == 0] = 0.0
    share[connection == DIRECT] = 1.0
    return share


def _unmet(house: House, connection: Ints, service: Floats, waits: Ints) -> tuple[str, ...]:
    late = (waits > 0).any(axis=1) & (connection == MODULE)
    missed = (service < 1.0 - SAME_COVERAGE) & (house.called > 0) | (connection == 0)
    return tuple(house.ids[i] for i in np.flatnonzero(house.must_run & (late | missed)))


def _refusal(
    house: House, supply: Supply, reason: int, slot: int, row: int, sums: Floats, caps: Floats,
    adder: Floats, start_kva: Floats, on: NDArray[np.bool_],
) -> Refusal:
    live = on[:, slot]
    day = house.home.days[slot // SLOTS_PER_DAY]
    hour = slot % SLOTS_PER_DAY / 4.0
    if reason == loops.OVER_ROW:
        unit = "kW" if row == 0 else "A"
        name = f"{house.row_names[row]} of the always-connected loads"
        return Refusal(name, day.label, hour, float(sums[row, slot]), float(caps[row]), unit)
    if reason == loops.OVER_SHORT_TIME:
        demand = float(sums[0, slot] + adder[live].sum())
        return Refusal("starting power of the always-connected loads at takeover", day.label, hour,
                       demand, supply.short_time_kw, "kW")
    if reason == loops.OVER_STARTABLE:
        return Refusal("starting kVA of the always-connected motors at takeover", day.label, hour,
                       float(start_kva[live].sum()), supply.startable_kva, "kVA")
    return Refusal(f"{house.ids[row]} together with a load that excludes it", day.label, hour,
                   2.0, 1.0, "loads")
