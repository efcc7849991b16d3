"""Set up what holds heat or cold: rooms with a thermostat, cold boxes, tanks of hot water."""

from __future__ import annotations

import numpy as np

from planner.arrays import Floats
from planner.facts.home import SLOT_H
from planner.physics.fuel import BTU_PER_KWH
from planner.physics.stores import (
    AROUND_DEGF,
    ELEMENT_EFFICIENCY,
    INLET_DEGF,
    SHOWER_DEGF,
    TANK_LOSS_BTU_H_DEGF,
    TANK_MEAN_DEGF,
    tank_gal,
)
from planner.physics.thermal import WATER_BTU_PER_GAL_DEGF
from planner.service.capacity import draw_kw, follows_weather, heat_btu_h
from planner.service.stages import balance_of, loss_of
from planner.service.use import use_on
from planner.simulation.appliances import box as cold
from planner.simulation.appliances import room as inside
from planner.simulation.appliances import tank as hot
from planner.simulation.build import Part, Setting, naming
from planner.simulation.columns import BOX, KW, ROOM, STAGE, STATES, TANK, THAW_KW, THAWED
from planner.simulation.schedule import DAY_S, SLOT_S, Events, in_order

FREEZER = "freezer"
HEAT_TAPE = "heat tape"
HELD_MIN = 15  # draws change so seldom that the seconds between stay alike; a choice
TAPS_GAL_S = 2.5 / 60.0  # a shower of 2.5 gal/min; common practice, no source
DRAW_JITTER_S = 1200.0  # standard deviation of a draw's start; common practice, no source
DRAW_SPREAD = 0.3  # draws are up to a third larger or smaller; common practice, no source
AWAKE_H = (6.0, 23.0)  # doors are opened; common practice, no source


def room(setting: Setting) -> Part:
    """Build a stage of a room; the first of its stages is the room too."""
    load, use, home = setting.load, setting.use, setting.home
    row, state = setting.row(inside.TICK_S), np.zeros(STATES)
    sign = -1.0 if use.kind == "cooling" else 1.0
    loads = [home.loads[i] for i in setting.stages]
    place = [one.id for one in loads].index(load.id)
    minutes = _by_weather(setting, sign)
    own = minutes if follows_weather(load) else ()
    inside.write_stage(row, place, float(minutes[0][0]), behind_degf=load.behind_degf)
    if place:
        return Part(STAGE, row, own=own, state=state)
    uses = [use_on(one, setting.day) for one in loads]
    inside.write_room(
        row, state, cooling=use.kind == "cooling", balance_degf=balance_of(uses),
        loss_btu_h_degf=loss_of(loads, uses, setting.day), set_degf=_set_degf(setting),
        floor_ft2=home.floor_area_ft2, lived_in=setting.room is not None and setting.room.lived_in,
        time_constant_h=setting.comfort.time_constant_h if setting.comfort else None)
    return Part(ROOM, row, naming(setting.stages), own=own, state=state)


def _set_degf(setting: Setting) -> float:
    if setting.load.kind == HEAT_TAPE:
        return setting.use.balance_degf + inside.PIPE_ABOVE_DEGF
    holds = setting.comfort or setting.home
    return holds.cooling_set_degf if setting.use.kind == "cooling" else holds.heating_set_degf


def _by_weather(setting: Setting, sign: float) -> tuple[Floats, Floats]:
    """Heat [Btu/h] and draw [kW] of every minute, held for a quarter of an hour each."""
    held = setting.outdoor_degf[::HELD_MIN]
    kind, day = setting.use.kind, setting.day
    heat = sign * heat_btu_h(setting.load, kind, day, held)
    kw = draw_kw(setting.load, kind, day, held)
    count = len(setting.outdoor_degf)
    return np.repeat(heat, HELD_MIN)[:count], np.repeat(kw, HELD_MIN)[:count]


def box(setting: Setting) -> Part:
    """Build a refrigerator or freezer whose share of running is that of its calls."""
    row, state = setting.row(cold.TICK_S), np.zeros(STATES)
    freezer = setting.load.kind == FREEZER
    duty = float(setting.calls.mean())
    row[KW] = setting.load.mean_kw or setting.kw
    row[THAW_KW] = setting.kw if setting.load.mean_kw else 0.0
    state[THAWED] = setting.numbers("thaw").uniform(0.0, cold.THAW_EVERY_S)
    heat_btu = cold.write_box(row, state, kw=row[KW], duty=duty, freezer=freezer)
    doors = cold.FREEZER_DOORS if freezer else cold.DOORS
    dice, days = setting.numbers("doors"), setting.span.midnights_s
    first_s, last_s = (3600.0 * hour for hour in AWAKE_H)
    start_s = np.sort((days[:, None] + dice.uniform(first_s, last_s, (len(days), doors))).ravel())
    size = np.full(len(start_s), heat_btu / doors)
    events = Events(start_s, np.zeros(len(start_s)), size).since(setting.span.warm_s)
    return Part(BOX, row, events, state=state)


def tank(setting: Setting) -> Part:
    """Build a water heater: every call is a draw that takes the heat of a call, less the losses."""
    row, state = setting.row(hot.TICK_S), np.zeros(STATES)
    kw = setting.kw
    slots = np.flatnonzero(setting.calls)
    called_btu = len(slots) * SLOT_H * kw * BTU_PER_KWH * ELEMENT_EFFICIENCY
    at_rest_btu = 24.0 * TANK_LOSS_BTU_H_DEGF * (TANK_MEAN_DEGF - AROUND_DEGF)
    loss = TANK_LOSS_BTU_H_DEGF * min(1.0, called_btu / (2.0 * at_rest_btu))
    hot.write_tank(row, state, kw=kw, gal=tank_gal(kw), loss_btu_h_degf=loss)
    drawn_btu = called_btu - 24.0 * loss * (TANK_MEAN_DEGF - AROUND_DEGF)
    tap_gal = drawn_btu / len(slots) / (
        WATER_BTU_PER_GAL_DEGF * (SHOWER_DEGF - INLET_DEGF))
    dice, days = setting.numbers("draws"), setting.span.midnights_s
    shape = (len(days), len(slots))
    starts, sizes = dice.spawn(2)
    scatter = DRAW_JITTER_S * np.clip(starts.standard_normal(shape), -2.0, 2.0)
    start_s = (days[:, None] + slots * SLOT_S + scatter).ravel()
    length_s = tap_gal / TAPS_GAL_S * (1.0 + DRAW_SPREAD * sizes.uniform(-1.0, 1.0, shape)).ravel()
    size = np.full(len(start_s), TAPS_GAL_S)
    most_s = 0.8 * DAY_S / len(slots)
    if tap_gal / TAPS_GAL_S > most_s:
        size *= tap_gal / TAPS_GAL_S / most_s
        length_s *= TAPS_GAL_S / size[0]
    return Part(TANK, row, in_order(start_s, length_s, size).since(setting.span.warm_s),
                state=state)
