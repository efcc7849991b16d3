"""Plans among which one is recommended: the frontiers of all sizes, and what is one part sturdier.

A plan of the frontier is as cheap as it can be in the house as it is assumed to be, so it often
stands at a limit. One more soft starter, one module load always connected, or modules that sense
the calls of their loads move it away from there, and so does a larger size.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from heapq import heappop, heappush
from itertools import count

import numpy as np

from planner.errors import VerificationError
from planner.plan.keeping import split_at_least
from planner.plan.menu import NEVER, Menu
from planner.plan.plan import Plan
from planner.plan.price import price_of
from planner.progress import OnProgress
from planner.search.frontier import Frontier, plans_of
from planner.search.problem import Problem
from planner.service.choice import DIRECT, MODULE, Choice, with_value
from planner.service.supply import Supply
from planner.study.any_price import least_usd
from planner.tolerances import reaches


@dataclass(frozen=True)
class Candidate:
    """A choice that may be a plan: its replay has not been asked yet."""

    menu: Menu
    supply: Supply
    choice: Choice
    plan: Plan | None = None

    @property
    def cost_usd(self) -> float:
        """Installed cost [USD]; infinite if the book cannot build it."""
        if self.plan is not None:
            return self.plan.cost_usd
        price = price_of(self.menu, self.choice)
        return NEVER if price is None else price.usd

    def made(self) -> Plan | None:
        """The plan; None if the replay refuses it."""
        try:
            return self.plan or Plan(self.menu, self.supply, self.choice)
        except VerificationError:
            return None


class Candidates:
    """Plans that reach a coverage, by rising cost; each is made when its turn comes.

    Parameters
    ----------
    whole : Frontier
        Of the home.
    problems : sequence of Problem
        Its sizes. The frontier of a size is looked for when its cheapest plan could be the next.
    coverage : float
        Least that a plan covers, 0-1.
    tick : callable
        Told 0 now and then; what it raises ends the work.
    """

    def __init__(
        self, whole: Frontier, problems: Sequence[Problem], coverage: float, tick: OnProgress
    ) -> None:
        first = whole.covering(coverage)
        self.coverage, self.tick = coverage, tick
        self.least_usd = NEVER if first is None else first.cost_usd
        self.later = sorted(problems, key=least_usd, reverse=True)
        self.waiting: list[tuple[float, float, int, Candidate]] = []
        self.seen: set[tuple[str, str, Choice]] = set()
        self.number = count()
        for plan in whole.points:
            self._put(Candidate(plan.menu, plan.supply, plan.choice, plan))

    def __iter__(self) -> Iterator[Plan]:
        """Give the plans."""
        while self.waiting or self.later:
            self.tick(0.0)
            next_usd = self.waiting[0][0] if self.waiting else NEVER
            if self.later and max(least_usd(self.later[-1]), self.least_usd) < next_usd:
                for plan in plans_of([self.later.pop()], self.tick):
                    self._put(Candidate(plan.menu, plan.supply, plan.choice, plan))
                continue
            if not self.waiting:
                return
            one = heappop(self.waiting)[3]
            made = one.made()
            if made is not None and one.plan is not None:
                self.strengthen(made)
            if made is not None and reaches(made.coverage, self.coverage):
                yield made

    def strengthen(self, plan: Plan) -> None:
        """Add what is one part sturdier than a plan, unless it is cheaper than any can be."""
        for one in sturdier(plan):
            if one.cost_usd >= self.least_usd:
                self._put(one)

    def _put(self, one: Candidate) -> None:
        key = (one.menu.generator.id, one.menu.kind, one.choice)
        usd = one.cost_usd
        if key not in self.seen and usd < NEVER:
            self.seen.add(key)
            heappush(self.waiting, (usd, one.supply.derated_kw, next(self.number), one))


def sturdier(plan: Plan) -> Iterator[Candidate]:
    """A plan with one more soft starter, one more load always connected, or modules that sense."""
    menu, supply, choice = plan.menu, plan.supply, plan.choice
    for i in range(menu.house.count):
        if choice.connection[i] in (DIRECT, MODULE) and not choice.soft_start[i]:
            for column in np.flatnonzero(menu.soft_cost[i, 1:] < NEVER) + 1:
                soft = with_value(choice.soft_start, i, int(column))
                yield Candidate(menu, supply, replace(choice, soft_start=soft))
    for i in choice.order:
        if any(choice.connection[k] != DIRECT for k in np.flatnonzero(menu.house.closure[i])):
            continue  # what it needs has to be always connected first
        order = tuple(k for k in choice.order if k != i)
        yield Candidate(menu, supply, split_at_least(menu, replace(
            choice, connection=with_value(choice.connection, i, DIRECT), order=order,
            sensing=choice.sensing - {i})))
    blind = [i for i in choice.order if i not in choice.sensing and menu.sensing_kind[i]]
    for loads in [[i] for i in blind] + ([blind] if len(blind) > 1 else []):
        yield Candidate(menu, supply, replace(choice, sensing=choice.sensing | set(loads)))
