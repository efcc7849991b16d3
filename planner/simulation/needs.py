"""Set up what builds up and is worked off: pits, batches, water under pressure, batteries."""

from __future__ import annotations

import numpy as np

from planner.arrays import Floats
from planner.physics.stores import BATTERY_KWH, DRAWDOWN_GAL, KWH_PER_MILE, SPARE_MILES
from planner.simulation.appliances import pressure as water
from planner.simulation.appliances import store as need
from planner.simulation.appliances import vehicle as car
from planner.simulation.build import Part, Setting
from planner.simulation.columns import (
    BATTERY,
    BY_S,
    DRAWDOWN,
    FULL_AT,
    LEAVES,
    PRESSURE,
    PUMP,
    START_AT,
    STATES,
    STORE,
    VEHICLE,
    VOLUME,
    WANTED_KWH,
)
from planner.simulation.schedule import (
    DAY_S,
    Events,
    events_of,
    in_order,
    runs_of,
)
from planner.simulation.seeds import wander

MINUTES_PER_SLOT = 15
SPREAD = 0.4  # how far a need wanders around its mean; common practice, no source
DRIVE_SPREAD = 0.25  # trips are up to a quarter longer or shorter; common practice, no source
LARGEST_STAY_S = 22.0 * 3600.0
UNPLUG_S = 60.0  # nobody leaves in the very second that the car is full


def store(setting: Setting) -> Part:
    """Build an appliance that works off a need, giving up what is older than its wait."""
    share = _share_of_minutes(setting)
    row = setting.row(need.TICK_S)
    row[START_AT] = need.BATCH_S
    waiting_s = setting.calls.mean() * 3600.0 * setting.load.wait_h
    row[FULL_AT] = need.BATCH_S + need.TICK_S + waiting_s
    return _filled(setting, row, share)


def pit(setting: Setting) -> Part:
    """Build a pump in a pit; the water comes at about the times of its calls."""
    share = _share_of_minutes(setting)
    if setting.use.kind != "duty":
        share = _smeared(share, 3 * MINUTES_PER_SLOT)
    row = setting.row(need.PIT_TICK_S)
    row[START_AT] = need.PIT_BATCH_S
    row[FULL_AT] = need.PIT_BATCH_S + need.PIT_ROOM_S
    return _filled(setting, row, share)


def pressure(setting: Setting) -> Part:
    """Build a pump with a pressure tank; taps run at about half its flow, for twice as long."""
    row, state, span = setting.row(water.TICK_S), np.zeros(STATES), setting.span
    row[PUMP], row[DRAWDOWN] = water.PUMP_GAL_S, DRAWDOWN_GAL
    dice = setting.numbers("taps")
    runs = runs_of(setting.calls)
    events = events_of(runs, dice, span.first_s, span.until_s)
    longer = min(1.0 / water.TAPS_SHARE,
                 1.0 + 0.8 * min(run.gap_s / run.length_s for run in runs))
    size = np.full(len(events.size), water.PUMP_GAL_S / longer)
    taps = in_order(events.start_s, longer * events.length_s, size)
    state[VOLUME] = dice.uniform(0.0, DRAWDOWN_GAL)
    return Part(PRESSURE, row, taps.since(span.warm_s), state=state)


def vehicle(setting: Setting) -> Part:
    """Build a charger: the car comes home when it calls and stays until its wait is over."""
    row, state, span = setting.row(car.TICK_S), np.zeros(STATES), setting.span
    kw, wait_s = setting.kw, 3600.0 * setting.load.wait_h
    runs = runs_of(setting.calls)
    row[BATTERY] = max(BATTERY_KWH, *(run.length_s / 3600.0 * kw * 1.5 for run in runs))
    of_day_kwh = sum(run.length_s for run in runs) / 3600.0 * kw
    row[WANTED_KWH] = min(row[BATTERY], of_day_kwh + SPARE_MILES * KWH_PER_MILE)
    row[BY_S] = _promised_s(setting)
    state[LEAVES] = -np.inf
    dice = setting.numbers("trips")
    events = events_of(runs, dice, span.first_s, span.until_s)
    planned_s = np.tile([run.length_s for run in runs], len(span.midnights_s))
    room_s = planned_s + np.tile([run.gap_s for run in runs], len(span.midnights_s))
    slack = np.minimum(DRIVE_SPREAD, 0.5 * (room_s / planned_s - 1.0))
    kwh = planned_s / 3600.0 * kw * (1.0 + slack * dice.uniform(-1.0, 1.0, len(planned_s)))
    stay_s = np.minimum(planned_s * (1.0 + slack) + wait_s + UNPLUG_S, LARGEST_STAY_S)
    return Part(VEHICLE, row, Events(events.start_s, np.maximum(stay_s, planned_s), kwh).since(
        span.warm_s), state=state)


def _promised_s(setting: Setting) -> float:
    """Give the second of a day, from the loss of the utility, by which miles are promised."""
    promise = setting.comfort.promise if setting.comfort else None
    if promise is None or promise.by_h is None:
        return car.NOTHING_PROMISED
    return round(3600.0 * promise.by_h - 60.0 * setting.span.start_min) % DAY_S


def _share_of_minutes(setting: Setting) -> Floats:
    """Share of running that is due in every minute; over a day it adds up to the calls."""
    use, span = setting.use, setting.span
    if use.kind == "duty":
        planned = np.repeat(np.roll(np.repeat(use.hours, 4), use.offset_slots), MINUTES_PER_SLOT)
        planned *= MINUTES_PER_SLOT * setting.calls.sum() / planned.sum()
    else:
        planned = np.repeat(setting.calls.astype(np.float64), MINUTES_PER_SLOT)
    first_min = span.start_min - span.warm_min
    share = planned[(first_min + np.arange(span.minutes)) % len(planned)]
    factor = wander(setting.numbers("need"), span.minutes, 1.0, 15) - 1.0
    swing = np.minimum(SPREAD, np.where(share > 0.0, 1.0 / np.maximum(share, 1e-9) - 1.0, 0.0))
    return np.asarray(share * (1.0 + np.maximum(swing, 0.0) * factor))


def _smeared(share: Floats, minutes: int) -> Floats:
    """Spread what is due in a minute over the minutes that follow."""
    return np.convolve(share, np.full(minutes, 1.0 / minutes))[:len(share)]


def _filled(setting: Setting, row: Floats, share: Floats) -> Part:
    state = np.zeros(STATES)
    state[VOLUME] = setting.numbers("filled").uniform(0.0, row[START_AT])
    return Part(STORE, row, own=(share,), state=state)


