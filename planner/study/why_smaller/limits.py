"""Which limit of a size stands in the way of some wishes, and how far it would have to move.

Nothing is guessed: a limit is lifted and the home is solved again; if that helps, the least value
that does is found by halving.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.progress import OnProgress, part_of, unheard
from planner.search.problem import Problem
from planner.study.quick import quick_problems
from planner.study.why_smaller.conflict import Conflict, reaches
from planner.study.why_smaller.limit_kinds import MACHINE, Limit, limits_of
from planner.study.why_smaller.promises import PromiseShort, promise_short
from planner.tolerances import ceiled

FINENESS = 0.02  # of the way between what can be given and what can never bind
STEPS = (0.1, 0.01)  # to which a value is rounded up, in its unit
ALL_DAY_H = 24.0


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
        Whether it would also do if every task might wait as long as it can within a day.
    promises : tuple of PromiseShort
        The promises among the wishes, and how far the size gets towards each.
    """

    shortages: tuple[Shortage, ...]
    together: bool
    patience_helps: bool
    promises: tuple[PromiseShort, ...] = ()


def binding_of(
    conflict: Conflict, book: PriceBook, generator: str,
    tick: OnProgress = unheard,
) -> Binding:
    """Find which limits and promises stand in the way of wishes that a size cannot meet together.

    Each limit is lifted by itself; where none suffices alone, each pair; then all of the machine.
    Limits that only suffice together move by the same share of the way to where they cannot bind.
    `tick` is told the share done, 0-1.
    """
    found = _limits_in_the_way(conflict, book, generator, tick)
    short = (promise_short(conflict.home, book, generator, conflict.coverage, wish,
                           part_of(tick, 1.0, 1.0))
             for wish in conflict.wishes if wish.kind == "promise")
    return replace(found, promises=tuple(one for one in short if one is not None))


def _limits_in_the_way(
    conflict: Conflict, book: PriceBook, generator: str, tick: OnProgress
) -> Binding:
    home = conflict.home
    problems = quick_problems(home, book, generator)
    limits = limits_of(problems[0])
    at_start = part_of(tick, 0.0, 0.0)
    patient_home = _patient(home)
    patient = patient_home != home and reaches(
        quick_problems(patient_home, book, generator), conflict.coverage, tick=at_start)
    asked = (problems, conflict.coverage, at_start)
    singly = [one for one in limits if _helps_ample([one], *asked)]
    if singly:
        return Binding(tuple(_least([one], *asked)[0] for one in singly), False, patient)
    asked = (problems, conflict.coverage, part_of(tick, 0.5, 0.5))
    together = _together(limits, *asked)
    return Binding(_least(together, *asked) if together else (), True, patient)


def _together(
    limits: Sequence[Limit], problems: Sequence[Problem], coverage: float, tick: OnProgress
) -> tuple[Limit, ...]:
    """The first pair of limits that suffices, else all of the machine; empty if no limits do.

    A limit without which all others do not suffice is in every pair that does.
    """
    asked = (problems, coverage, tick)
    if not _helps_ample(limits, *asked):
        return ()
    needed = [one for one in limits
              if not _helps_ample([other for other in limits if other is not one], *asked)]
    pairs = (pair for pair in combinations(limits, 2) if all(one in pair for one in needed))
    pair = next((pair for pair in pairs if _helps_ample(pair, *asked)), None)
    if pair is not None:
        return pair
    return MACHINE if _helps_ample(MACHINE, *asked) else ()


def _helps_ample(
    limits: Sequence[Limit], problems: Sequence[Problem], coverage: float, tick: OnProgress
) -> bool:
    """Whether the goal is reached with limits moved to where they cannot bind."""

    def moved(problem: Problem) -> Problem:
        for limit in limits:
            problem = limit.moved(problem, max(limit.given(problem), limit.ample(problem)))
        return problem

    return reaches(problems, coverage, moved, tick)


def _helps(
    limits: Sequence[Limit], values: Sequence[float], problems: Sequence[Problem],
    coverage: float, tick: OnProgress,
) -> bool:
    """Whether the goal is reached with limits moved to these values, where they are lower."""

    def moved(problem: Problem) -> Problem:
        for limit, value in zip(limits, values, strict=True):
            problem = limit.moved(problem, max(limit.given(problem), value))
        return problem

    return reaches(problems, coverage, moved, tick)


def _at(limits: Sequence[Limit], problem: Problem, share: float) -> tuple[float, ...]:
    """Values of limits this share of the way from what is given to where they cannot bind."""
    return tuple(limit.given(problem)
                 + share * max(0.0, limit.ample(problem) - limit.given(problem))
                 for limit in limits)


def _least(
    limits: Sequence[Limit], problems: Sequence[Problem], coverage: float, tick: OnProgress
) -> tuple[Shortage, ...]:
    """The least common share of the way that does, as round values that do."""
    asked = (problems, coverage, tick)
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


def _patient(home: Home) -> Home:
    """Let every task wait as long as it may within a day; a store does so anyway."""
    return replace(home, loads=tuple(
        replace(load, wait_h=ALL_DAY_H) if load.nature == "task" else load for load in home.loads))
