"""Whether a portable generator starts the air conditioner, with the numbers."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from planner.facts.home import Load
from planner.facts.price_book import PriceBook, SoftStarter
from planner.service.house import KW_ROW
from planner.study.portable.machine import Machine, needed

Starts = Literal["yes", "with a soft starter", "no"]


@dataclass(frozen=True)
class CoolingStart:
    """Whether the machine starts and carries one load that cools, alone with what it needs.

    Attributes
    ----------
    load : Load
    starts : str
    starter : SoftStarter or None
        The cheapest with which it does, where it does only with one.
    start_kva, startable_kva : float
        What its motor and those it needs take together without a soft starter, and what the
        machine starts within the allowed dip [kVA].
    kw, capacity_kw : float
        What it draws with what it needs, and what the machine carries [kW].
    """

    load: Load
    starts: Starts
    starter: SoftStarter | None
    start_kva: float
    startable_kva: float
    kw: float
    capacity_kw: float


def cooling_starts(machine: Machine, book: PriceBook) -> tuple[CoolingStart, ...]:
    """Try every motor that cools a room, alone with what it needs, on its hottest day."""
    return tuple(_tried(machine, book, i) for i in cooling_loads(machine))


def cooling_loads(machine: Machine) -> tuple[int, ...]:
    """Places of the motors that cool a room on a design day."""
    house = machine.house
    found = []
    for c, comfort in enumerate(house.home.comforts):
        if comfort.kind != "room":
            continue
        days = [level.cooling and bool(level.loads) for level in house.nature.levels[c]]
        found += [house.index(one) for one in comfort.loads
                  if any(days) and house.starting_kva[house.index(one)] > 0.0
                  and house.home.load(one).compressor]
    return tuple(dict.fromkeys(found))


def _tried(machine: Machine, book: PriceBook, i: int) -> CoolingStart:
    house, supply = machine.house, machine.supply
    with_needs = needed(house, [i])
    works = [day for day in range(len(house.weights))
             if house.works.can[i].reshape(len(house.weights), -1)[day].any()]
    starters = [(0, None), *sorted(
        ((place, one) for place, one in enumerate(book.soft_starters, start=1)
         if suits(one, house.home.loads[i])), key=lambda one: one[1].installed_usd)]
    best: tuple[Starts, SoftStarter | None] = ("no", None)
    for place, starter in starters if machine.runs[with_needs].all() else ():
        soft = tuple(place if k == i else 0 for k in range(house.count))
        if all(machine.with_soft_start(soft).fits(day, with_needs) for day in works):
            best = ("yes" if starter is None else "with a soft starter", starter)
            break
    return CoolingStart(
        house.home.loads[i], *best,
        start_kva=float(house.starting_kva[with_needs].sum()),
        startable_kva=min(supply.startable_kva, supply.pick_kva),
        kw=float(machine.draw[:, KW_ROW][:, with_needs].sum(axis=1).max()),
        capacity_kw=supply.capacity_kw)


def suits(starter: SoftStarter, load: Load) -> bool:
    """Whether a soft starter suits a load."""
    kind = "compressor" if load.compressor else "pump"
    return (load.soft_start_fits and load.is_motor and kind in starter.suits
            and starter.amperes >= load.plate_a)


def soft_start_of(
    machine: Machine, book: PriceBook, starts: tuple[CoolingStart, ...]
) -> tuple[int, ...]:
    """Give the choice of soft starters with which everything that can be started is."""
    soft = np.zeros(machine.house.count, dtype=np.int64)
    for one in starts:
        if one.starter is not None:
            soft[machine.house.index(one.load.id)] = 1 + book.soft_starters.index(one.starter)
    return tuple(map(int, soft))
