"""What a store's need, gain and end are on a design day, in the unit of its comfort.

The physics behind them is that of the simulation; here a slot is one step, and every machine has
one deviation.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.comfort import Comfort
from planner.facts.home import SLOT_H, SLOTS_PER_DAY, DesignDay, Home, Load
from planner.physics.comfort import COMFORT_DEGF, farthest_livable_degf
from planner.physics.fuel import BTU_PER_KWH
from planner.physics.stores import (
    AROUND_DEGF,
    BATTERY_KWH,
    DOOR_SHARE,
    DRAWDOWN_GAL,
    ELEMENT_EFFICIENCY,
    FREEZER_DEGF,
    FREEZER_LOST_DEGF,
    FRIDGE_DEGF,
    FRIDGE_WARM_DEGF,
    HOT_SHARE,
    KWH_PER_MILE,
    PIT_MIN,
    PUMP_GAL_MIN,
    SPARE_MILES,
    TANK_LOSS_BTU_H_DEGF,
    TANK_MEAN_DEGF,
    box_constant_h,
    shower_kwh,
    tank_gal,
    tank_kwh,
)
from planner.service.capacity import heat_btu_h
from planner.service.stages import balance_of, loss_of
from planner.service.use import cached_calls, outdoor_degf, shares_of, use_on

FREEZER, HEAT_TAPE = "freezer", "heat tape"
PIPE_ABOVE_DEGF = 2.0  # set point of heat tape above its balance; common practice, no source
BACK_UP_BEHIND_DEGF = 2.0  # unless it is said; common practice, no source
SAFE_SLOTS = 8  # food stands more than 2 h above its limit (standards: 2 h, common practice)
LONGEST_STAY_SLOTS = 88  # a car is away for 2 h a day at least (a choice)
LARGEST = 1e9  # a deviation that has no end of its own


@dataclass(frozen=True)
class Store:
    """A comfort that keeps a level, on one design day of 96 slots.

    `need`, `low`, `high`, `weight`, `amount` (96,); `gains` (loads, 96) in the order of `loads`;
    see `planner.service.loops.inputs.Cares`. `loads` are those that can help on this day.
    """

    loads: tuple[str, ...]
    keep: float
    full: float
    need: Floats
    gains: Floats
    low: Floats
    high: Floats
    weight: Floats
    amount: Floats
    cooling: bool = False
    set_degf: float = 0.0


def nothing(count: int = 0) -> Store:
    """Give a store that needs nothing on a day and cannot be helped."""
    none = np.zeros(SLOTS_PER_DAY)
    return Store((), 1.0, LARGEST, none, np.zeros((count, SLOTS_PER_DAY)), none, none + 1.0, none,
                 none)


def store_of(home: Home, comfort: Comfort, day: DesignDay) -> Store:
    """Give the level of a comfort on a design day, by its kind."""
    loads = [home.load(one) for one in comfort.loads]
    if comfort.kind == "room":
        return _room(home, comfort, loads, day)
    if not loads or not cached_calls(use_on(loads[0], day), day).any():
        return nothing()
    load = loads[0]
    if comfort.kind == "car":
        return _battery(home, comfort, load, day)
    by_kind = {"hot water": _tank, "food": _box, "running water": _pressure, "pit": _pit}
    return by_kind[comfort.kind](load, day)


def _room(home: Home, comfort: Comfort, loads: list[Load], day: DesignDay) -> Store:
    direction = next((kind for kind in ("cooling", "heating")
                      if any(_works(home, load, day, kind) for load in loads)), "")
    working = [load for load in loads if direction and _works(home, load, day, direction)]
    if not working:
        return nothing()
    uses = [use_on(load, day) for load in working]
    cooling = direction == "cooling"
    balance_degf, loss = balance_of(uses), loss_of(working, uses, day)
    set_degf = comfort.cooling_set_degf if cooling else comfort.heating_set_degf
    if working[0].kind == HEAT_TAPE:
        set_degf = balance_degf + PIPE_ABOVE_DEGF
    set_degf = max(set_degf, balance_degf)
    outdoor = outdoor_degf(day)
    keep = math.exp(-SLOT_H / comfort.time_constant_h)
    pull = outdoor - balance_degf if cooling else balance_degf - outdoor
    gains = np.array([(1.0 - keep) * heat_btu_h(load, direction, day, outdoor) / loss
                      for load in working])
    slots = np.ones(SLOTS_PER_DAY)
    far = farthest_livable_degf(set_degf, cooling=cooling)
    return Store(tuple(load.id for load in working), keep, LARGEST,
                 (1.0 - keep) * np.maximum(0.0, pull), gains, COMFORT_DEGF * slots, far * slots,
                 slots, slots, cooling, set_degf)


def _works(home: Home, load: Load, day: DesignDay, direction: str) -> bool:
    """Whether a load heats or cools on a day by its own thermostat, and does not only follow."""
    use = use_on(load, day)
    if use.kind != direction or not cached_calls(use, day).any():
        return False
    return not any(load.id in other.requires and use_on(other, day).kind == direction
                   and cached_calls(use_on(other, day), day).any() for other in home.loads)


def _tank(load: Load, day: DesignDay) -> Store:
    kw, share = load.kw_on(day.id), shares_of(use_on(load, day), day)
    wanted = kw * SLOT_H * ELEMENT_EFFICIENCY * share
    rest_btu_h = TANK_LOSS_BTU_H_DEGF * (TANK_MEAN_DEGF - AROUND_DEGF)
    standing_kwh = 24.0 * rest_btu_h / BTU_PER_KWH
    standing_kwh *= min(1.0, float(wanted.sum()) / (2.0 * standing_kwh))
    drawn = wanted * (1.0 - standing_kwh / float(wanted.sum()))
    end_kwh = tank_kwh(tank_gal(load.running_kw))  # the same tank on every day
    slots = np.ones(SLOTS_PER_DAY)
    return Store((load.id,), 1.0, end_kwh, drawn + standing_kwh / SLOTS_PER_DAY,
                 kw * SLOT_H * ELEMENT_EFFICIENCY * slots[None, :], HOT_SHARE * end_kwh * slots,
                 end_kwh * slots, drawn, drawn / shower_kwh())


def _box(load: Load, day: DesignDay) -> Store:
    freezer = load.kind == FREEZER
    set_degf = FREEZER_DEGF if freezer else FRIDGE_DEGF
    limit_degf = (FREEZER_LOST_DEGF if freezer else FRIDGE_WARM_DEGF) - set_degf
    keep = math.exp(-SLOT_H / box_constant_h(freezer=freezer))
    need = (1.0 - keep) * (AROUND_DEGF - set_degf) / (1.0 - DOOR_SHARE)
    duty = float(shares_of(use_on(load, day), day).mean())
    slots = np.ones(SLOTS_PER_DAY)
    weight = np.zeros(SLOTS_PER_DAY)
    weight[-1] = 1.0
    return Store((load.id,), keep, AROUND_DEGF - set_degf, need * slots,
                 need / duty * slots[None, :], limit_degf * slots, limit_degf * slots, weight,
                 weight, set_degf=set_degf)


def _battery(home: Home, comfort: Comfort, load: Load, day: DesignDay) -> Store:
    kw = load.kw_on(day.id)
    end = max(BATTERY_KWH / KWH_PER_MILE,
              *(1.5 * _driven_miles(load, other) for other in home.days))  # the same car
    at_home: Bools = np.zeros(SLOTS_PER_DAY, dtype=np.bool_)
    need, weight = np.zeros(SLOTS_PER_DAY), np.zeros(SLOTS_PER_DAY)
    marks = cached_calls(use_on(load, day), day)
    wait = int(load.wait_h / SLOT_H + 1e-9)
    arrivals = [int(slot) for slot in np.flatnonzero(marks) if slot == 0 or not marks[slot - 1]]
    for place, slot in enumerate(arrivals):
        length = int(np.argmin(np.append(marks[slot:], False)))
        following = arrivals[(place + 1) % len(arrivals)] + (
            SLOTS_PER_DAY if place + 1 == len(arrivals) else 0)
        stay = min(length + wait, LONGEST_STAY_SLOTS, following - slot - 1)
        at_home[(slot + np.arange(stay)) % SLOTS_PER_DAY] = True
        need[slot] += length * SLOT_H * kw / KWH_PER_MILE
        weight[(slot + stay - 1) % SLOTS_PER_DAY] = 1.0
    wanted = min(end, float(need.sum()) + SPARE_MILES)
    slots = np.ones(SLOTS_PER_DAY)
    amount = weight.copy()
    if comfort.promise is not None and comfort.promise.by_h is not None:
        amount = np.zeros(SLOTS_PER_DAY)
        amount[int(comfort.promise.by_h / SLOT_H - 1e-9) % SLOTS_PER_DAY] = 1.0
    gain = kw * SLOT_H / KWH_PER_MILE * at_home.astype(np.float64)
    return Store((load.id,), 1.0, end, need, gain[None, :],
                 (end - wanted) * slots, end * slots, weight, amount)


def _driven_miles(load: Load, day: DesignDay) -> float:
    return float(cached_calls(use_on(load, day), day).sum()) * SLOT_H * load.kw_on(
        day.id) / KWH_PER_MILE


def _pressure(load: Load, day: DesignDay) -> Store:
    flow = PUMP_GAL_MIN * 60.0 * SLOT_H
    need = flow * shares_of(use_on(load, day), day)
    slots, wanted = np.ones(SLOTS_PER_DAY), (need > 0.0).astype(np.float64)
    return Store((load.id,), 1.0, DRAWDOWN_GAL, need, flow * slots[None, :], DRAWDOWN_GAL * slots,
                 DRAWDOWN_GAL * slots, wanted, wanted)


def _pit(load: Load, day: DesignDay) -> Store:
    minutes = 60.0 * SLOT_H
    share = shares_of(use_on(load, day), day)
    if use_on(load, day).kind != "duty":
        share = (share + np.roll(share, 1) + np.roll(share, 2)) / 3.0  # it comes within 45 min
    slots = np.ones(SLOTS_PER_DAY)
    weight = np.zeros(SLOTS_PER_DAY)
    weight[-1] = 1.0
    limit = PIT_MIN - 1e-6
    return Store((load.id,), 1.0, PIT_MIN, minutes * share, minutes * slots[None, :],
                 limit * slots, limit * slots, weight, weight)
