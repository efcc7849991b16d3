"""Why the loads that take turns stand in this order: each neighbour swapped, and played again."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import LoadPlan, Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.orders import with_best_order
from planner.search.problem import Problem, problems_of, sized
from planner.service.choice import Choice
from planner.service.replay import Refusal, replay
from planner.study.comfort_changes import ComfortChange, changes_between
from planner.study.reaching import look_for_reaching
from planner.study.wishes import by_importance_agrees
from planner.tolerances import SAME_COVERAGE

SwapKind = Literal["wish", "must-run", "promise", "refused", "covers-less", "alike", "covers-more"]


@dataclass(frozen=True, slots=True)
class Swap:
    """What would happen if a load changed places with the next in the order.

    Attributes
    ----------
    kind
        ``wish``: a wish about the order, or the stages of a room, forbid it; ``must-run``: a
        must-run load would wait or miss a call; ``promise``: one would be broken; ``refused``: a
        start or the average of a day would be too much; else what becomes of coverage.
    load, behind : LoadPlan
        The load, and the next behind it.
    load_then, behind_then : float
        Service of the two if they changed places; as they are where the swap is forbidden.
    coverage_then : float
    why : str
        What would be broken or refused; empty if nothing would.
    changes : tuple of ComfortChange
        What would become of the comforts; empty where the swap is forbidden.
    """

    kind: SwapKind
    load: LoadPlan
    behind: LoadPlan
    load_then: float
    behind_then: float
    coverage_then: float
    why: str = ""
    changes: tuple[ComfortChange, ...] = field(default=(), repr=False)


@dataclass(frozen=True)
class OtherRule:
    """What the other rule for the order would do: by importance, or free if that is the home's.

    Attributes
    ----------
    by_importance : bool
    same_equipment : float or None
        Coverage of the same equipment in the best order found by that rule; None if none was
        found that is valid.
    plan : Plan or None
        Cheapest plan for the same goal by that rule; None if none was found.
    proven : bool
        Whether none is cheaper, or there is none.
    """

    by_importance: bool
    same_equipment: float | None
    plan: Plan | None
    proven: bool = True


@dataclass(frozen=True)
class OrderReasons:
    """The order explained: a swap for every load but the last, and the other rule."""

    swaps: tuple[Swap, ...]
    last: LoadPlan | None
    other: OtherRule | None


def order_reasons(
    home: Home, book: PriceBook, plan: Plan, coverage: float,
    on_progress: OnProgress | None = None,
) -> OrderReasons:
    """Swap each load of a plan's order with the next and play it again.

    Parameters
    ----------
    home, book, plan, coverage
        The home, what can be bought, a plan for it, the goal that the plan was made for (0-1).
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.

    Returns
    -------
    OrderReasons
        Without swaps where fewer than two loads take turns; `other` is None then too.
    """
    order = plan.choice.order
    last = plan.loads[order[-1]] if order else None
    if len(order) < 2:
        return OrderReasons((), last, None)
    tell = on_progress or unheard
    swaps = []
    for place in range(len(order) - 1):
        tell(0.0)
        swaps.append(_swap(plan, place))
    return OrderReasons(tuple(swaps), last, _other_rule(home, book, plan, coverage, tell))


def _swap(plan: Plan, place: int) -> Swap:
    order = list(plan.choice.order)
    i, k = order[place], order[place + 1]
    load, behind = plan.loads[i], plan.loads[k]
    house = plan.menu.house
    forbidden = Swap("wish", load, behind, load.service, behind.service, plan.coverage)
    if house.before[i, k]:
        return forbidden
    order[place], order[place + 1] = k, i
    then = replay(house, plan.supply, replace(plan.choice, order=tuple(order)))
    if isinstance(then, Refusal):
        return replace(forbidden, kind="refused", why=str(then))
    if then.broken:
        broken = then.broken[0]
        return replace(forbidden, kind="must-run" if broken.load else "promise", why=str(broken))
    change = then.coverage - plan.coverage
    kind: SwapKind = ("alike" if abs(change) < SAME_COVERAGE else
                      "covers-less" if change < 0.0 else "covers-more")
    return Swap(kind, load, behind, float(then.service[i]), float(then.service[k]), then.coverage,
                changes=changes_between(plan.comforts, then.kept))


def _other_rule(
    home: Home, book: PriceBook, plan: Plan, coverage: float, tick: OnProgress
) -> OtherRule:
    by_importance = home.order_rule == "free"
    if by_importance and not by_importance_agrees(home):
        return OtherRule(by_importance, None, None)
    ruled = replace(home, order_rule="importance" if by_importance else "free")
    found = look_for_reaching(problems_of(ruled, book), coverage, tick)
    same = next((p for p in sized(ruled, book, plan.supply.generator.id)
                 if p.menu.kind == plan.menu.kind), None)
    at_end = part_of(tick, 1.0, 1.0)
    reached = _same_equipment(same, plan.choice, at_end) if same else None
    return OtherRule(by_importance, reached, found.plan, found.proven)


def _same_equipment(problem: Problem, choice: Choice, tick: OnProgress) -> float | None:
    better = with_best_order(problem, choice, tick=tick)
    return None if better is None else problem.coverage(better)
