"""Small portable generators, what connects them, and every schedule there is."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np

from planner.facts.portable import Attendance, ManualTransfer, Portable, PortableParts
from planner.service.house import house_of
from planner.study.portable.machine import machine_of
from planner.study.portable.periods import periods_of
from planner.study.portable.playing import Schedule, played
from planner.study.portable.search import Groups
from tests.homes import USUAL_LOSS, book

TWO = Attendance(6.0, 22.0, 16.0)
THREE = Attendance(6.0, 22.0, 8.0)
LOSSLESS = replace(USUAL_LOSS, altitude_per_1000_ft=0.0, temperature_per_10_degf=0.0)


def portable(kw, **changes):
    """A portable generator of so many kW and kVA with a large tank, that loses nothing."""
    return replace(Portable(
        "portable", "Portable", 240, kw, kw, 50.0, 100.0, (0.05 * kw, 0.1 * kw, 0.15 * kw),
        LOSSLESS, neutral_bonded=False, price=800.0), **changes)


def interlock(**changes):
    """An interlock with an inlet of 50 A."""
    return replace(ManualTransfer("inlet", "Interlock", "interlock", 240, 50.0, 0, 150.0, 400.0,
                                  90.0, switches_neutral=False), **changes)


def offering(*portables, transfers=None, **changes):
    """A price book with portable generators."""
    return replace(book(), by_hand=PortableParts(
        tuple(portables), (interlock(),) if transfers is None else transfers, 3.0), **changes)


def groups_for(home, one, transfer=None):
    """Groups of a machine at a home, with an interlock unless a test says otherwise."""
    house = house_of(home)
    machine = machine_of(house, offering(one), one, transfer or interlock())
    return Groups(machine, periods_of(home.attendance), machine.runs)


def empty(groups):
    """A schedule in which nothing is closed and nobody refuels."""
    return Schedule(np.zeros_like(groups.active),
                    np.zeros((len(groups.active), 96), dtype=np.bool_))


def may_stand(groups, on):
    """Whether all of a group may be on at once, worked out load by load, on the only day."""
    machine = groups.machine
    house, power = machine.house, machine.power
    home = house.home
    chosen = [i for i, one in enumerate(on) if one]
    ids = {home.loads[i].id for i in chosen}
    for i in chosen:
        load = home.loads[i]
        others_kw = sum(home.loads[k].running_kw for k in chosen if k != i)
        if (set(load.requires) - ids or set(load.not_with) & ids
                or any(load.id in home.loads[k].not_with for k in chosen)
                or not power.dip_ok[i] or others_kw > power.room_kw[i] + 1e-9):
            return False
        starting = power.start_kva[i] + sum(
            power.start_kva[k] for k in chosen if home.loads[k].id in load.requires)
        if power.start_kva[i] and starting > power.pick_kva + 1e-9:
            return False
    kw = sum(home.loads[i].running_kw for i in chosen)
    legs = [sum(1000.0 * home.loads[i].running_kva / home.loads[i].volts for i in chosen
                if home.loads[i].leg in ("both", leg)) for leg in ("L1", "L2")]
    share = home.limits.largest_share
    most_a = min(1000.0 * machine.portable.kva / 240.0, machine.transfer.inlet_a)
    return kw <= machine.supply.derated_kw * share + 1e-9 and max(legs) <= most_a * share + 1e-9


def lights_wanted(groups, period):
    """Loads that are light and called for between 17 and 7 h in a period of the only day."""
    house, of_slot = groups.machine.house, groups.periods.of_slot
    return [i for i, one in enumerate(house.home.loads)
            if one.kind == "lighting and receptacles" and any(
                house.works.can[i][t] for t in range(96)
                if of_slot[t] == period and not 7.0 <= t / 4.0 < 17.0)]


def light_goes_ahead(groups, period, on):
    """Whether no light is off for chores below it, worked out chore by chore, on the only day.

    A chore is work with a deadline, or a car, without a promise. What must run, or is needed by
    that, is none.
    """
    house, loads = groups.machine.house, groups.machine.house.home.loads
    comforts = {name: one for one in house.home.comforts for name in one.loads}
    firm = {k for i in groups.forced for k in range(len(on)) if k == i or house.closure[i, k]}
    for light in lights_wanted(groups, period):
        needs = {light, *np.flatnonzero(house.closure[light]).tolist()}
        if on[light] or any(not groups.may[k] for k in needs):
            continue
        lower = {k for k in np.flatnonzero(on).tolist() if k not in firm
                 and loads[k].id in comforts
                 and comforts[loads[k].id].kind in ("task", "car")
                 and comforts[loads[k].id].promise is None and loads[k].rank < loads[light].rank}
        left = {k for k in np.flatnonzero(on).tolist()
                if k not in lower and not any(house.closure[k, one] for one in lower)}
        if lower and may_stand(groups, [k in left | needs for k in range(len(on))]):
            return False
    return True


def best_of_all(groups, light_first=True):
    """Highest score of every schedule there is, for a home of one day.

    Of those schedules in which light goes ahead of chores that matter less, unless it need not.
    """
    count = groups.machine.house.count
    standing = [np.array(on) for on in product([False, True], repeat=count)
                if may_stand(groups, on)]
    forced = [on for on in standing if all(on[i] for i in groups.forced)] or standing
    plain, best = empty(groups), -np.inf
    for chosen in product(*([on for on in forced
                             if not light_first or light_goes_ahead(groups, period, on)]
                            for period in range(groups.periods.count))):
        score = played(groups.machine, groups.periods, plain.with_groups(np.array([chosen]))).score
        best = max(best, float(score[0]))
    return best
