"""A plan of each size at once, where a clock may end the search or it is long: not best, but there.

Everything that may take turns does, with what helps each start most, in the best order that is
soon found. Then one part after the other goes, or a load is connected more cheaply, as long as that
covers as much. The search that begins with it is proven by the same bounds, and looks at less.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.plan.judged import judged
from planner.plan.keeping import split_at_least
from planner.plan.price import price_of
from planner.progress import OnProgress
from planner.search.ground import Ground
from planner.search.hard.polishing import Worth
from planner.search.hard.relaxing import Relaxed
from planner.search.helping.no_plan import most_helped, too_loose
from planner.search.problem import Problem
from planner.search.ways import PRICE_DIGITS, Node
from planner.service.choice import DIRECT, MODULE, NO_STARTER, OFF, Choice, with_value
from planner.service.house import KW_ROW
from planner.service.replay import Refusal
from planner.tolerances import reaches

NODES = 400  # prefixes of the search for an order


def seed_of(ground: Ground, goal: float | None, tick: OnProgress) -> Node | None:
    """Give a leaf of one size with its price and an order in which it is a plan.

    It reaches the goal if that is easy; None if none is found so quickly.
    """
    problem = ground.problem
    choice = _driven(ground, most_helped(problem, tick))
    if too_loose(problem, choice.connection):
        return None
    node = ground.node_of(choice)
    if node is None:
        return None
    found = ground.search(ground.asked(node), node.soft, -1.0, tick, first=False, nodes=NODES)
    if found.order is None:
        return None
    best = _judged(problem, ground.choice(node, found.order))
    if best is None:
        return None
    coverage = goal if goal is not None and reaches(best[2], goal) else best[2]
    return leaf_of(ground, _cheapened(problem, best, coverage, tick)[0])


def relaxed_seeds(ground: Ground, relaxed: Relaxed, tick: OnProgress) -> Iterator[Node]:
    """Give leaves made of points of the relaxed model of a size, and bound the size by it."""
    ground.most = min(ground.most, relaxed.most())
    for choice in relaxed.plans(tick):
        leaf = leaf_of(ground, choice)
        if leaf is not None:
            yield leaf


def leaf_of(ground: Ground, choice: Choice) -> Node | None:
    """The leaf of a choice with its price and its order; None if what is connected does not fit."""
    leaf = ground.node_of(choice)
    if leaf is None:
        return None
    price = price_of(ground.problem.menu, ground.choice(leaf, choice.order))
    return None if price is None else replace(  # nothing starts what is off
        leaf, usd=round(price.usd, PRICE_DIGITS), rank=ground.prices.rank(leaf.ways),
        order=choice.order)


def _driven(ground: Ground, choice: Choice) -> Choice:
    """Connect always what draws least, until the largest controller drives the rest."""
    menu = ground.problem.menu
    most = max((one.modules for one in menu.controllers), default=0)
    draw_kw = menu.house.draw[:, KW_ROW, :].max(axis=0)
    for i in sorted(choice.order, key=lambda i: (draw_kw[i], i)):
        if len(choice.order) <= most:
            break
        if menu.allowed[i, DIRECT]:
            other = replace(choice, connection=with_value(choice.connection, i, DIRECT),
                            order=tuple(k for k in choice.order if k != i))
            if ground.node_of(other) is not None:
                choice = other
    return choice


def _judged(problem: Problem, choice: Choice) -> Worth | None:
    """The choice, off in the cheapest way, its cost [USD] and coverage; None if it is no plan."""
    choice = split_at_least(problem.menu, choice)
    if too_loose(problem, choice.connection):
        return None
    found = judged(problem.menu, problem.supply, choice)
    if found.wrong or found.price is None or isinstance(found.service, Refusal):
        return None
    return choice, found.price.usd, found.service.coverage


def _cheapened(problem: Problem, best: Worth, coverage: float, tick: OnProgress) -> Worth:
    """Change one thing after the other that saves, as long as it covers so much."""
    for i in range(problem.house.count):
        for changed in _simpler(best[0], i):
            tick(0.0)
            found = _judged(problem, changed)
            if found is not None and found[1] < best[1] and reaches(found[2], coverage):
                best = found
    return best


def _simpler(choice: Choice, i: int) -> Iterator[Choice]:
    """The same with less for one load: no soft starter, always connected, or not at all."""
    if choice.soft_start[i] != NO_STARTER:
        yield replace(choice, soft_start=with_value(choice.soft_start, i, NO_STARTER))
    if choice.connection[i] == MODULE:
        order = tuple(k for k in choice.order if k != i)
        for how in (DIRECT, OFF):
            yield replace(choice, connection=with_value(choice.connection, i, how), order=order,
                          sensing=choice.sensing - {i})
