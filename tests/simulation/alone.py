"""One state machine by itself, played second by second."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from planner.facts.home import COOLING_SET_DEGF, HEATING_SET_DEGF
from planner.physics.fuel import BTU_PER_KWH
from planner.service.capacity import BTU_PER_WH
from planner.simulation.appliances import room as room_model
from planner.simulation.columns import (
    COLUMN,
    DRAW,
    HOT,
    KW,
    NEXT,
    PARAMETERS,
    ROOM,
    STATES,
    TICK,
    WANT,
)
from planner.simulation.loops.machines import advance
from planner.simulation.machines import Machines


def blank(tick_s):
    """Rows of parameters and state for a machine that looks at itself every so many seconds."""
    row = np.zeros(PARAMETERS)
    row[TICK] = tick_s
    return row, np.zeros(STATES)


def machine(kind, row, state, *, events=((), (), ()), minute=((50.0, 1.0, 1.0),)):
    """Machines with a single load; `events` are starts, lengths and sizes; looks first at second 0.

    `minute` holds outdoor temperature, sun and the load's own column; its last row goes on.
    """
    start, length, size = (np.ascontiguousarray(part, dtype=np.float64) for part in events)
    shared = np.zeros((HOT, 1))
    shared[NEXT] = row[TICK]
    return Machines(
        kind=np.array([kind], dtype=np.int8), parameters=row[None].copy(),
        state=state[None].copy(), shared=shared, shared_parameters=np.zeros(0),
        event_first=np.array([0, len(start)]), event_start_s=start, event_length_s=length,
        event_size=size, minute=np.array(minute, dtype=np.float64),
    )


ITSELF = ((0.0,), (0.0,), (0.0,))
"""Events of a room that is heated or cooled by the load in whose row it is kept, alone."""


def room(use, outdoor_degf, *, kw=4.0, sun=1.0, tick_s=room_model.TICK_S):
    """A room of one machine without a curve, under a constant sky."""
    row, state = blank(tick_s)
    row[KW], row[COLUMN] = kw, -1.0
    write_single(row, state, use, kw)
    return machine(ROOM, row, state, events=ITSELF, minute=((outdoor_degf, sun, 0.0),))


def write_single(row, state, use, kw, *, floor_ft2=2000.0):
    """Size a room by the use of its only machine and set both up, at the usual set point."""
    cooling = use.kind == "cooling"
    heat_btu_h = 1000.0 * kw * (BTU_PER_WH if cooling else BTU_PER_KWH / 1000.0)
    loss = use.full_duty * heat_btu_h / abs(use.design_degf - use.balance_degf)
    room_model.write_stage(row, 0, -heat_btu_h if cooling else heat_btu_h)
    room_model.write_room(
        row, state, cooling=cooling, loss_btu_h_degf=loss, balance_degf=use.balance_degf,
        set_degf=COOLING_SET_DEGF if cooling else HEATING_SET_DEGF, floor_ft2=floor_ft2)


def play(machines, seconds, *, fed=True, first=0):
    """Play some seconds; `fed` is True, False or a function of the second.

    Returns the machines as they are then, and what the first load wanted and drew, by second.
    """
    fleet = machines.fleet()
    n = len(machines.kind)
    wants, draw_kw = fleet.shared[WANT] > 0.0, fleet.shared[DRAW].copy()
    on, kw = np.zeros(seconds, dtype=bool), np.zeros(seconds)
    for place, second in enumerate(range(first, first + seconds)):
        power = fed(second) if callable(fed) else fed
        on[place] = power and wants[0]
        kw[place] = draw_kw[0] if on[place] else 0.0
        advance(second, np.full(n, power), fleet, wants, draw_kw)
    return replace(machines, state=fleet.state, shared=fleet.shared), on, kw
