"""Everything that happens behind the loads of a home, and its step of one second.

Who plays an outage calls `planner.simulation.loops.machines.advance` once a second and tells it
which loads had power; it answers which of them want power in the next second and what they would
draw.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from planner.arrays import FloatRows, Floats, Ints
from planner.facts.home import DesignDay, Home
from planner.service.stages import stages_on
from planner.service.use import cached_calls, use_on
from planner.simulation.build import Part, Setting, Span
from planner.simulation.columns import (
    BOX,
    COLUMN,
    CURRENT,
    DISCOMFORT,
    DRAW,
    FOLLOW,
    HOT,
    LEAVES,
    LOOKED,
    LOST,
    MASS,
    MISSED,
    NEXT,
    OUTDOOR,
    ROOM,
    STAGE,
    STATES,
    TANK,
    TAP,
    TASK,
    UNLIVABLE_H,
    VEHICLE,
    WANT,
    WARM_S,
    WORST,
)
from planner.simulation.house import part_of
from planner.simulation.loops.machines import live
from planner.simulation.loops.state import Fleet
from planner.simulation.seeds import generator_of
from planner.simulation.weather import outdoor_degf, sunshine
from planner.wiring.rooms import Room

SLOT_MIN = 15
WARM_MIN = 1440  # a day with utility power ahead of the outage
DAY_S = 86400.0


@dataclass(frozen=True)
class Machines:
    """One realisation (a seed) of everything that happens behind the loads of a home.

    Seconds count from 0, the start of the outage; events of the day before are negative.

    Attributes
    ----------
    kind : ndarray of int8, shape (n,)
        Code of the state machine of each load (`planner.simulation.columns`).
    parameters, state : ndarray of float, shape (n, 21) and (n, 13)
        A row for each load; columns in `planner.simulation.columns`. `state` is that at second 0,
        its columns `WANT` and `DRAW` who calls then and for how many kW.
    shared : ndarray of float, shape (4, n)
        What every second touches, load beside load: `NEXT`, `WANT`, `DRAW`, `RAN`.
    shared_parameters : ndarray of float
        Places of the loads that follow others.
    event_first : ndarray of int, shape (n + 1,)
        Events of load i are ``event_first[i]:event_first[i + 1]``, in order of their start.
    event_start_s, event_length_s, event_size : ndarray of float, shape (E,)
        What happens: uses, draws of water, door openings, cars that come home.
    minute : ndarray of float, shape (minutes, 2 + own columns)
        Outdoor temperature [degF], sun relative to its mean, then columns of single loads.
    """

    kind: NDArray[np.int8]
    parameters: Floats
    state: Floats
    shared: Floats
    shared_parameters: Floats
    event_first: Ints
    event_start_s: Floats
    event_length_s: Floats
    event_size: Floats
    minute: Floats

    def fleet(self) -> Fleet:
        """Give the machines as the loops play them; what changes is a copy."""
        shape = (len(self.kind), len(self.minute) // SLOT_MIN + 2)
        return Fleet(
            kind=self.kind, parameters=self.parameters, state=self.state.copy(),
            shared=self.shared.copy(), followers=self.shared_parameters.astype(np.int64),
            event_first=self.event_first, start_s=self.event_start_s,
            length_s=self.event_length_s, size=self.event_size, minute=self.minute,
            loss=np.zeros(shape), depth=np.full(shape, -np.inf),
        )


def machines_of(
    home: Home, day: DesignDay, hours: float, seed: int, *, start_h: float = 0.0
) -> Machines:
    """Set up a realisation: every machine has lived a day with utility power.

    Parameters
    ----------
    home : Home
        The home.
    day : DesignDay
        The design day, repeated as long as the outage lasts.
    hours : float
        How long it will be played [h].
    seed : int
        Same seed, same realisation; the order of the loads in the file does not matter.
    start_h : float
        Time of day at which the outage begins [h].

    Raises
    ------
    ValueError
        If nothing would be played.
    """
    if hours <= 0.0:
        msg = f"An outage lasts longer than {hours:g} hours."
        raise ValueError(msg)
    start_min = round(60.0 * start_h)
    minutes = WARM_MIN + int(np.ceil(60.0 * hours)) + 60
    midnight_s = -60.0 * start_min
    span = Span(start_min, midnight_s - 2.0 * DAY_S, midnight_s + 3600.0 * hours + 2.0 * DAY_S,
                WARM_MIN, minutes)
    first_min = start_min - WARM_MIN
    air, sky = generator_of(seed, home.id, day.id, "weather").spawn(2)
    weather = [outdoor_degf(day, first_min, minutes, air), sunshine(first_min, minutes, sky)]
    rooms = stages_on(home, day)
    parts = [_part(home, day, i, span, seed, rooms.get(i), weather[OUTDOOR])
             for i in range(len(home.loads))]
    return _warm(_stacked(home, day, parts, weather, seed))


class Demanded(NamedTuple):
    """What machines do: energy [kWh], seconds of running, state at the end, losses by slot."""

    kwh: Floats
    run_s: Floats
    state: Floats
    loss: FloatRows
    depth: FloatRows


def demanded(machines: Machines, hours: float, *, fed: bool = True) -> Demanded:
    """Give what each load takes with unlimited power, or with none, and what comes of it.

    Parameters
    ----------
    machines : Machines
        As set up; not changed.
    hours : float
        How long [h].
    fed : bool
        Whether everybody has power, or nobody.
    """
    n = len(machines.kind)
    kwh, run_s = np.zeros(n), np.zeros(n)
    fleet = machines.fleet()
    _live(fleet, round(3600.0 * hours), kwh, run_s, fed=fed)
    return Demanded(kwh, run_s, fleet.state, fleet.loss, fleet.depth)


def _live(fleet: Fleet, seconds: int, kwh: Floats, run_s: Floats, *, fed: bool = True) -> None:
    """Play with unlimited power, or none: who minds whom together, all others alone."""
    leader = list(range(len(fleet.kind)))

    def first_of(i: int) -> int:
        while leader[i] != i:
            i = leader[i]
        return i

    for i in range(len(leader)):
        if fleet.kind[i] in (ROOM, FOLLOW):
            for other in fleet.size[fleet.event_first[i]:fleet.event_first[i + 1]]:
                leader[first_of(int(other))] = first_of(i)
    groups: dict[int, list[int]] = {}
    for i in range(len(leader)):
        groups.setdefault(first_of(i), []).append(i)
    members = np.array([i for group in groups.values() for i in group], dtype=np.int64)
    group_first = np.cumsum([0, *(len(group) for group in groups.values())])
    live(0, seconds, fed, fleet, members, group_first, kwh, run_s)


def _part(
    home: Home, day: DesignDay, i: int, span: Span, seed: int,
    served: tuple[Room, tuple[int, ...]] | None, outdoor: Floats,
) -> Part:
    load = home.loads[i].on(day.id)
    use = use_on(load, day)
    room, stages = served or (None, ())
    return part_of(Setting(home, day, load, use, cached_calls(use, day), span, seed, room, stages,
                           outdoor))


def _stacked(
    home: Home, day: DesignDay, parts: list[Part], weather: list[Floats], seed: int
) -> Machines:
    columns = list(weather)
    state = np.zeros((len(parts), STATES))
    for i, part in enumerate(parts):
        if part.own:
            part.parameters[COLUMN] = len(columns)
            columns += part.own
        state[i] = part.state
    first = np.concatenate(([0], np.cumsum([len(part.events.start_s) for part in parts])))
    state[:, CURRENT] += first[:-1]
    shared = np.zeros((HOT, len(parts)))
    shared[NEXT] = [generator_of(seed, home.id, day.id, load.id, "phase").integers(1, 11)
                    for load in home.loads]
    followers = np.array([part.kind == FOLLOW for part in parts])
    shared[NEXT, followers] = np.inf
    shared[NEXT, [part.kind == STAGE for part in parts]] = np.inf
    return Machines(
        kind=np.array([part.kind for part in parts], dtype=np.int8),
        parameters=np.array([part.parameters for part in parts]),
        state=state,
        shared=shared,
        shared_parameters=np.flatnonzero(followers).astype(np.float64),
        event_first=first.astype(np.int64),
        event_start_s=np.concatenate([part.events.start_s for part in parts]),
        event_length_s=np.concatenate([part.events.length_s for part in parts]),
        event_size=np.concatenate([part.events.size for part in parts]),
        minute=np.ascontiguousarray(np.array(columns).T),
    )


def _warm(cold: Machines) -> Machines:
    """Let a day with utility power pass, and count seconds from its end."""
    n = len(cold.kind)
    warm_s = 60.0 * WARM_MIN
    fleet = cold.fleet()._replace(start_s=cold.event_start_s + warm_s)
    state, shared = fleet.state, fleet.shared
    _live(fleet, 60 * WARM_MIN, np.zeros(n), np.zeros(n))
    shared[NEXT] -= warm_s
    state[:, [WANT, DRAW]] = shared[[WANT, DRAW]].T
    leaves = cold.kind == VEHICLE
    state[leaves, LEAVES] -= warm_s
    state[cold.kind == TASK, LOOKED] -= warm_s
    state[:, [LOST, MISSED, DISCOMFORT, WORST]] = 0.0
    room, box, tank = cold.kind == ROOM, cold.kind == BOX, cold.kind == TANK
    state[room, UNLIVABLE_H] = 0.0
    state[box, WORST] = state[box, MASS]
    state[box, WARM_S] = 0.0
    state[tank, WORST] = cold.parameters[tank, TAP]
    return replace(cold, state=state, shared=shared, minute=cold.minute[WARM_MIN:].copy())
