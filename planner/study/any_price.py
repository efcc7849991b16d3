"""What one size can do at any price: prices fall away, and with them most that would be decided.

Whoever asks whether a size can do something at all, and not what it costs, may leave out whatever
is only cheaper. That nothing is lost:

- Prices are 0. Then the search by rising cost goes on from what it hopes most of.
- A module that senses its call stands wherever one is offered: it changes rule 3 alone, and there
  it refuses less.
- A direct load covers no more than the same load as the first module (`planner.search`). All that
  may be modules in its place, and are sensed or announced, are so: together and in the order that
  the wishes ask for they stand ahead of all others, in the same slots; rules 3 to 5, the takeover
  and the code count no more of them. What such a load needs, or has to stand ahead of, has to be
  able to follow; the largest controller has to drive them all; and the calculated load must not
  stand in the way of any part of what stays direct, since a demand factor of the code may be less
  for more loads.
- What nobody cares for, and nobody needs, is off: it gives nothing, and takes room, starts and
  energy.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from planner.arrays import Bools, Floats
from planner.plan.code import WHOLE, direct_demand
from planner.plan.keeping import split_at_least
from planner.progress import OnProgress, unheard
from planner.search.hard.tightening import tighten
from planner.search.limits import SearchLimits
from planner.search.points import Point
from planner.search.problem import Problem
from planner.search.rising import Rising
from planner.service.choice import BY_HAND, DIRECT, MODULE, OFF, Choice
from planner.service.nature import HUGE
from planner.tolerances import reaches

PATIENCE = SearchLimits(nodes=5_000, probe=5_000, all_nodes=20_000)
"""A search for orders that is cut short leaves thousands of questions behind it, so each may take
longer than where prices are compared (measured)."""
LEAST_VA = {"appliance": 0.0, "cooking": 8_000.0, "dryer": 5_000.0}
"""Categories whose demand factor falls with their number (NEC 220.53, 220.54, 220.55), and what
one of them counts at least, its nameplate aside [VA]."""


def reach_of(
    problems: Sequence[Problem], coverage: float, tick: OnProgress = unheard
) -> bool | None:
    """Whether some plan of these problems covers at least this much (0-1), at any price.

    None where none was found, and it is not proven that there is none.
    """
    found, proven = asked(problems, coverage, tick)
    return True if found is not None else False if proven else None


Reaching = tuple[tuple[Problem, Choice] | None, bool]
"""A choice with its problem, or none; and whether that there is none is proven."""


def choice_reaching(
    problems: Sequence[Problem], coverage: float, tick: OnProgress = unheard
) -> tuple[Problem, Choice] | None:
    """Find a choice that covers at least this much (0-1), whatever it costs; None if none is found.

    With the one of the problems that it belongs to.
    """
    return asked(problems, coverage, tick)[0]


def asked(
    problems: Sequence[Problem], coverage: float, tick: OnProgress = unheard
) -> Reaching:
    """`choice_reaching`, and whether it is proven that there is none where none is found."""
    if not problems:
        return None, True
    tick(0.0)
    free = [at_any_price(problem) for problem in problems]
    rising = Rising(free[0].limits, goal=coverage)
    found = next(rising.run(free, tick), None)
    if found is not None:
        return as_it_is(problems, free, found), True
    tighten(rising, tick)
    return None, not any(reaches(one.hope, coverage) for one in rising.opened)


def as_it_is(
    problems: Sequence[Problem], free: Sequence[Problem], point: Point
) -> tuple[Problem, Choice]:
    """What was found without prices, in the problem that has them."""
    problem = problems[next(k for k, one in enumerate(free) if one is point.problem)]
    choice = replace(point.choice, sensing=frozenset(
        i for i in point.choice.order
        if problem.supply.blind[i] and problem.menu.sensing_kind[i] is not None))
    return problem, split_at_least(problem.menu, choice)


def least_usd(problem: Problem) -> float:
    """What no plan of a size costs less than [USD]."""
    return problem.menu.base + problem.menu.transfers[0].installed_usd


def at_any_price(problem: Problem) -> Problem:
    """Give a problem without prices, and without what is only cheaper than something else."""
    menu, supply = problem.menu, problem.supply
    offered = np.array([kind is not None for kind in menu.sensing_kind], dtype=np.bool_)
    blind = np.asarray(supply.blind & ~offered)
    free = replace(
        menu, base=0.0,
        transfers=tuple(replace(one, price=0.0, installation=0.0) for one in menu.transfers[-1:]),
        controllers=tuple(replace(one, price=0.0, installation=0.0)
                          for one in menu.controllers[-1:]),
        allowed=_worth_trying(problem, blind), module_cost=_free(menu.module_cost),
        sensing_kind=(None,) * problem.house.count,
        sensing_cost=np.full(problem.house.count, np.inf), off_cost=_free(menu.off_cost),
        keep_cost=_free(menu.keep_cost), soft_cost=_free(menu.soft_cost))
    return replace(problem, menu=free, supply=replace(supply, blind=blind),
                   limits=min(problem.limits, PATIENCE, key=lambda one: one.all_nodes))


def _free(usd: Floats) -> Floats:
    found: Floats = np.where(np.isinf(usd), usd, 0.0)
    return found


def _worth_trying(problem: Problem, blind: Bools) -> Bools:
    """Connections that are not surely as good as another, shape (n, 4)."""
    allowed = problem.menu.allowed.copy()
    modules = int(allowed[:, MODULE].sum())
    most = max((one.modules for one in problem.menu.controllers), default=0)
    taken = _as_good_as_modules(problem, blind)
    stay = allowed[:, DIRECT] & ~taken
    if modules > most or not _code_never_binds(problem, stay):
        return problem.menu.allowed
    allowed[taken, DIRECT] = False
    allowed[allowed[:, OFF], BY_HAND] = False
    allowed[_nobody_s(problem) & allowed[:, OFF], DIRECT:] = False
    return allowed


def _as_good_as_modules(problem: Problem, blind: Bools) -> Bools:
    """Loads that may be modules wherever they could be direct, shape (n,)."""
    house, allowed = problem.house, problem.menu.allowed
    if not np.array_equal(house.before, house.wished):
        return np.zeros(house.count, dtype=np.bool_)  # by importance a module stands behind others
    taken: Bools = allowed[:, DIRECT] & allowed[:, MODULE] & ~blind
    while True:
        stay = allowed[:, DIRECT] & ~taken
        fewer = taken & ~house.closure[stay].any(axis=0) & ~house.wished[:, stay].any(axis=1)
        if np.array_equal(fewer, taken):
            return taken
        taken = fewer


def _code_never_binds(problem: Problem, direct: Bools) -> bool:
    """Whether the calculated load of no part of these loads is more than the generator gives."""
    home = problem.house.home
    loads = [load for load, stays in zip(home.loads, direct, strict=True) if stays]
    sheet = direct_demand(home, frozenset(load.id for load in loads),
                          whole_area=problem.menu.kind == WHOLE, entire=False).standard
    factored_va = sum(max(load.code.va, LEAST_VA[load.code.category] * load.code.units)
                      for load in loads if load.code.category in LEAST_VA)
    return sheet.total_va + factored_va <= 1000.0 * problem.supply.derated_kw


def _nobody_s(problem: Problem) -> Bools:
    """Loads of comforts that nobody asks anything of, which no other load needs, shape (n,)."""
    house = problem.house
    cares, comfort = house.cares, house.works.comfort
    asked = np.append((cares.share > 0.0) | (cares.bound < HUGE / 2.0).any(axis=1), True)
    alone: Bools = ~asked[comfort] & ~house.must_run & ~house.closure.any(axis=0)
    return alone
