"""What is shown and not proven is polished: whatever is near it and better takes its place.

A search that was cut short shows the best that it came to, and something next to that may cost less
or cover more. Tried are single changes of a load (its connection, soft starter, what its module
senses), other places in the order, and two changes of which one saves and one costs. It is polished
again from what is better, until nothing near it is or so many were tried.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import chain, product

import numpy as np

from planner.plan.judged import judged
from planner.plan.keeping import split_at_least
from planner.plan.menu import Menu
from planner.plan.price import price_of
from planner.progress import OnProgress
from planner.search.problem import Problem
from planner.service.choice import DIRECT, MODULE, NO_STARTER, OFF, Choice, with_value
from planner.service.replay import Refusal
from planner.tolerances import SAME_COVERAGE, SAME_USD, reaches

Worth = tuple[Choice, float, float]
"""A choice with its cost [USD] and its coverage (0-1)."""


def polished(
    problem: Problem, covering: tuple[Choice, float], goal: float | None, tries: int,
    tick: OnProgress,
) -> Choice:
    """Better a choice by small changes.

    Parameters
    ----------
    problem : Problem
    covering : (Choice, float)
        A plan and its coverage.
    goal : float or None
        Coverage that is enough (0-1); None: less is never taken.
    tries : int
        How many are played at most.
    tick : callable
        Told 0 before each; what it raises ends the work.

    Returns
    -------
    Choice
        The same or a better one: it costs no more, and covers no less unless that is enough.
    """
    choice, coverage = covering
    worth, seen, moved = (choice, _usd(problem.menu, choice), coverage), {choice}, True
    while moved and tries > 0:
        moved = False
        for other in _near(problem.menu, worth[0]):
            usd = _usd(problem.menu, other)
            if other in seen or usd > worth[1] + SAME_USD:
                continue
            if tries <= 0:
                break
            seen.add(other)
            tick(0.0)
            tries -= 1
            found = _coverage(problem, other)
            if found is not None and _is_better(usd, found, worth, goal):
                worth, moved = (other, usd, found), True
                break
    return worth[0]


def _is_better(usd: float, coverage: float, worth: Worth, goal: float | None) -> bool:
    enough = worth[2] if goal is None else min(goal, worth[2])
    if usd < worth[1] - SAME_USD:
        return reaches(coverage, enough)
    return goal is None and coverage > worth[2] + SAME_COVERAGE


def _coverage(problem: Problem, choice: Choice) -> float | None:
    """What a choice covers; None if it is no plan."""
    try:
        found = judged(problem.menu, problem.supply, choice)
    except ValueError:  # what a load needs is not connected as firmly
        return None
    return None if found.wrong or isinstance(found.service, Refusal) else found.service.coverage


def _near(menu: Menu, choice: Choice) -> Iterator[Choice]:
    """Give what is near a choice, what saves first; what is off is so in the cheapest way."""
    for other in _changed(menu, replace(choice, kept_open=frozenset())):
        yield split_at_least(menu, other)


def _changed(menu: Menu, choice: Choice) -> Iterator[Choice]:
    saving, costing = _single(menu, choice)
    yield from saving
    yield from _other_places(choice)
    yield from costing
    for first, second in product(range(len(choice.connection)), repeat=2):
        if first != second:
            yield from _both(menu, choice, first, second)


def _single(menu: Menu, choice: Choice) -> tuple[list[Choice], list[Choice]]:
    """Change one load: what costs less, and all others."""
    usd = _usd(menu, choice)
    saving: list[Choice] = []
    costing: list[Choice] = []
    for i in range(len(choice.connection)):
        for other in chain(_less(menu, choice, i), _more(menu, choice, i)):
            (saving if _usd(menu, other) < usd - SAME_USD else costing).append(other)
    return saving, costing


def _both(menu: Menu, choice: Choice, first: int, second: int) -> Iterator[Choice]:
    """Save at one load, and spend at another."""
    for less in _less(menu, choice, first):
        yield from _more(menu, less, second)


def _less(menu: Menu, choice: Choice, i: int) -> Iterator[Choice]:
    """The same with less for one load: without soft starter or module, or a plainer module."""
    if choice.soft_start[i] != NO_STARTER:
        yield replace(choice, soft_start=with_value(choice.soft_start, i, NO_STARTER))
    if i in choice.sensing:
        yield replace(choice, sensing=choice.sensing - {i})
    if choice.connection[i] in (DIRECT, MODULE):
        order = tuple(k for k in choice.order if k != i)
        for how in np.flatnonzero(menu.allowed[i]).tolist():
            if how not in (MODULE, choice.connection[i]):
                soft = choice.soft_start if how == DIRECT else with_value(
                    choice.soft_start, i, NO_STARTER)
                yield replace(choice, connection=with_value(choice.connection, i, how), order=order,
                              soft_start=soft, sensing=choice.sensing - {i})


def _more(menu: Menu, choice: Choice, i: int) -> Iterator[Choice]:
    """The same with more for one load: a soft starter, a module, a module that senses its call."""
    if choice.connection[i] in (DIRECT, MODULE):
        for column in np.flatnonzero(np.isfinite(menu.soft_cost[i])).tolist():
            if column not in (NO_STARTER, choice.soft_start[i]):
                yield replace(choice, soft_start=with_value(choice.soft_start, i, column))
    if choice.connection[i] != MODULE and menu.allowed[i, MODULE]:
        behind = replace(choice, connection=with_value(choice.connection, i, MODULE),
                         order=(*choice.order, i))
        for place in dict.fromkeys((0, len(choice.order) // 2, len(choice.order))):
            yield replace(behind, order=(*choice.order[:place], i, *choice.order[place:]))
    elif choice.connection[i] == OFF and menu.allowed[i, DIRECT]:
        yield replace(choice, connection=with_value(choice.connection, i, DIRECT))
    if choice.connection[i] == MODULE and i not in choice.sensing and menu.sensing_kind[i]:
        yield replace(choice, sensing=choice.sensing | {i})


def _other_places(choice: Choice) -> Iterator[Choice]:
    """Every load of the order in every other place."""
    for place, to in product(range(len(choice.order)), repeat=2):
        order = list(choice.order)
        order.insert(to, order.pop(place))
        if to != place:
            yield replace(choice, order=tuple(order))


def _usd(menu: Menu, choice: Choice) -> float:
    price = price_of(menu, choice)
    return float("inf") if price is None else price.usd
