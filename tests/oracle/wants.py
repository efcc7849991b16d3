"""What every load wants on a design day, reckoned from the facts of the home.

Only `planner.service.use` (patterns of use, which has tests of its own) and the curves by which a
machine heats or cools come from the planner. Units: degF, kWh, miles, gallons; slots of 15 min.

Settled here:

- the set point of a room is never colder than its balance, whether it is cooled or heated;
- a load that heats or cools, but is needed by another that does on this day, only follows that one,
  whichever room the other serves;
- back-up heat is held back by 2 degF even where it is the only stage;
- what a tank holds is reckoned from its mean temperature in use, its size from its largest draw;
  its standing loss is the same in every slot and takes no more than half of what it draws; the
  draws share the rest in proportion to their slots' part of the pattern;
- a car is at home in the same hours of every day of a spell, the first one too: the day before was
  an equal one; it goes away at the end of its stay, with what it then has, and a slot before it
  comes home again at the latest; its battery holds at least half as much again as any day takes;
- a pit holds 4 min of pumping, and water of an event comes within 45 min;
- a piece of work is a run of calls, cut at midnight; of events that touch each is one; wait and
  pauses are cut where the next begins before, and so is what makes it longer than a day;
- a window that closes after the spell is not judged.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import groupby
from math import ceil, exp, inf, log

import numpy as np

from planner.facts.home import Use
from planner.service.capacity import heat_btu_h
from planner.service.use import calls_of, temperature_degf, use_on

DAY, SLOT_H = 96, 0.25
BACK_UP, HEAT_TAPE, FREEZER = "heat pump back-up heat", "heat tape", "freezer"
BACK_UP_BEHIND_DEGF = 2.0
BTU_PER_KWH, BTU_PER_GAL_DEGF = 3412.142, 8.33
INLET_DEGF, ROOM_DEGF = 58.0, 70.0
TANK_MEAN_DEGF, TANK_LOSS_BTU_H_DEGF, INTO_WATER = 121.8, 2.5, 0.98
BOX_SET_DEGF, BOX_WARM_DEGF = {False: 37.0, True: 0.0}, {False: 40.0, True: 28.0}
BOX_KEEPS_H, BOX_KEEPS_TO_DEGF, DOORS = {False: 4.0, True: 48.0}, {False: 40.0, True: 32.0}, 0.15
KWH_PER_MILE, RANGE_MILES, SPARE_MILES, LONGEST_STAY = 0.3, 200.0, 10.0, 88
PUMP_GAL, DRAWDOWN_GAL = 8.0 * 15.0, 10.0
PIT_MIN, SLOT_MIN = 4.0, 15.0


@dataclass(frozen=True)
class Store:
    """One load's store over a spell; `begins` is the deviation at which loss begins."""

    stays: float
    need: np.ndarray
    gain: np.ndarray
    cap: float
    begins: float
    behind: float = 0.0
    set_degf: float = 0.0
    cools: bool = False
    draws: np.ndarray = field(default_factory=lambda: np.zeros(0))  # kWh drawn from a tank
    leaves: tuple[tuple[int, float], ...] = ()  # (last slot at home, miles wanted)

    @property
    def theta(self):
        """Deviation from which it calls, slot by slot."""
        return np.maximum(self.behind, np.minimum(self.gain / 2.0, self.begins / 2.0))


@dataclass(frozen=True)
class Task:
    """Windows of a spell as (start, length, wait, pauses); the slots of a spell may end sooner."""

    windows: tuple[tuple[int, int, int, int], ...]
    button: bool


@dataclass(frozen=True)
class Clock:
    """Slots of a spell in which it calls."""

    calls: np.ndarray


def wants_of(home, day):
    """Say for each load id what it wants on a design day: Store, Task, Clock; None for nothing."""
    spell = home.spell_days
    found = dict.fromkeys(ld.id for ld in home.loads)
    for comfort in home.comforts:
        if comfort.kind == "room":
            found |= _room(home, comfort, day)
    for ld in home.loads:
        use = use_on(ld, day)
        calls = calls_of(use, day)
        if ld.nature == "clock" and calls.any():
            found[ld.id] = Clock(np.tile(calls, spell))
        elif ld.nature == "task" and calls.any():
            found[ld.id] = Task(_windows(ld, use, calls, spell), ld.restarts == "start button")
        elif ld.nature in STORES and calls.any():
            found[ld.id] = STORES[ld.nature](home, ld, day, use)
    return found


def parts_of(use, day):
    """Say what part of each slot of a day a load has to run by its pattern."""
    if use.kind == "duty":
        return np.roll(np.repeat(np.array(use.hours), 4), use.offset_slots)
    return calls_of(use, day).astype(float)


def runs_of(use, calls):
    """Give (first slot, number of slots) of every piece of work of a day."""
    if use.kind == "events":
        events = sorted((round(4.0 * start_h), max(1, ceil(4.0 * length_h - 1e-9)))
                        for start_h, length_h in use.events)
        ends = [first + count for first, count in events]
        if all(end <= first for end, (first, _) in zip(ends, events[1:], strict=False)):
            return [(first, min(count, DAY - first)) for first, count in events]
    runs, slot = [], 0
    for calling, group in groupby(calls):
        count = len(list(group))
        runs += [(slot, count)] * bool(calling)
        slot += count
    return runs


def until_next(runs):
    """Pair every run with the slots from its start to the start of the next, round the clock."""
    starts = [first for first, _ in runs]
    return zip(runs, [(later - first) % DAY or DAY for first, later in
                      zip(starts, [*starts[1:], starts[0]], strict=True)], strict=True)


def needed_by(home, load_id):
    """Give all that must be on with a load, itself too."""
    found, todo = {load_id}, [load_id]
    while todo:
        new = set(home.load(todo.pop()).requires) - found
        found |= new
        todo += new
    return found


def _windows(ld, use, calls, spell):
    found = []
    for (first, count), room in until_next(runs_of(use, calls)):
        wait = min(int(4.0 * ld.wait_h + 1e-9), room - count)
        found.append((first, count, wait, min(ld.pause_slots, room - count)))
    return tuple((first + DAY * k, count, wait, pauses)
                 for k in range(spell) for first, count, wait, pauses in found)


def _works(home, ld, day, side):
    """Whether a load heats or cools on a day by its own thermostat."""
    def turns(one):
        return use_on(one, day).kind == side and calls_of(use_on(one, day), day).any()

    return ld.nature == "room" and turns(ld) and not any(
        ld.id in other.requires and turns(other) for other in home.loads)


def _room(home, comfort, day):
    """Stores of the loads that heat or cool a room on a day, by id, in the order of its stages."""
    loads = [home.load(load_id) for load_id in comfort.loads]
    works = {side: [ld for ld in loads if _works(home, ld, day, side)]
             for side in ("cooling", "heating")}
    side = "cooling" if works["cooling"] else "heating"
    stages = works[side]
    if not stages:
        return {}
    cools, uses = side == "cooling", [use_on(ld, day) for ld in stages]
    sign, mildest, hardest = (1.0, min, max) if cools else (-1.0, max, min)
    balance_degf = mildest(use.balance_degf for use in uses)
    design_degf = hardest(use.design_degf for use in uses)
    loss = sum(_duty(use, design_degf) * float(heat_btu_h(ld, side, day, np.array(design_degf)))
               for ld, use in zip(stages, uses, strict=True)) / abs(design_degf - balance_degf)
    set_degf = max(balance_degf, comfort.cooling_set_degf if cools else comfort.heating_set_degf)
    if any(ld.kind == HEAT_TAPE for ld in stages):
        set_degf = balance_degf + 2.0
    outdoor_degf = np.array([temperature_degf(day, (t + 0.5) * SLOT_H) for t in range(DAY)])
    stays = exp(-SLOT_H / comfort.time_constant_h)
    need = (1.0 - stays) * np.maximum(0.0, sign * (outdoor_degf - balance_degf))
    spell = home.spell_days
    return {ld.id: Store(
        stays, np.tile(need, spell),
        np.tile((1.0 - stays) * heat_btu_h(ld, side, day, outdoor_degf) / loss, spell),
        inf, 3.0, _behind(ld), set_degf, cools) for ld in stages}


def _behind(ld):
    if ld.behind_degf is not None:
        return ld.behind_degf
    return BACK_UP_BEHIND_DEGF if ld.kind == BACK_UP else 0.0


def _duty(use, outdoor_degf):
    share = (outdoor_degf - use.balance_degf) / (use.design_degf - use.balance_degf)
    return min(1.0, max(0.0, share) * use.full_duty)


def _tank(home, ld, day, use):
    spell = home.spell_days
    kw = ld.kw_on(day.id)
    gal = float(np.interp(ld.running_kw, [1.5, 2.5, 4.5, 5.5], [10.0, 20.0, 50.0, 80.0]))
    runs = parts_of(use, day) * kw * SLOT_H * INTO_WATER
    at_rest = 24.0 * TANK_LOSS_BTU_H_DEGF * (TANK_MEAN_DEGF - ROOM_DEGF) / BTU_PER_KWH
    standing = min(at_rest, runs.sum() / 2.0)
    draws = runs * (1.0 - standing / runs.sum())
    cap = gal * BTU_PER_GAL_DEGF * (TANK_MEAN_DEGF - INLET_DEGF) / BTU_PER_KWH
    return Store(1.0, np.tile(draws + standing / DAY, spell),
                 np.full(DAY * spell, kw * SLOT_H * INTO_WATER), cap, 0.7 * cap,
                 draws=np.tile(draws, spell))


def _box(home, ld, day, use):
    spell = home.spell_days
    frozen = ld.kind == FREEZER
    set_degf = BOX_SET_DEGF[frozen]
    warms = log((ROOM_DEGF - set_degf) / (ROOM_DEGF - BOX_KEEPS_TO_DEGF[frozen]))
    stays = exp(-SLOT_H * warms / BOX_KEEPS_H[frozen])
    need = (1.0 - stays) * (ROOM_DEGF - set_degf) / (1.0 - DOORS)
    gain = need / float(parts_of(use, day).mean())
    return Store(stays, np.full(DAY * spell, need), np.full(DAY * spell, gain),
                 ROOM_DEGF - set_degf, BOX_WARM_DEGF[frozen] - set_degf, set_degf=set_degf)


def _battery(home, ld, day, use):
    spell = home.spell_days
    driven, gain = _miles(ld, day), ld.kw_on(day.id) * SLOT_H / KWH_PER_MILE
    runs = runs_of(Use(kind="calls"), calls_of(use, day))
    cap = max(RANGE_MILES, *(1.5 * _miles(ld, other) for other in home.days))
    wanted = min(cap, SPARE_MILES + driven)
    at_home, need, leaves = np.zeros(DAY * spell), np.zeros(DAY * spell), []
    for k in range(-1, spell):
        for (first, count), room in until_next(runs):
            start = DAY * k + first
            stay = min(count + int(4.0 * ld.wait_h + 1e-9), LONGEST_STAY, room - 1)
            at_home[max(0, start):max(0, start + stay)] = gain
            if k >= 0:
                need[start] += count * gain
            if 0 < start + stay <= DAY * spell:
                leaves.append((start + stay - 1, wanted))
    return Store(1.0, need, at_home, cap, cap - wanted, leaves=tuple(leaves))


def _miles(ld, day):
    """Miles that a car drives on a day: what charging by its pattern gives."""
    return float(calls_of(use_on(ld, day), day).sum()) * ld.kw_on(day.id) * SLOT_H / KWH_PER_MILE


def _pressure(home, ld, day, use):
    spell = home.spell_days
    return Store(1.0, np.tile(parts_of(use, day) * PUMP_GAL, spell),
                 np.full(DAY * spell, PUMP_GAL), DRAWDOWN_GAL, DRAWDOWN_GAL)


def _pit(home, ld, day, use):
    spell = home.spell_days
    parts = parts_of(use, day)
    if use.kind != "duty":
        parts = sum(np.roll(parts, late) for late in range(3)) / 3.0
    return Store(1.0, np.tile(parts * SLOT_MIN, spell), np.full(DAY * spell, SLOT_MIN), PIT_MIN,
                 PIT_MIN)


STORES = {"tank": _tank, "box": _box, "battery": _battery, "pressure": _pressure, "pit": _pit}
