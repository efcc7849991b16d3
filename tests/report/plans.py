"""Sizes and books for tests of sentences: engines that bear any pick-up, modules that sense calls.

So only power, starts and the order decide what is served, and a test can work it out by hand.
"""

from __future__ import annotations

from dataclasses import replace

from planner.plan.plan import Plan
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from tests import homes


def generator(kw, price, **changes):
    """A set as in `tests.homes`, on a heavy flywheel."""
    return homes.generator(kw, price, **{"inertia_s": 20.0, **changes})


def book(*generators, **changes):
    """A book as in `tests.homes`, whose modules sense the calls of their loads."""
    plain = homes.book(*generators)
    sensing = tuple(replace(one, senses="call") for one in plain.modules)
    return replace(plain, **{"modules": sensing, **changes})


def plan_of(house, machine, *turns, off=(), offered=None) -> Plan:
    """A plan in which the loads named take turns in this order, the others are direct or off."""
    problem = problems_of(house, offered or book(machine))[0]
    how = {**dict.fromkeys(turns, MODULE), **dict.fromkeys(off, OFF)}
    return problem.plan(Choice(
        tuple(how.get(one.id, DIRECT) for one in house.loads), (0,) * len(house.loads),
        tuple(problem.house.index(one) for one in turns)))
