"""One outage of one plan, one design day, one seed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from planner.arrays import FloatRows, Floats
from planner.facts.comfort import Comfort
from planner.facts.home import DesignDay
from planner.plan.plan import Plan
from planner.service.stages import stages_on
from planner.simulation.circuits import circuits_of
from planner.simulation.controller import blank_memory, habits_of
from planner.simulation.events import Log, empty_log, sentences
from planner.simulation.faults import NO_FAULT, Fault
from planner.simulation.generator import engine_of
from planner.simulation.loops.play import play
from planner.simulation.loops.state import Given, first_second
from planner.simulation.machines import Demanded, Machines, demanded, machines_of
from planner.simulation.seeds import generator_of
from planner.simulation.settings import Settings
from planner.simulation.tally import Tally, empty_tally
from planner.simulation.transfer import sequence_of
from planner.wiring.rooms import Room

SPREADS = 997  # times by chance that are drawn, used in turn
TAIL_S = 900
"""Played after the utility has returned, so that retransfer and cool-down are part of it [s]."""


@dataclass(frozen=True)
class Outage:
    """What happened to a home in one outage.

    Attributes
    ----------
    day : DesignDay
    seed : int
    seconds : int
        Played, from the loss of the utility [s].
    start_h : float
        Time of day of the loss [h].
    performance_class : str
        Of the generator, by ISO 8528-5.
    rating_kw : float
        Of the generator at the site [kW].
    ids, labels : tuple of str
        Of the loads.
    machines : Machines
        As they were at the start.
    state : ndarray of float, shape (n, S)
        State of the machines at the end.
    tally : Tally
        What was counted.
    log : Log
        What was written down.
    wanted_kwh, wanted_s : ndarray of float, shape (n,)
        Energy and seconds of running of the same machines with unlimited power.
    rooms : mapping
        By place of every load that heats or cools on the day: its room and the places of all its
        stages.
    with_utility : ndarray of float, shape (n, S)
        State at the end of the same machines with unlimited power.
    return_s : int
        Second in which the utility returns.
    comforts : tuple of Comfort
        Of the home.
    loss, depth : ndarray of float, shape (n, slots)
        What every load lost in each slot from the loss of the utility, and how far it went
        (`planner.simulation.outcome.losses`).
    utility : Demanded
        The same machines with unlimited power.
    dark_loss : ndarray of float, shape (n, slots)
        What the same machines lose without any power.
    """

    day: DesignDay
    seed: int
    seconds: int
    start_h: float
    performance_class: str
    rating_kw: float
    ids: tuple[str, ...]
    labels: tuple[str, ...]
    machines: Machines
    state: Floats
    tally: Tally
    log: Log
    wanted_kwh: Floats
    wanted_s: Floats
    rooms: Mapping[int, tuple[Room, tuple[int, ...]]]
    with_utility: Floats
    return_s: int
    comforts: tuple[Comfort, ...]
    loss: FloatRows
    depth: FloatRows
    utility: Demanded
    dark_loss: FloatRows

    @property
    def service(self) -> Floats:
        """Energy served over energy wanted, at most 1; NaN for a load that wanted none.

        Run time that a thermostat makes up later counts as served.
        """
        with np.errstate(invalid="ignore", divide="ignore"):
            share = self.tally.kwh / self.wanted_kwh
        return np.where(self.wanted_kwh > 0.0, np.minimum(1.0, share), np.nan)

    def lines(self) -> tuple[str, ...]:
        """Write the log with times of day."""
        return sentences(self.log, self.labels, self.start_h)


def simulate(
    plan: Plan, day: DesignDay, seed: int, *, hours: float = 24.0, start_h: float = 0.0,
    settings: Settings | None = None, fault: Fault = NO_FAULT,
) -> Outage:
    """Play one outage.

    Parameters
    ----------
    plan : Plan
        Says what the equipment is, and what the controller was told.
    day : DesignDay
        Weather and use, repeated as long as the outage lasts.
    seed : int
        Of everything random.
    hours : float
        From the loss of the utility to its return [h].
    start_h : float
        Time of day of the loss [h].
    settings : Settings, optional
        Times and habits of the equipment.
    fault : Fault
        What is broken.

    Raises
    ------
    ValueError
        If the outage has no length.
    KeyError
        If the fault names a load that the home does not have.
    """
    chosen = settings or Settings()
    home = plan.menu.house.home
    return_s = round(3600.0 * hours)
    seconds = return_s + TAIL_S
    machines = machines_of(home, day, seconds / 3600.0, seed, start_h=start_h)
    circuits = circuits_of(plan, fault, chosen)
    given = Given(
        engine_of(plan.supply, home, chosen), sequence_of(chosen, return_s, fault.failed_starts),
        circuits, habits_of(chosen))
    fleet, tally, log = machines.fleet(), empty_tally(len(home.loads), seconds), empty_log()
    spread = generator_of(seed, home.id, day.id, "spread").integers(
        0, round(chosen.spread_s) + 1, SPREADS)
    now, memory = first_second(fleet), blank_memory(circuits, spread)
    memory.equal_at[now.wants] = given.habits.equal_s
    play(seconds, given, fleet, now, memory, tally, log)
    utility = demanded(machines, seconds / 3600.0)
    dark_loss = (demanded(machines, seconds / 3600.0, fed=False).loss if home.comforts
                 else np.zeros_like(utility.loss))
    return Outage(day, seed, seconds, start_h, plan.supply.generator.performance_class,
                  plan.supply.derated_kw,
                  plan.menu.house.ids, tuple(load.label for load in home.loads), machines,
                  fleet.state, tally, log, utility.kwh, utility.run_s,
                  stages_on(home, day), utility.state, return_s, home.comforts, fleet.loss,
                  fleet.depth, utility, dark_loss)
