"""Whether a choice is a plan: the replay accepts it, it meets the code, the book can build it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.facts.home import Connection
from planner.physics.demand import DemandSheet
from planner.plan.code import direct_sheet
from planner.plan.menu import Menu
from planner.plan.price import Price, price_of
from planner.service.choice import BY_HAND, DIRECT, MODULE, OFF, Choice
from planner.service.module_fit import closest_reason
from planner.service.replay import Refusal, Service, replay
from planner.service.supply import Supply
from planner.tolerances import carries

CONNECTIONS: dict[int, Connection] = {
    OFF: "off", DIRECT: "direct", MODULE: "module", BY_HAND: "by hand"}


@dataclass(frozen=True, slots=True)
class Judged:
    """A choice played, priced and checked.

    Attributes
    ----------
    service : Service or Refusal
        From the replay.
    price : Price or None
        None if a part does not fit, or no controller or transfer equipment is large enough.
    sheet : DemandSheet
        Calculated load of what is always connected.
    wrong : tuple of str
        Why it is no plan; empty if it is one.
    """

    service: Service | Refusal
    price: Price | None
    sheet: DemandSheet
    wrong: tuple[str, ...]


def judged(menu: Menu, supply: Supply, choice: Choice) -> Judged:
    """Replay, price and check a choice."""
    home = menu.house.home
    service = replay(menu.house, supply, choice)
    sheet = direct_sheet(menu, choice)
    wrong = ([str(service)] if isinstance(service, Refusal)
             else [str(one) for one in service.broken])
    if not carries(supply.derated_kw, sheet.total_va):
        wrong.append(f"the calculated load of what is always on, {sheet.total_va:.0f} VA, is more "
                     f"than the generator's {1000.0 * supply.derated_kw:.0f} VA")
    unfit = _unfit(menu, choice)
    price = None if unfit else price_of(menu, choice)
    wrong += unfit
    if price is None and not unfit:
        wrong.append("no controller or transfer equipment is large enough")
    direct = [i for i, how in enumerate(choice.connection) if how == DIRECT]
    for later, i in enumerate(choice.order):
        late = [k for k in direct if menu.house.wished[i, k]]
        late += [k for k in choice.order[:later] if menu.house.before[i, k]]
        wrong += [f"{home.loads[i].label} has to stand before {home.loads[k].label}" for k in late]
    return Judged(service, price, sheet, tuple(wrong))


def _unfit(menu: Menu, choice: Choice) -> list[str]:
    """Connections and soft starters that the file or the price book does not allow."""
    found = []
    for i, load in enumerate(menu.house.home.loads):
        how = CONNECTIONS[choice.connection[i]]
        if not menu.allowed[i, choice.connection[i]]:
            found.append(_closed(menu, i, how))
        if menu.soft_cost[i, choice.soft_start[i]] == np.inf:
            found.append(f"the soft starter does not fit: {load.label}")
        if i in choice.sensing and menu.sensing_kind[i] is None:
            found.append(f"no dearer module that senses its call fits: {load.label}")
        if i in choice.kept_open and not np.isfinite(menu.keep_cost[i]):
            found.append(f"cannot be off by a module that stays open: {load.label}")
    return found


def _closed(menu: Menu, i: int, how: Connection) -> str:
    """Say why a connection is not open to a load."""
    load = menu.house.home.loads[i]
    reason = closest_reason(load, menu.book, menu.house.home.fault_current_a)
    if how == "module" and "module" in load.allowed and reason:
        return f"no module of the price book fits: {load.label}: {reason}"
    return f"cannot be {how}: {load.label}"
