"""The reference that options are held against: everything connected, nothing sheds.

The trade sizes it without load shedding by the full calculated load of the code and by every single
start. Whether it then works is another question, and the service rule answers it: only what that
accepts may be called "nothing waits".
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.home import Home
from planner.facts.price_book import Generator, PriceBook
from planner.plan.code import direct_sheet
from planner.plan.plan import Plan
from planner.plan.price import price_of
from planner.progress import OnProgress, unheard
from planner.search.problem import Problem, problems_of
from planner.service.choice import DIRECT, NO_STARTER, Choice
from planner.service.replay import Refusal, replay


@dataclass(frozen=True)
class ShedsNothing:
    """A size for which nothing has to be shed, by the code calculation and single starts.

    Attributes
    ----------
    generator : Generator
    derated_kw : float
        What it gives on this site [kW].
    calculated_kva : float
        Full calculated load, by the lesser permitted method of the code [kVA].
    cost_usd : float
        Installed cost with everything connected and no module [USD].
    plan : Plan or None
        Everything always connected, if the service rule accepts that: then nothing waits.
    refusal : str
        Why it does not; empty if it does.
    """

    generator: Generator
    derated_kw: float
    calculated_kva: float
    cost_usd: float
    plan: Plan | None
    refusal: str

    @property
    def nothing_waits(self) -> bool:
        """Whether everything may run at once by the service rule too."""
        return self.plan is not None


def sheds_nothing(home: Home, book: PriceBook, tick: OnProgress = unheard) -> ShedsNothing | None:
    """Find the cheapest size that needs no load shedding by the code; None if the book has none.

    It carries the full calculated load (NEC 702.4(B)(2)(a), 2011-2020), and starts every motor
    within the allowed dip, one at a time. `tick` is told the share done, 0-1.
    """
    found = []
    problems = problems_of(home, book)
    for number, problem in enumerate(problems):
        tick(number / len(problems))
        supply = problem.supply
        starts = float(supply.start_kva[:, NO_STARTER].max(initial=0.0))
        usd = _cost_of_all(problem)
        if usd is not None and problem.passes_code(_all(problem)) and supply.can_start(starts):
            found.append((usd, supply.derated_kw, number))
    if not found:
        return None
    usd, derated_kw, number = min(found)
    problem = problems[number]
    played = replay(problem.house, problem.supply, _all(problem))
    refusal = (str(played) if isinstance(played, Refusal)
               else "; ".join(str(one) for one in played.broken))
    calculated_va = direct_sheet(problem.menu, _all(problem)).total_va
    return ShedsNothing(problem.supply.generator, derated_kw, calculated_va / 1000.0, usd,
                        None if refusal else _all_direct(problem), refusal)


def everything_direct(
    home: Home, book: PriceBook, tick: OnProgress = unheard
) -> Plan | None:
    """Find the cheapest plan without any shedding; None if no generator of the book carries it.

    By the code and by the service rule: the generator carries the full calculated load, all loads
    that can be on in any slot, and all their starts at once when it takes over. `tick` is told the
    share done, 0-1.
    """
    plans = []
    problems = problems_of(home, book)
    for number, problem in enumerate(problems):
        tick(number / len(problems))
        plan = _all_direct(problem)
        if plan is not None:
            plans.append(plan)
    return min(plans, key=lambda plan: (plan.cost_usd, plan.supply.derated_kw), default=None)


def _all(problem: Problem) -> Choice:
    count = problem.house.count
    return Choice((DIRECT,) * count, (NO_STARTER,) * count, ())


def _cost_of_all(problem: Problem) -> float | None:
    """Installed cost with everything connected; None if no transfer equipment is large enough."""
    price = price_of(problem.menu, _all(problem))
    return None if price is None else price.usd


def _all_direct(problem: Problem) -> Plan | None:
    if not problem.menu.allowed[:, DIRECT].all() or _cost_of_all(problem) is None:
        return None
    choice = _all(problem)
    if problem.coverage(choice) is None or not problem.passes_code(choice):
        return None
    return problem.plan(choice, bound=1.0)
