"""Wishes about the order that a plan does not keep: a load that is always connected goes first.

The order is among the loads that take turns; one that is always connected is ahead of them all.
"""

from __future__ import annotations

from dataclasses import replace

from planner.errors import Finding, Severity
from planner.facts.home import Load
from planner.plan.judged import Judged, judged
from planner.plan.plan import Plan
from planner.service.choice import DIRECT, MODULE
from planner.service.replay import Service
from planner.wiring import order_pairs


def unkept_orders(plan: Plan) -> tuple[tuple[Load, tuple[Load, ...]], ...]:
    """List the always connected loads with those that take turns and should stand before them.

    Parameters
    ----------
    plan : Plan
        Any plan; the wishes are `never_before` of its home, with what follows from them.
    """
    house, connection = plan.menu.house, plan.choice.connection
    loads, pairs = house.home.loads, order_pairs(house.home)
    found = []
    for later, how in zip(loads, connection, strict=True):
        behind = tuple(first for first, its in zip(loads, connection, strict=True)
                       if its == MODULE and (first.id, later.id) in pairs)
        if how == DIRECT and behind:
            found.append((later, behind))
    return tuple(found)


def unkept_findings(plan: Plan) -> tuple[Finding, ...]:
    """Say of each such load what it is ahead of, why, and what it would be behind a module."""
    return tuple(Finding(
        Severity.WARNING, "wishes: never_before",
        f"{ahead.label} is always connected, so it is ahead of {_listed(behind)}, although the "
        "file says that it never goes before: what takes turns gets the room that is left.",
        _instead(plan, ahead, behind)) for ahead, behind in unkept_orders(plan))


def _listed(loads: tuple[Load, ...]) -> str:
    return " and ".join(load.label for load in loads)


def _instead(plan: Plan, ahead: Load, behind: tuple[Load, ...]) -> str:
    """Say what becomes of the load, and of those it should follow, if it takes turns after them."""
    if not plan.menu.allowed[plan.menu.house.index(ahead.id), MODULE]:
        return ("It cannot be connected by a module: the file or the price book does not allow it, "
                "so the wish cannot be kept.")
    found = _best_behind(plan, ahead, behind)
    if found is None or not isinstance(found.service, Service) or found.price is None:
        return ("Connected by a module it would wait its turn behind them, but this generator and "
                "these connections then do not work; another plan is needed.")
    currency, house = plan.menu.book.currency, plan.menu.house
    served = ", ".join(
        f"{load.label} "
        + _against(float(found.service.service[house.index(load.id)]), plan.load(load.id).service)
        for load in (ahead, *behind))
    return (f"Connected by a module it would wait its turn behind them: served {served}; coverage "
            f"{_against(found.service.coverage, plan.coverage)}, "
            f"{found.price.usd:,.0f} instead of {plan.cost_usd:,.0f} {currency}. To have that, "
            'allow it a module only: connections = ["module"].')


def _against(then: float, now: float) -> str:
    return (f"{_percent(now)} either way" if _percent(then) == _percent(now)
            else f"{_percent(then)} instead of {_percent(now)}")


def _percent(share: float) -> str:
    return f"{int(1000.0 * share + 1e-6) / 10.0:g} %"


def _best_behind(plan: Plan, ahead: Load, behind: tuple[Load, ...]) -> Judged | None:
    """Give the best of the places behind them in the same order; None if none is a plan."""
    house, choice = plan.menu.house, plan.choice
    place = house.index(ahead.id)
    if any(how == DIRECT and house.closure[i, place] for i, how in enumerate(choice.connection)):
        return None
    first = 1 + max(choice.order.index(house.index(load.id)) for load in behind)
    connection = tuple(MODULE if i == place else how for i, how in enumerate(choice.connection))
    found = [judged(plan.menu, plan.supply, replace(
        choice, connection=connection, order=(*choice.order[:at], place, *choice.order[at:])))
        for at in range(first, len(choice.order) + 1)]
    fit = [one for one in found if not one.wrong and isinstance(one.service, Service)]
    return max(fit, key=_coverage, default=None)


def _coverage(one: Judged) -> float:
    return one.service.coverage if isinstance(one.service, Service) else 0.0
