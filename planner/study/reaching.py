"""The cheapest plan that reaches a coverage, and the plan that covers most, at any price.

Which sizes can do it at all is asked without prices first (`any_price.py`).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planner.plan.judged import judged
from planner.plan.plan import Plan
from planner.plan.price import price_of
from planner.progress import OnProgress, part_of, unheard
from planner.search.cheapest import Cheapest
from planner.search.hard.polishing import polished
from planner.search.limits import LEAST_GAIN
from planner.search.patience import risen
from planner.search.problem import Problem
from planner.search.still_open import most_below, steps_of
from planner.service.choice import Choice
from planner.service.replay import Refusal
from planner.study.any_price import Reaching, as_it_is, asked, at_any_price, least_usd
from planner.tolerances import DOLLAR, LIMIT, SAME_COVERAGE, reaches

TRIES = 400
"""Plans near one that is not proven the cheapest that are tried (more found nothing more)."""


def cheapest_reaching(
    problems: Sequence[Problem], coverage: float, tick: OnProgress = unheard,
    below_usd: float = float("inf"),
) -> Plan | None:
    """Find what `look_for_reaching` finds, whether it is proven or not."""
    return look_for_reaching(problems, coverage, tick, below_usd).plan


def look_for_reaching(
    problems: Sequence[Problem], coverage: float, tick: OnProgress = unheard,
    below_usd: float = float("inf"),
) -> Cheapest:
    """Find the cheapest plan that covers at least this much and costs less than a price.

    Which sizes can do that at all is asked first, which takes far less time than to search them by
    price and find nothing; and what one of them does for some price bounds the search. Sizes of
    which that is not known are searched where none is known that can; else they leave the answer
    open. Where nothing cheaper is found, it is what was found first or near it.
    """
    able: list[Problem] = []
    unknown: list[Problem] = []
    known: tuple[Problem, Choice] | None = None
    most_usd = below_usd
    asking = Asking(problems, coverage, part_of(tick, 0.0, 0.0))
    for problem in sorted(problems, key=least_usd):
        if least_usd(problem) >= most_usd:
            break
        reaching, proven = asking.reaching(problem)
        if reaching is None:
            unknown += [] if proven else [problem]
            continue
        able.append(problem)
        price = price_of(problem.menu, reaching[1])
        if price is not None and price.usd + DOLLAR < most_usd:
            known, most_usd = reaching, price.usd + DOLLAR
    if known is None:
        able, unknown = [*able, *unknown], []
    if not able:
        return Cheapest(None, proven=not unknown)
    sure = not any(least_usd(problem) < most_usd for problem in unknown)
    rising = risen(able, tick, lambda point: None, goal=coverage, below_usd=most_usd)
    left = steps_of((one.usd, one.hope) for one in rising.opened
                    if reaches(one.hope, coverage))
    if rising.points:
        first = rising.points[0]
        return Cheapest(first.problem.found(first.choice),
                        sure and not most_below(left, first.usd) >= 0.0)
    if known is None:
        return Cheapest(None, sure and not most_below(left, below_usd) >= 0.0)
    plan = _polished(*known, coverage, tick)
    return Cheapest(plan, sure and not most_below(left, plan.cost_usd) >= 0.0)


def _polished(problem: Problem, choice: Choice, goal: float, tick: OnProgress) -> Plan:
    """What was found without prices, bettered by what is near it."""
    plan = problem.plan(choice)
    return problem.found(polished(problem, (choice, plan.coverage), goal, TRIES, tick))


class Asking:
    """Asks of problems whether they reach a coverage at any price, each once.

    Of the ways to put a size at the site the loosest is asked first: where it limits nothing that
    another does not limit, and the same motors can start, what it cannot do none can, and what was
    not found for it is not looked for again. What does for one problem is tried on the next.
    """

    def __init__(self, problems: Sequence[Problem], coverage: float, tick: OnProgress) -> None:
        self.coverage, self.tick = coverage, tick
        self.loosest: dict[tuple[str, str, bytes], Problem] = {}
        for problem in problems:
            here = self.loosest.setdefault(_size_of(problem), problem)
            if problem is not here and is_as_loose(problem, here):
                self.loosest[_size_of(problem)] = problem
        self.known: dict[int, Reaching] = {}
        self.last: tuple[Problem, Choice] | None = None

    def reaching(self, problem: Problem) -> Reaching:
        """`choice_reaching` of one of the problems."""
        loosest = self.loosest[_size_of(problem)]
        if is_as_loose(loosest, problem) and self._asked(loosest)[0] is None:
            return self._asked(loosest)
        return self._asked(problem)

    def _asked(self, problem: Problem) -> Reaching:
        if id(problem) not in self.known:
            self.known[id(problem)] = (self._as_before(problem), True)
            if self.known[id(problem)][0] is None:
                self.known[id(problem)] = asked([problem], self.coverage, self.tick)
            self.last = self.known[id(problem)][0] or self.last
        return self.known[id(problem)]

    def _as_before(self, problem: Problem) -> tuple[Problem, Choice] | None:
        """What the last problem was found to do it with, if this one does it so as well."""
        if self.last is None:
            return None
        found = judged(problem.menu, problem.supply, self.last[1])
        able = not found.wrong and not isinstance(found.service, Refusal) and reaches(
            found.service.coverage, self.coverage)
        return (problem, self.last[1]) if able else None


def _size_of(problem: Problem) -> tuple[str, str, bytes]:
    """The size, its transfer equipment, and what can start on it."""
    supply = problem.supply
    can_start = supply.start_kva <= supply.startable_kva + LIMIT
    return problem.menu.generator.id, problem.menu.kind, can_start.tobytes()


def is_as_loose(one: Problem, other: Problem) -> bool:
    """Whether a way to put a size at the site limits nothing that another does not.

    What only refuses may be larger; what lets motors start is the same.
    """
    mine, its = one.supply, other.supply
    return bool(
        one.house is other.house and mine.generator is its.generator
        and (mine.fuel_kw >= its.fuel_kw).all() and mine.takeover_kva >= its.takeover_kva
        and mine.pick_kva >= its.pick_kva and np.array_equal(
            mine.start_kva <= mine.startable_kva + LIMIT,
            its.start_kva <= its.startable_kva + LIMIT))


def covering_most(problems: Sequence[Problem], tick: OnProgress = unheard) -> Plan | None:
    """Find the plan that covers most of those that are found; None if there is none.

    Of those that cover less than `LEAST_GAIN` less, which means nothing to a family, the cheapest.
    Its bound holds at any price, but for as little: what covers more by less than that is no point.
    """
    if not problems:
        return None
    free = [at_any_price(problem) for problem in problems]
    rising = risen(free, tick, lambda point: None)
    if not rising.points:
        return None
    best = max(rising.points, key=lambda point: point.coverage)
    ceiling = rising.ceiling(best, rising.still_open)
    problem, choice = as_it_is(problems, free, best)
    price = price_of(problem.menu, choice)
    goal = max(0.0, best.coverage - LEAST_GAIN + SAME_COVERAGE)
    cheaper = cheapest_reaching(problems, goal, tick, float("inf") if price is None else price.usd)
    plan = cheaper or problem.found(choice)
    known = plan.coverage if ceiling <= best.coverage + SAME_COVERAGE else ceiling
    return Plan(plan.menu, plan.supply, plan.choice, known)
