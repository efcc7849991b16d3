"""Which limit of a size stands in the way of some wishes, and how far it would have to move.

Nothing is guessed: a limit is lifted and the home is solved again; if that helps, the least value
that does is found by halving.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from planner.facts.home import SLOTS_PER_DAY, Home
from planner.facts.price_book import PriceBook
from planner.physics.demand import calculated_load
from planner.progress import OnProgress, part_of, unheard
from planner.search.problem import Problem, sized
from planner.service.choice import NO_STARTER
from planner.service.house import KW_ROW, L1_ROW, L2_ROW
from planner.study.why_smaller.conflict import Conflict, reaches
from planner.tolerances import ceiled

FINENESS = 0.001  # of the way between what can be given and what can never bind
STEPS = (0.1, 0.01)  # to which a value is rounded up, in its unit
MOST_AT_ONCE = 3


@dataclass(frozen=True)
class Limit:
    """One limit of the service rule.

    Attributes
    ----------
    key : str
        Short name for data.
    name : str
        As the trade calls it, to stand behind a number with its unit.
    unit : str
        Of what it allows.
    given, ample : callable
        From a problem to what it allows, and to a value that cannot bind.
    moved : callable
        From a problem and a value to the problem with that limit.
    """

    key: str
    name: str
    unit: str
    given: Callable[[Problem], float]
    ample: Callable[[Problem], float]
    moved: Callable[[Problem, float], Problem]


@dataclass(frozen=True, slots=True)
class Shortage:
    """What one limit gives and the least that works, in `unit`.

    `needed` is rounded up to a tenth or a hundredth, and works; `within` less no longer does.
    """

    key: str
    name: str
    unit: str
    given: float
    needed: float
    within: float


@dataclass(frozen=True)
class Binding:
    """What stands in the way.

    Attributes
    ----------
    shortages : tuple of Shortage
        Limits that would have to move: any one of them by itself where `together` is false, all of
        them where it is true; empty if even that would not help.
    together : bool
    patience_helps : bool
        Whether it would also do if every load might wait all day.
    """

    shortages: tuple[Shortage, ...]
    together: bool
    patience_helps: bool


def limits_of(problem: Problem) -> tuple[Limit, ...]:
    """Every limit of a problem that is a number, those of its panels included."""
    panels = dict.fromkeys(name.partition(",")[0] for name in problem.house.row_names[3:])
    return (*MACHINE, *(_feeder(panel) for panel in panels))


def binding_of(
    conflict: Conflict, book: PriceBook, generator: str,
    tick: OnProgress = unheard,
) -> Binding:
    """Find which limits stand in the way of wishes that one size cannot meet together.

    Each limit is lifted by itself; where none suffices alone, each pair, then each three; then all
    of the machine. Limits that only suffice together move by the same share of the way to where
    they cannot bind. `tick` is told the share done, 0-1.
    """
    home = conflict.home
    problems = sized(home, book, generator)
    limits = limits_of(problems[0])
    at_start = part_of(tick, 0.0, 0.0)
    patient = reaches(problems, home, book, conflict.coverage, _patient, at_start)
    for size in range(1, MOST_AT_ONCE + 1):
        asked = (problems, home, book, conflict.coverage,
                 part_of(tick, (size - 1) / MOST_AT_ONCE, (size - 1) / MOST_AT_ONCE))
        helping = [some for some in combinations(limits, size) if _helps_ample(some, *asked)]
        if helping and size == 1:
            return Binding(tuple(_least(some, *asked)[0] for some in helping), False, patient)
        if helping:
            return Binding(_least(helping[0], *asked), True, patient)
    if _helps_ample(MACHINE, *asked):
        return Binding(_least(MACHINE, *asked), True, patient)
    return Binding((), True, patient)


def _helps_ample(
    limits: Sequence[Limit], problems: Sequence[Problem], home: Home, book: PriceBook,
    coverage: float, tick: OnProgress,
) -> bool:
    """Whether the goal is reached with limits moved to where they cannot bind."""

    def moved(problem: Problem) -> Problem:
        for limit in limits:
            problem = limit.moved(problem, max(limit.given(problem), limit.ample(problem)))
        return problem

    return reaches(problems, home, book, coverage, moved, tick)


def _helps(
    limits: Sequence[Limit], values: Sequence[float], problems: Sequence[Problem], home: Home,
    book: PriceBook, coverage: float, tick: OnProgress,
) -> bool:
    """Whether the goal is reached with limits moved to these values, where they are lower."""

    def moved(problem: Problem) -> Problem:
        for limit, value in zip(limits, values, strict=True):
            problem = limit.moved(problem, max(limit.given(problem), value))
        return problem

    return reaches(problems, home, book, coverage, moved, tick)


def _at(limits: Sequence[Limit], problem: Problem, share: float) -> tuple[float, ...]:
    """Values of limits this share of the way from what is given to where they cannot bind."""
    return tuple(limit.given(problem)
                 + share * max(0.0, limit.ample(problem) - limit.given(problem))
                 for limit in limits)


def _least(
    limits: Sequence[Limit], problems: Sequence[Problem], home: Home, book: PriceBook,
    coverage: float, tick: OnProgress,
) -> tuple[Shortage, ...]:
    """The least common share of the way that does, as round values that do."""
    asked = (problems, home, book, coverage, tick)
    problem = problems[0]
    low, high = 0.0, 1.0
    while high - low > FINENESS:
        middle = (low + high) / 2.0
        if _helps(limits, _at(limits, problem, middle), *asked):
            high = middle
        else:
            low = middle
    does, does_not = _at(limits, problem, high), _at(limits, problem, low)
    rounds = (tuple(ceiled(value, step) for value in does_not) for step in STEPS)
    needed = next((values for values in rounds if _helps(limits, values, *asked)),
                  tuple(ceiled(value, STEPS[-1]) for value in does))
    return tuple(Shortage(limit.key, limit.name, limit.unit, limit.given(problem), round(most, 2),
                          most - least)
                 for limit, most, least in zip(limits, needed, does_not, strict=True))


def _all_starts_kw(problem: Problem) -> float:
    return float(problem.supply.start_kw[:, NO_STARTER].sum())


def _whole_calculated_kva(problem: Problem) -> float:
    return calculated_load(problem.house.home).total_va / 1000.0


MACHINE = (
    Limit("running", "of running power", "kW", lambda p: p.supply.capacity_kw,
          lambda p: float(p.house.draw[KW_ROW].sum()),
          lambda p, kw: replace(p, supply=replace(p.supply, capacity_kw=kw))),
    Limit("legs", "on a leg", "A", lambda p: p.supply.leg_a,
          lambda p: float(p.house.draw[[L1_ROW, L2_ROW]].sum(axis=1).max()),
          lambda p, amperes: replace(p, supply=replace(p.supply, leg_a=amperes))),
    Limit("start-power", "of power while motors start", "kW", lambda p: p.supply.short_time_kw,
          _all_starts_kw, lambda p, kw: replace(p, supply=replace(p.supply, short_time_kw=kw))),
    Limit("start-dip", "of motor starts within the allowed dip", "kVA",
          lambda p: p.supply.startable_kva,
          lambda p: float(p.supply.start_kva[:, NO_STARTER].sum()),
          lambda p, kva: replace(p, supply=replace(p.supply, startable_kva=kva))),
    Limit("code", "of calculated load by code, for what is always connected", "kVA",
          lambda p: p.supply.derated_kw, _whole_calculated_kva,
          lambda p, kw: replace(p, supply=replace(p.supply, derated_kw=kw))),
)


def _feeder(panel: str) -> Limit:
    """Both legs of one panel."""

    def rows(problem: Problem) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
        return np.array([name.partition(",")[0] == panel for name in problem.house.row_names[3:]])

    def moved(problem: Problem, amperes: float) -> Problem:
        house = problem.house
        caps = np.where(rows(problem), amperes, house.panel_caps_a)
        menu = replace(problem.menu, house=replace(house, panel_caps_a=caps))
        return replace(problem, menu=menu)

    return Limit(
        f"feeder of {panel}", f"on the feeder of {panel}", "A",
        lambda p: float(p.house.panel_caps_a[rows(p)].min()),
        lambda p: float(p.house.draw[3:][rows(p)].sum(axis=1).max()), moved)


def _patient(problem: Problem) -> Problem:
    """Let every load wait all day."""
    house = problem.house
    waits = np.full_like(house.wait_slots, SLOTS_PER_DAY - 1)
    return replace(problem, menu=replace(problem.menu, house=replace(house, wait_slots=waits)))
