"""Plans of small homes with the treatment of every load given, and a bench for the controller."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from planner.plan.judged import judged
from planner.plan.menu import menu_of
from planner.plan.plan import CONNECTIONS, Plan, _load_plans
from planner.service.choice import Choice
from planner.service.house import house_of
from planner.service.kept import kept_of_all
from planner.service.replay import Service, play
from planner.service.supply import supply_of
from planner.service.timeline import timeline_of
from planner.simulation.circuits import circuits_of
from planner.simulation.controller import blank_memory, habits_of
from planner.simulation.events import empty_log
from planner.simulation.faults import NO_FAULT
from planner.simulation.generator import STEPS
from planner.simulation.loops.controller import measure, take_over
from planner.simulation.loops.restoring import decide
from planner.simulation.loops.shedding import shed_by_frequency
from planner.simulation.settings import Settings
from tests.homes import book

CODES = {name: code for code, name in CONNECTIONS.items()}


class Unasked(Plan):
    """A plan that the service rule is not asked about, so that what it refuses can be played."""

    def __post_init__(self):
        """Play it by the rule all the same, and price it."""
        house = self.menu.house
        found = judged(self.menu, self.supply, self.choice)
        state = play(house, self.supply.power(house, self.choice.soft_start), self.choice)
        kept, coverage = kept_of_all(house, state)
        service = Service(coverage, kept, (), timeline_of(house, self.choice, state),
                          np.zeros(len(house.weights)), state)
        for name, value in (("service", service), ("price", found.price),
                            ("direct_demand", found.sheet)):
            object.__setattr__(self, name, value)
        object.__setattr__(self, "loads", _load_plans(self, service))


def plan_of(house, generator, *turns, off=(), by_hand=(), senses="call"):
    """Make a plan: the loads named take turns in this order, the others are direct or off.

    The service rule may refuse it. Its modules sense what is said.
    """
    offered = book(generator)
    offered = replace(offered, modules=tuple(replace(one, senses=senses)
                                             for one in offered.modules))
    arrays = house_of(house)
    how = {**dict.fromkeys(turns, "module"), **dict.fromkeys(off, "off"),
           **dict.fromkeys(by_hand, "by hand")}
    connection = tuple(CODES[how.get(load_id, "direct")] for load_id in arrays.ids)
    order = tuple(arrays.index(load_id) for load_id in turns)
    menu = menu_of(arrays, offered, generator, "whole-house")
    return Unasked(menu, supply_of(arrays, generator, offered),
                Choice(connection, (0,) * arrays.count, order))


class Bench:
    """A controller with loads that want what a test says and draw a multiple of their rating."""

    def __init__(self, plan, *, fault=NO_FAULT, **settings):
        self.settings = Settings(**{"senses": "calls", "spread_s": 0.0, **settings})
        self.circuits = circuits_of(plan, fault, self.settings)
        self.habits = habits_of(self.settings)
        self.memory = blank_memory(self.circuits)
        self.log = empty_log()
        self.ids = plan.menu.house.ids
        self.factor = np.ones(len(self.ids))
        self.second = 0
        self.frequency = 1.0
        self.history = []
        take_over(0, self.circuits, self.habits, self.memory)

    def play(self, seconds, *wanting):
        """Let seconds pass in which these loads want power; gives who was on in each of them."""
        wants = np.array([one in wanting for one in self.ids])
        start = len(self.history)
        for _ in range(seconds):
            decide(self.second, wants, self.circuits, self.habits, self.memory, self.log)
            self._settle(wants)
            self._swing()
            self.history.append({one for one, on in zip(self.ids, self.memory.on, strict=True)
                                 if on})
            self.second += 1
        return self.history[start:]

    def _settle(self, wants):
        memory, needs = self.memory, self.circuits.needs
        fed = [all(memory.closed[k] for k in row if k >= 0) for row in needs]
        on = wants & np.array(fed)
        for i in np.flatnonzero(on):
            on[[k for k in needs[i] if k >= 0]] = True
        memory.began[on & ~memory.on] = self.second
        memory.stopped[memory.on & ~on] = self.second
        memory.on[:] = on
        memory.now[:] = self.circuits.rated @ (on * self.factor)
        measure(self.second, self.circuits, self.habits, memory)

    def _swing(self):
        """Let the frequency stand for the second, and the controller look at it."""
        for step in range(STEPS):
            shed_by_frequency(self.second * STEPS + step, self.frequency, self.frequency,
                              self.circuits, self.habits, self.memory, self.log)

    def began(self, load_id):
        """Seconds in which a load began to run."""
        return [second for second, on in enumerate(self.history)
                if load_id in on and (second == 0 or load_id not in self.history[second - 1])]

    def said(self, *codes):
        """Entries of the log with these codes: (second, load)."""
        rows = self.log.rows[: int(self.log.written[0])]
        return [(int(row[0]), self.ids[int(row[2])]) for row in rows if int(row[1]) in codes]
