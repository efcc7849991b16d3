"""What the loop over seconds is handed: what is fixed, and what changes from second to second."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planner.arrays import Bools, Bytes, FloatRows, Floats, Ints
from planner.simulation.circuits import Circuits
from planner.simulation.columns import DRAW, WANT
from planner.simulation.controller import Habits
from planner.simulation.generator import Engine
from planner.simulation.transfer import Sequence

FAR = 2**40  # a second that never comes

# places of `Now.gauges`: of the generator, per unit, kW, heat of its breaker on each leg; then
# what runs, by its nature [kW]
FREQUENCY, TORQUE, TOTAL_KW, HEAT_1, HEAT_2, RESISTIVE_KW, MOTOR_KW, ELECTRONIC_KW = range(8)
GAUGES = 8

# places of `Now.clock`
WHO = 0  # carries the house: a state of `planner.simulation.transfer`
NEXT_WHO = 1  # carries it from this second on
ENTERED = 2  # second in which that state began
TRIED = 3  # starts of the engine that have failed
HELD = 4  # seconds, all alike, that are not in the book yet
BUSY = 5  # 1: the next second may not be like this one
LOOK = 6  # second in which the controller looks again although nothing changes
LOW_HZ = 7  # hundredths of a second below the frequency, and below the voltage, at which the
LOW_VOLTS = 8  # protection counts
DIM_90, DIM_80, DIM_70 = 9, 10, 11  # hundredths of a second below that voltage, in percent
DROPPED = 12  # 1: computers have let go in this dip
DROPPING = 13  # 1: the frequency has fallen below the fast level and is not back yet
CLOCK = 14


class Given(NamedTuple):
    """What stays as it is through an outage: generator, transfer, what the controller was told."""

    engine: Engine
    times: Sequence
    circuits: Circuits
    habits: Habits


class Fleet(NamedTuple):
    """All machines of a home (`planner.simulation.machines.Machines`), as the loops play them.

    Attributes
    ----------
    kind : (n,)
    parameters, state : (n, 21), (n, 13)
        `state` changes in place.
    shared : (4, n)
        What every second touches; changes in place.
    followers : (f,)
        Loads that follow others.
    event_first : (n + 1,)
    start_s, length_s, size : (E,)
    minute : (minutes, 2 + own columns)
    loss, depth : (n, slots)
        What every load lost in each slot of 15 minutes, in its own measure, and the worst that it
        came to (`planner.simulation.outcome.losses`); change in place.
    """

    kind: Bytes
    parameters: FloatRows
    state: FloatRows
    shared: FloatRows
    followers: Ints
    event_first: Ints
    start_s: Floats
    length_s: Floats
    size: Floats
    minute: FloatRows
    loss: FloatRows
    depth: FloatRows


class Now(NamedTuple):
    """The present second, changed in place.

    Attributes
    ----------
    wants, draw_kw : (n,)
        Who calls for power in this second, and what each draws if it is fed.
    wanted, drawn : (n,)
        The same in the last second that was looked at.
    fed, kw : (n,)
        Who has power, and what each draws.
    start_left, since : (n,)
        Seconds that a motor still starts; second since which a call waits, -1 if none does.
    gauges, clock : (8,), (13,)
        Places are named above.
    """

    wants: Bools
    draw_kw: Floats
    wanted: Bools
    drawn: Floats
    fed: Bools
    kw: Floats
    start_left: Floats
    since: Ints
    gauges: Floats
    clock: Ints


def first_second(fleet: Fleet) -> Now:
    """Give the second in which the utility is lost: nobody has power, the engine stands."""
    n = len(fleet.kind)
    wants, draw_kw = fleet.state[:, WANT] > 0.0, fleet.state[:, DRAW].copy()
    gauges, clock = np.zeros(GAUGES), np.zeros(CLOCK, dtype=np.int64)
    gauges[FREQUENCY] = 1.0
    clock[BUSY], clock[LOOK] = 1, FAR
    return Now(
        wants=wants, draw_kw=draw_kw, wanted=wants.copy(), drawn=draw_kw.copy(),
        fed=np.zeros(n, dtype=np.bool_), kw=np.zeros(n), start_left=np.zeros(n),
        since=np.full(n, -1, dtype=np.int64), gauges=gauges, clock=clock,
    )
